/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.filter.HalfBandDecimator;

/**
 * The signal at its own rate and at that rate halved again and again, so that a low band is filtered at a low rate, where
 * its poles are well away from z = 1. Each stage is free of droop (0.001 dB) and of aliases (90 dB) up to
 * {@link #CLEAN} of its rate.
 */
final class OctavePyramid {
    /** Clean band of a decimated stage over its sampling rate. */
    static final double CLEAN = 0.375;

    private static final double ALIAS_ATTENUATION_DB = 90;

    private final double sampleRateHz;
    private final List<HalfBandDecimator> halvings = new ArrayList<>();
    private final double[][] samples;
    private final int[] counts;

    OctavePyramid(double sampleRateHz, int stages, int largestBlock) {
        this.sampleRateHz = sampleRateHz;
        this.samples = new double[stages][];
        this.counts = new int[stages];
        samples[0] = new double[largestBlock];
        for (int stage = 1; stage < stages; stage++) {
            // in units of the output rate: the same filter at any rate
            halvings.add(new HalfBandDecimator(CLEAN, ALIAS_ATTENUATION_DB, 1));
            samples[stage] = new double[samples[stage - 1].length / 2 + 1];
        }
    }

    /** Takes a block of at most the largest length; every stage then holds what it made of it. */
    void process(double[] in, int offset, int length) {
        System.arraycopy(in, offset, samples[0], 0, length);
        counts[0] = length;
        for (int stage = 1; stage < samples.length; stage++) {
            counts[stage] =
                    halvings.get(stage - 1).process(samples[stage - 1], 0, counts[stage - 1], samples[stage], 0);
        }
    }

    void reset() {
        for (int i = 0; i < halvings.size(); i++) {
            halvings.get(i).reset();
        }
    }

    double[] samples(int stage) {
        return samples[stage];
    }

    int count(int stage) {
        return counts[stage];
    }

    double rateHz(int stage) {
        return sampleRateHz / (1L << stage);
    }

    int stages() {
        return samples.length;
    }

    /** The slowest stage whose clean band holds a frequency; the first stage where no other does. */
    int slowestStageFor(double frequencyHz) {
        for (int stage = samples.length - 1; stage > 0; stage--) {
            if (frequencyHz <= CLEAN * rateHz(stage)) {
                return stage;
            }
        }
        return 0;
    }
}
