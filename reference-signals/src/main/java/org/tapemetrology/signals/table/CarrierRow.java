/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

/**
 * A published test frequency for speed and flutter.
 *
 * <p>Read by {@link PublishedTables}, which refuses what is no number; a row itself is not checked.
 *
 * @param frequencyHz the frequency in Hz
 * @param standard standards or use that it comes from
 * @param confidence how sure it is
 */
public record CarrierRow(double frequencyHz, String standard, Confidence confidence) {}
