/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import java.util.ArrayList;
import java.util.List;

/**
 * Doubles the sampling rate until it is at least a wanted one. A rectifier that works on the samples themselves misses
 * the peaks between them, by an amount that depends on the phase where the rate is a small multiple of the tone; it
 * belongs behind this. Thread-confined.
 *
 * <p>A sample that is not finite leaves the output so for the length of the filters.
 */
public final class Oversampler {
    private static final int CHUNK = 512;

    /** Eight times the upper end of the audio band. */
    private static final double RECTIFIER_RATE_HZ = 160_000;

    private static final double AUDIO_HZ = 20_000;
    /** Upper edge of the pass band over the sampling rate, where that is too low for 20 kHz; just enough at 44.1 kHz. */
    private static final double AUDIO_RATIO = 0.4536;

    private static final double IMAGE_ATTENUATION_DB = 70;

    private final List<HalfBandInterpolator> stages = new ArrayList<>();
    private final double outputRateHz;
    /** What goes from stage to stage. */
    private final double[][] between;

    /**
     * An oversampler at rest.
     *
     * @param passHz upper edge of the pass band in Hz, above 0 and below half the input rate
     * @param attenuationDb least attenuation of the images in dB, 21 to 160
     * @param inputRateHz sampling rate of the input in Hz
     * @param leastRateHz rate that the output has at least, in Hz
     */
    public Oversampler(double passHz, double attenuationDb, double inputRateHz, double leastRateHz) {
        double rate = inputRateHz;
        for (; rate < leastRateHz; rate *= 2) {
            stages.add(new HalfBandInterpolator(passHz, attenuationDb, rate));
        }
        this.outputRateHz = rate;
        this.between = new double[Math.max(0, stages.size() - 1)][];
        for (int i = 0; i < between.length; i++) {
            between[i] = new double[CHUNK << (i + 1)];
        }
    }

    /**
     * An oversampler for an audio signal that is to be rectified: it passes 20 kHz, or 0.4536 of the sampling rate where
     * that is lower, and gives at least 160 kHz.
     *
     * @param sampleRateHz sampling rate of the input in Hz
     * @return an oversampler at rest
     */
    public static Oversampler beforeRectifier(double sampleRateHz) {
        return new Oversampler(
                Math.min(AUDIO_HZ, AUDIO_RATIO * sampleRateHz), IMAGE_ATTENUATION_DB, sampleRateHz, RECTIFIER_RATE_HZ);
    }

    /**
     * Interpolates a block.
     *
     * @param in input samples
     * @param inOffset first input sample
     * @param length number of input samples
     * @param out where outputs go, with room for {@code length} {@link #factor()} of them
     * @param outOffset first output sample
     * @return number of outputs written
     */
    public int process(double[] in, int inOffset, int length, double[] out, int outOffset) {
        if (stages.isEmpty()) {
            System.arraycopy(in, inOffset, out, outOffset, length);
            return length;
        }
        int produced = 0;
        for (int done = 0; done < length; ) {
            int part = Math.min(CHUNK, length - done);
            double[] from = in;
            int fromOffset = inOffset + done;
            int count = part;
            for (int i = 0; i < stages.size(); i++) {
                boolean last = i == between.length;
                double[] to = last ? out : between[i];
                int toOffset = last ? outOffset + produced : 0;
                count = stages.get(i).process(from, fromOffset, count, to, toOffset);
                from = to;
                fromOffset = toOffset;
            }
            produced += count;
            done += part;
        }
        return produced;
    }

    /**
     * The taps of each doubling, as {@link FirDesign#halfBandSides} gives them.
     *
     * @return copies, none where the rate stays
     */
    public List<double[]> sides() {
        return stages.stream().map(HalfBandInterpolator::sides).toList();
    }

    /** Puts every stage to rest. */
    public void reset() {
        for (int i = 0; i < stages.size(); i++) {
            stages.get(i).reset();
        }
    }

    /**
     * How many outputs there are for every input.
     *
     * @return a power of two
     */
    public int factor() {
        return 1 << stages.size();
    }

    /**
     * Sampling rate of the output.
     *
     * @return rate in Hz
     */
    public double outputRateHz() {
        return outputRateHz;
    }
}
