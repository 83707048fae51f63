/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

/** A statistic that takes values block by block. */
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
}
