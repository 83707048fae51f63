/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.stability;

/**
 * A deviation at one averaging time.
 *
 * <p>Made by {@link StabilityRecord}; its numbers are not checked.
 *
 * @param averagingSeconds averaging time in s
 * @param deviation the deviation: a ratio, for the time deviation in s
 * @param terms how many differences went into it; overlapping ones are not independent
 */
public record StabilityPoint(double averagingSeconds, double deviation, int terms) {}
