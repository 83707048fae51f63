/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

/**
 * A published test frequency for speed and flutter.
 *
 * @param frequencyHz the frequency
 * @param standard standards or use that it comes from
 * @param confidence how sure it is
 */
public record CarrierRow(double frequencyHz, String standard, Confidence confidence) {}
