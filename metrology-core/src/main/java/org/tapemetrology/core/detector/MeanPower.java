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
        double s = 0;
        for (int i = offset; i < offset + length; i++) {
            s += values[i] * values[i];
        }
        squares += s;
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
