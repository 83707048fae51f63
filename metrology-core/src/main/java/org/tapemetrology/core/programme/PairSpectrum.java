/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import org.tapemetrology.core.internal.ComplexTransform;

/**
 * Power spectra of a frame of two channels under a Hann window, by one complex transform, scaled so that the bins of a tone
 * add up to its mean square.
 */
final class PairSpectrum {
    private final double[] window;
    private final ComplexTransform transform;
    private final double scale;
    private final double[][] power;
    private final double[] both;

    PairSpectrum(int size) {
        window = new double[size];
        transform = new ComplexTransform(size);
        power = new double[2][size / 2 + 1];
        both = new double[size / 2 + 1];
        double sum = 0;
        for (int i = 0; i < size; i++) {
            window[i] = 0.5 - 0.5 * StrictMath.cos(2 * StrictMath.PI * (i + 0.5) / size);
            sum += window[i] * window[i];
        }
        scale = 2 / (size * sum);
    }

    /** Takes a frame of one or two channels. */
    void take(double[][] frame) {
        int size = window.length;
        boolean pair = frame.length > 1;
        double[] series = transform.series();
        for (int i = 0; i < size; i++) {
            series[2 * i] = window[i] * frame[0][i];
            series[2 * i + 1] = pair ? window[i] * frame[1][i] : 0;
        }
        transform.transform();
        double[] z = transform.series();
        for (int k = 1; k < both.length; k++) {
            int here = 2 * k;
            int mirror = 2 * (size - k);
            // The transform of a real signal is symmetric, that of one taken as imaginary part antisymmetric.
            double firstRe = 0.5 * (z[here] + z[mirror]);
            double firstIm = 0.5 * (z[here + 1] - z[mirror + 1]);
            double secondRe = 0.5 * (z[here + 1] + z[mirror + 1]);
            double secondIm = 0.5 * (z[mirror] - z[here]);
            power[0][k] = scale * (firstRe * firstRe + firstIm * firstIm);
            power[1][k] = scale * (secondRe * secondRe + secondIm * secondIm);
            both[k] = power[0][k] + power[1][k];
        }
    }

    /** Power of both channels together; bin 0 is 0. */
    double[] both() {
        return both;
    }

    /** Power of a channel, 0 or 1; bin 0 is 0. */
    double[] of(int channel) {
        return power[channel];
    }

    static double sum(double[] power, int from, int to) {
        double sum = 0;
        for (int k = Math.max(from, 1); k <= Math.min(to, power.length - 1); k++) {
            sum += power[k];
        }
        return sum;
    }
}
