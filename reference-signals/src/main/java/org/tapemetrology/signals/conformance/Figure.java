/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/**
 * A figure that a meter gives.
 *
 * <p>It is not checked here.
 *
 * @param value the value in the unit, which the suite refuses unless it is finite
 * @param unit its unit, which the suite compares with the one it asked for
 */
public record Figure(double value, String unit) {}
