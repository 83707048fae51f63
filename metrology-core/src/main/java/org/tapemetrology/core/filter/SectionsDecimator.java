/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

/**
 * Lowers a sampling rate by a whole factor behind a low-pass of second-order sections: every so-manieth value of what the low-pass
 * gives, beginning with the first. What it passes, and what folds, are the low-pass's. Thread-confined.
 *
 * <p>Outputs are in the unit of the inputs (by definition). Cost: that of the low-pass, which works at the rate of the input. A
 * sample that is not finite stays in the sections until {@link #presetTo}.
 *
 * <p>Not for a linear phase: those are {@link FirDecimator} and {@link HalfBandDecimator}.
 */
public final class SectionsDecimator {
    private final SecondOrderSections lowPass;
    private final int factor;
    private int untilKept;

    /**
     * A decimator at rest.
     *
     * @param lowPass sections at rest, of the rate of the input
     * @param leastRateHz the rate of the output is the lowest of this or more, and that of the input where that is less
     */
    public SectionsDecimator(SecondOrderSections lowPass, double leastRateHz) {
        this.lowPass = lowPass;
        this.factor = (int) Math.max(1, Math.floor(lowPass.sampleRateHz() / leastRateHz));
    }

    /**
     * Rate of the output.
     *
     * @return rate in Hz
     */
    public double rateHz() {
        return lowPass.sampleRateHz() / factor;
    }

    /**
     * Puts the low-pass into the state after an endless constant input.
     *
     * @param constant the constant input
     */
    public void presetTo(double constant) {
        lowPass.presetTo(constant);
    }

    /**
     * Takes a block.
     *
     * @param in input samples
     * @param inOffset first input sample
     * @param length number of input samples
     * @param out where outputs go, with room for {@code length} values: those after the outputs are overwritten
     * @return number of outputs
     */
    public int process(double[] in, int inOffset, int length, double[] out) {
        lowPass.process(in, inOffset, out, 0, length);
        int count = 0;
        int i = untilKept;
        for (; i < length; i += factor) {
            out[count++] = out[i];
        }
        untilKept = i - length;
        return count;
    }
}
