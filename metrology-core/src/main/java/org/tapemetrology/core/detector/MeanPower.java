/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.OptionalDouble;

/** True RMS and average magnitude of everything added. Thread-confined. */
public final class MeanPower {
    private double squares;
    private double magnitudes;
    private long count;

    /** Nothing added yet. */
    public MeanPower() {}

    /**
     * Adds values.
     *
     * @param values the values
     * @param offset first of them
     * @param length number of them
     */
    public void add(double[] values, int offset, int length) {
        double s = 0;
        double m = 0;
        for (int i = offset; i < offset + length; i++) {
            double x = values[i];
            s += x * x;
            m += Math.abs(x);
        }
        squares += s;
        magnitudes += m;
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

    /**
     * Mean of the magnitudes.
     *
     * @return average magnitude, empty where nothing was added
     */
    public OptionalDouble averageMagnitude() {
        return count == 0 ? OptionalDouble.empty() : OptionalDouble.of(magnitudes / count);
    }

    /**
     * How many values were added.
     *
     * @return their number
     */
    public long count() {
        return count;
    }
}
