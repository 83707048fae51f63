/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.function.DoubleUnaryOperator;

/** Samples of functions of time in s, one for each channel, side by side. */
public final class Interleaved {
    private Interleaved() {}

    public static float[] samples(double rateHz, double seconds, DoubleUnaryOperator... channels) {
        int frames = (int) Math.round(seconds * rateHz);
        float[] samples = new float[frames * channels.length];
        for (int i = 0; i < frames; i++) {
            for (int c = 0; c < channels.length; c++) {
                samples[i * channels.length + c] = (float) channels[c].applyAsDouble(i / rateHz);
            }
        }
        return samples;
    }
}
