/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;

/** The recording that the benchmarks measure: a minute of 3150 Hz with a machine's flutter. */
final class TestTone {
    private TestTone() {}

    static float[] minute(int sampleRateHz) {
        FmTone tone = FmTone.builder(3150)
                .amplitude(0.5)
                .speedError(0.004)
                .sine(0.7, 0.0003)
                .sine(7.6, 0.0008)
                .build();
        float[] samples = new float[60 * sampleRateHz];
        SampledSignal.of(tone, sampleRateHz).fill(0, samples, 0, samples.length);
        return samples;
    }

    /** The same on two channels. */
    static float[] interleaved(float[] samples) {
        float[] both = new float[2 * samples.length];
        for (int i = 0; i < samples.length; i++) {
            both[2 * i] = samples[i];
            both[2 * i + 1] = samples[i];
        }
        return both;
    }
}
