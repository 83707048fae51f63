/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import java.util.Arrays;

/**
 * A symmetric filter of seven taps, as {@link MagnitudeCorrection} makes them, written out so that no output waits for
 * another. The first output stands for the first moment at which the whole filter lies inside the input. Thread-confined.
 *
 * <p>A sample that is not finite leaves the output so for the length of the filter.
 */
public final class SevenTapFilter {
    private static final int TAPS = 7;
    private static final int CHUNK = 512;

    private final double middle;
    private final double one;
    private final double two;
    private final double three;
    private final double[] line = new double[TAPS - 1 + CHUNK];
    private int filled;

    /**
     * A filter at rest.
     *
     * @param taps seven taps, those at equal distance from the middle one equal
     */
    public SevenTapFilter(double[] taps) {
        if (taps.length != TAPS || taps[0] != taps[6] || taps[1] != taps[5] || taps[2] != taps[4]) {
            throw new IllegalArgumentException("not seven symmetric taps: " + Arrays.toString(taps));
        }
        this.three = taps[0];
        this.two = taps[1];
        this.one = taps[2];
        this.middle = taps[3];
    }

    /**
     * Filters a block.
     *
     * @param in input samples
     * @param inOffset first input sample
     * @param length number of input samples
     * @param out where outputs go, with room for as many; it may be the input at the same or a lower offset
     * @param outOffset first output sample
     * @return number of outputs written: as many as inputs, but for the first six inputs
     */
    public int process(double[] in, int inOffset, int length, double[] out, int outOffset) {
        int produced = 0;
        for (int taken = 0; taken < length; ) {
            int part = Math.min(CHUNK, length - taken);
            System.arraycopy(in, inOffset + taken, line, filled, part);
            filled += part;
            taken += part;
            int outputs = Math.max(0, filled - TAPS + 1);
            filter(out, outOffset + produced, outputs);
            produced += outputs;
            System.arraycopy(line, outputs, line, 0, filled - outputs);
            filled -= outputs;
        }
        return produced;
    }

    /** Two outputs at a time, which have six of their inputs in common. */
    private void filter(double[] out, int outOffset, int outputs) {
        double[] x = line;
        int i = 0;
        for (; i + 1 < outputs; i += 2) {
            double x1 = x[i + 1];
            double x2 = x[i + 2];
            double x3 = x[i + 3];
            double x4 = x[i + 4];
            double x5 = x[i + 5];
            double x6 = x[i + 6];
            out[outOffset + i] = middle * x3 + one * (x2 + x4) + two * (x1 + x5) + three * (x[i] + x6);
            out[outOffset + i + 1] = middle * x4 + one * (x3 + x5) + two * (x2 + x6) + three * (x1 + x[i + 7]);
        }
        if (i < outputs) {
            out[outOffset + i] = middle * x[i + 3]
                    + one * (x[i + 2] + x[i + 4])
                    + two * (x[i + 1] + x[i + 5])
                    + three * (x[i] + x[i + 6]);
        }
    }

    /**
     * Puts the filter into the state after an endless constant input: the first input sample gives an output at once.
     *
     * @param constant the constant input
     */
    public void presetTo(double constant) {
        filled = TAPS - 1;
        Arrays.fill(line, 0, filled, constant);
    }

    /** Puts the filter to rest. */
    public void reset() {
        filled = 0;
    }
}
