/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;

/**
 * A sum of very many sines, all multiples of 1/(length/rate), which an inverse FFT adds up: noise or a multitone that can be
 * delayed by any part of a sample without an interpolator.
 */
final class Spectral {
    private final double rateHz;
    private final double[] re;
    private final double[] im;

    private Spectral(double rateHz, int length) {
        this.rateHz = rateHz;
        this.re = new double[length];
        this.im = new double[length];
    }

    static int lengthFor(double rateHz, double seconds) {
        int length = 1;
        while (length < rateHz * seconds) {
            length *= 2;
        }
        return length;
    }

    /** Gaussian noise with an amplitude over frequency; the RMS value is 0.1. */
    static Spectral noise(double rateHz, double seconds, DoubleUnaryOperator shape, Random random) {
        Spectral made = new Spectral(rateHz, lengthFor(rateHz, seconds));
        for (int k = 1; k < made.re.length / 2; k++) {
            double size = shape.applyAsDouble(k * made.binHz());
            made.re[k] = size * random.nextGaussian();
            made.im[k] = size * random.nextGaussian();
        }
        return made.scaled();
    }

    /** Tones of equal amplitude and random phase, each at the nearest multiple. */
    static Spectral tones(double rateHz, double seconds, double[] hertz, Random random) {
        Spectral made = new Spectral(rateHz, lengthFor(rateHz, seconds));
        for (double f : hertz) {
            int k = (int) Math.round(f / made.binHz());
            double phase = 2 * Math.PI * random.nextDouble();
            made.re[k] = Math.cos(phase);
            made.im[k] = Math.sin(phase);
        }
        return made.scaled();
    }

    static DoubleUnaryOperator band(double fromHz, double toHz, double dbPerOctave) {
        return f -> f < fromHz || f > toHz ? 0 : Math.pow(10, dbPerOctave * Math.log(f / fromHz) / Math.log(2) / 20);
    }

    private Spectral scaled() {
        double power = 0;
        for (int k = 0; k < re.length; k++) {
            power += (re[k] * re[k] + im[k] * im[k]) / 2;
        }
        double factor = 0.1 / Math.sqrt(power);
        for (int k = 0; k < re.length; k++) {
            re[k] *= factor;
            im[k] *= factor;
        }
        return this;
    }

    private double binHz() {
        return rateHz / re.length;
    }

    /** The signal later by a delay, its amplitudes times a gain over frequency. */
    double[] samples(double delaySeconds, DoubleUnaryOperator gain) {
        double[][] work = new double[2][re.length];
        for (int k = 1; k < re.length / 2; k++) {
            if (re[k] != 0 || im[k] != 0) {
                double hertz = k * binHz();
                double g = gain.applyAsDouble(hertz);
                double c = g * Math.cos(2 * Math.PI * hertz * delaySeconds);
                double s = -g * Math.sin(2 * Math.PI * hertz * delaySeconds);
                work[0][k] = re[k] * c - im[k] * s;
                work[1][k] = re[k] * s + im[k] * c;
            }
        }
        FastFourierTransformer.transformInPlace(work, DftNormalization.STANDARD, TransformType.INVERSE);
        // The standard inverse divides by the length; the real part of a one-sided spectrum is the sum of the sines.
        for (int i = 0; i < re.length; i++) {
            work[0][i] *= re.length;
        }
        return work[0];
    }
}
