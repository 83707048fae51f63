/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import java.util.Arrays;

/**
 * Doubles the sampling rate with a linear-phase half-band filter: every second output is an input sample, the ones
 * between come from the taps. The first outputs stand for the first input sample at which the whole filter lies inside
 * the input. Thread-confined.
 *
 * <p>A sample that is not finite leaves the output so for the length of the filter.
 */
public final class HalfBandInterpolator {
    private static final int CHUNK = 512;

    /** Weight of the input samples j + 1/2 steps before and after an output between two inputs. */
    private final double[] sides;

    private final double[] line;
    private final double[] between;
    /** Parts of the line, shifted so that the inner loop has the same index in every array. */
    private final double[] early;

    private final double[] late;
    private final double[] nextEarly;
    private final double[] nextLate;
    private int filled;

    /**
     * A filter at rest.
     *
     * @param passHz upper edge of the pass band in Hz, above 0 and below half the input rate
     * @param attenuationDb least attenuation of the images in dB, 21 to 160
     * @param inputRateHz sampling rate of the input in Hz
     */
    public HalfBandInterpolator(double passHz, double attenuationDb, double inputRateHz) {
        this.sides = FirDesign.halfBandSides(passHz, attenuationDb, inputRateHz);
        this.line = new double[2 * sides.length + CHUNK];
        this.between = new double[line.length];
        this.early = new double[line.length];
        this.late = new double[line.length];
        this.nextEarly = new double[line.length];
        this.nextLate = new double[line.length];
    }

    /**
     * Interpolates a block.
     *
     * @param in input samples
     * @param inOffset first input sample
     * @param length number of input samples
     * @param out where outputs go, with room for {@code 2 length} of them
     * @param outOffset first output sample
     * @return number of outputs written: {@code 2 length}, but for the start of the input
     */
    public int process(double[] in, int inOffset, int length, double[] out, int outOffset) {
        int produced = 0;
        int taken = 0;
        while (taken < length) {
            int part = Math.min(length - taken, line.length - filled);
            System.arraycopy(in, inOffset + taken, line, filled, part);
            taken += part;
            filled += part;
            int steps = Math.max(0, filled - 2 * sides.length + 1);
            interpolate(steps, out, outOffset + produced);
            produced += 2 * steps;
            System.arraycopy(line, steps, line, 0, filled - steps);
            filled -= steps;
        }
        return produced;
    }

    private void interpolate(int steps, double[] out, int outOffset) {
        int middle = sides.length - 1;
        Arrays.fill(between, 0, steps, 0);
        int j = middle;
        for (; j > 0; j -= 2) {
            System.arraycopy(line, middle - j, early, 0, steps);
            System.arraycopy(line, middle + 1 + j, late, 0, steps);
            System.arraycopy(line, middle - j + 1, nextEarly, 0, steps);
            System.arraycopy(line, middle + j, nextLate, 0, steps);
            HalfBand.addTwoPairs(sides[j], early, late, sides[j - 1], nextEarly, nextLate, between, steps);
        }
        if (j == 0) {
            HalfBand.addPairs(sides[0], line, middle, middle + 1, between, 0, steps);
        }
        for (int i = 0; i < steps; i++) {
            out[outOffset + 2 * i] = line[middle + i];
            out[outOffset + 2 * i + 1] = between[i];
        }
    }

    double[] sides() {
        return sides.clone();
    }

    /** Puts the filter to rest: the next output again waits for a whole filter of input. */
    public void reset() {
        filled = 0;
    }
}
