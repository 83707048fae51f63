/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

/**
 * A statistic that takes values block by block.
 *
 * <p>Thread-confined. Unit and what a value does that is not finite are those of the class behind it.
 */
public interface BlockStatistic {
    /**
     * Adds values.
     *
     * @param values the values
     * @param offset first of them
     * @param length number of them
     */
    void add(double[] values, int offset, int length);

    /**
     * How many values were added.
     *
     * @return their number
     */
    long count();

    /**
     * The sum of what the statistic is the mean of.
     *
     * @return the sum over everything added
     */
    double sum();

    /**
     * The statistic of some of the values.
     *
     * @param someSum sum over them, the difference of two {@link #sum()}s
     * @param someCount how many they are, at least 1
     * @return the statistic of these alone
     */
    double ofSome(double someSum, long someCount);
}
