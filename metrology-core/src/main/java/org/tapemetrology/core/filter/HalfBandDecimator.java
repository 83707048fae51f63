/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

/**
 * Halves the sampling rate with a linear-phase half-band filter. The first output stands for the first input sample at
 * which the whole filter lies inside the input. Thread-confined.
 *
 * <p>A sample that is not finite leaves the output so for the length of the filter.
 */
public final class HalfBandDecimator {
    private static final int CHUNK = 512;

    /** Weight of the input samples 2j + 1 steps before and after an output. */
    private final double[] sides;

    /** Input samples at the times of outputs, and those between them, both from the same time on. */
    private final double[] middles;

    private final double[] between;
    private int filledMiddles;
    private int filledBetween;
    private boolean middleIsNext;

    /**
     * A filter at rest.
     *
     * @param passHz upper edge of the pass band in Hz, above 0 and below half the output rate
     * @param attenuationDb least attenuation in dB of what would fold into the pass band, 21 to 160
     * @param outputRateHz sampling rate of the output in Hz, half that of the input
     */
    public HalfBandDecimator(double passHz, double attenuationDb, double outputRateHz) {
        this.sides = FirDesign.halfBandSides(passHz, attenuationDb, outputRateHz);
        for (int j = 0; j < sides.length; j++) {
            sides[j] /= 2;
        }
        this.middles = new double[2 * sides.length + CHUNK];
        this.between = new double[2 * sides.length + CHUNK];
    }

    /**
     * Decimates a block.
     *
     * @param in input samples
     * @param inOffset first input sample
     * @param length number of input samples
     * @param out where outputs go, with room for {@code length / 2 + 1} of them
     * @param outOffset first output sample
     * @return number of outputs written
     */
    public int process(double[] in, int inOffset, int length, double[] out, int outOffset) {
        int produced = 0;
        for (int done = 0; done < length; ) {
            int part = Math.min(CHUNK, length - done);
            for (int i = 0; i < part; i++) {
                double x = in[inOffset + done + i];
                if (middleIsNext) {
                    middles[filledMiddles++] = x;
                } else {
                    between[filledBetween++] = x;
                }
                middleIsNext = !middleIsNext;
            }
            done += part;
            produced += filter(out, outOffset + produced);
        }
        return produced;
    }

    /** Output i lies between the samples {@code sides.length - 1 + i} and {@code sides.length + i} of that phase. */
    private int filter(double[] out, int outOffset) {
        int outputs = Math.max(0, filledBetween - 2 * sides.length + 1);
        for (int i = 0; i < outputs; i++) {
            out[outOffset + i] = middles[sides.length - 1 + i] / 2;
        }
        for (int j = sides.length - 1; j >= 0; j--) {
            HalfBand.addPairs(sides[j], between, sides.length - 1 - j, sides.length + j, out, outOffset, outputs);
        }
        System.arraycopy(middles, outputs, middles, 0, filledMiddles - outputs);
        System.arraycopy(between, outputs, between, 0, filledBetween - outputs);
        filledMiddles -= outputs;
        filledBetween -= outputs;
        return outputs;
    }

    /** Puts the filter to rest: the next output again waits for a whole filter of input. */
    public void reset() {
        filledMiddles = 0;
        filledBetween = 0;
        middleIsNext = false;
    }
}
