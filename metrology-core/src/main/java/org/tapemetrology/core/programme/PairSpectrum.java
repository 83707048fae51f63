/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;

/**
 * Power spectra of a frame of two channels under a Hann window, by one complex transform, scaled so that the bins of a tone
 * add up to its mean square.
 */
final class PairSpectrum {
    private final double[] window;
    private final double[][] work;
    private final double scale;
    private final double[][] power;
    private final double[] both;

    PairSpectrum(int size) {
        window = new double[size];
        work = new double[2][size];
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
        double[] re = work[0];
        double[] im = work[1];
        boolean pair = frame.length > 1;
        for (int i = 0; i < size; i++) {
            re[i] = window[i] * frame[0][i];
            im[i] = pair ? window[i] * frame[1][i] : 0;
        }
        FastFourierTransformer.transformInPlace(work, DftNormalization.STANDARD, TransformType.FORWARD);
        for (int k = 1; k < both.length; k++) {
            int mirrored = size - k;
            // The transform of a real signal is symmetric, that of one taken as imaginary part antisymmetric.
            double firstRe = 0.5 * (re[k] + re[mirrored]);
            double firstIm = 0.5 * (im[k] - im[mirrored]);
            double secondRe = 0.5 * (im[k] + im[mirrored]);
            double secondIm = 0.5 * (re[mirrored] - re[k]);
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
