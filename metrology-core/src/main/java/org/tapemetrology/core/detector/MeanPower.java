/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.OptionalDouble;

/** True RMS of everything added. Thread-confined. */
public final class MeanPower implements BlockStatistic {
    private double squares;
    private long count;

    /** Nothing added yet. */
    public MeanPower() {}

    @Override
    public void add(double[] values, int offset, int length) {
        // Two sums side by side, so that one addition need not wait for the other.
        double even = 0;
        double odd = 0;
        int end = offset + length;
        int i = offset;
        for (; i + 1 < end; i += 2) {
            even += values[i] * values[i];
            odd += values[i + 1] * values[i + 1];
        }
        if (i < end) {
            even += values[i] * values[i];
        }
        squares += even + odd;
        count += length;
    }

    /**
     * Root of the mean square.
     *
     * @return RMS value, empty where nothing was added
     */
    public OptionalDouble rms() {
        return count == 0 ? OptionalDouble.empty() : OptionalDouble.of(Math.sqrt(squares / count));
    }

    @Override
    public long count() {
        return count;
    }
}
