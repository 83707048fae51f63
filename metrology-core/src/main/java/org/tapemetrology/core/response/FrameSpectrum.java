/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import org.tapemetrology.core.internal.RealTransform;

/**
 * Power spectrum of one frame under a Hann window, scaled so that the bins of a tone add up to its mean square and those
 * of noise to the noise power in their band.
 */
final class FrameSpectrum {
    private final double[] window;
    private final RealTransform transform;
    private final double scale;

    FrameSpectrum(int size) {
        window = new double[size];
        transform = new RealTransform(size);
        double sum = 0;
        for (int i = 0; i < size; i++) {
            window[i] = 0.5 - 0.5 * StrictMath.cos(2 * StrictMath.PI * (i + 0.5) / size);
            sum += window[i] * window[i];
        }
        scale = 2 / (size * sum);
    }

    /** Least power of two that holds so many seconds. */
    static int sizeFor(double seconds, double sampleRateHz) {
        int size = 1;
        while (size < seconds * sampleRateHz) {
            size *= 2;
        }
        return size;
    }

    /** Writes the power of bins 0 to size/2 of the frame that begins at an offset. */
    void power(double[] samples, int offset, double[] out) {
        double[] series = transform.series();
        for (int i = 0; i < window.length; i++) {
            series[i] = window[i] * samples[offset + i];
        }
        transform.power(scale, out);
    }

    static double sum(double[] power, int from, int to) {
        double sum = 0;
        for (int k = Math.max(from, 0); k <= Math.min(to, power.length - 1); k++) {
            sum += power[k];
        }
        return sum;
    }
}
