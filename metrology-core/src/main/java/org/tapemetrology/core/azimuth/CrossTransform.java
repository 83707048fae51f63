/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import org.tapemetrology.core.internal.ComplexTransform;
import org.tapemetrology.core.internal.Sums;

/**
 * Makes the cross spectrum of two channels over Hann frames that overlap by half.
 *
 * <p>One complex transform gives the plain spectra X of both channels. The Hann window
 * {@code (1 - cos(2 pi (i + 1/2)/N))/2} and its derivative over time, a sine, are sums over neighbouring bins: with
 * {@code L = exp(i pi/N) X[k - 1]} and {@code H = exp(-i pi/N) X[k + 1]} the windowed spectrum is
 * {@code X[k]/2 - (L + H)/4}, that under the derivative {@code -i pi r/(2 N) (L - H)}, r being the sampling rate.
 */
final class CrossTransform {
    private static final double LEAST_FRAME_SECONDS = 0.064;
    private static final double HIGHEST_HZ = 24_000;
    /** Of the sampling rate: what lies above has its image within the window's main lobe or in a converter's edge. */
    private static final double USABLE = 0.48;
    /** 23 Hz to 47 Hz. Constant input reaches bin 1, by the window. */
    private static final int LOWEST_BIN = 3;

    /** Below this mean square of a channel, -90 dBFS, a frame is silent: 16-bit dither is at -93 dBFS. */
    private static final double SILENCE = 0.5e-9;

    private final int size;
    private final double binRadPerSecond;
    private final int bins;
    private final double powerScale;
    private final double derivativeScale;
    private final double turnCos;
    private final double turnSin;
    private final ComplexTransform transform;
    private final ChannelSpectrum one;
    private final ChannelSpectrum two;

    CrossTransform(double rateHz) {
        int length = 1;
        while (length < LEAST_FRAME_SECONDS * rateHz) {
            length *= 2;
        }
        size = length;
        binRadPerSecond = 2 * Math.PI * rateHz / size;
        bins = (int) (Math.min(HIGHEST_HZ, USABLE * rateHz) * size / rateHz) + 1 - LOWEST_BIN;
        // The squares of a Hann window add up to 3/8 of its length.
        powerScale = 2 / (size * (0.375 * size));
        derivativeScale = StrictMath.PI * rateHz / (2 * size);
        turnCos = StrictMath.cos(StrictMath.PI / size);
        turnSin = StrictMath.sin(StrictMath.PI / size);
        transform = new ComplexTransform(size);
        one = new ChannelSpectrum(bins);
        two = new ChannelSpectrum(bins);
    }

    int size() {
        return size;
    }

    int hop() {
        return size / 2;
    }

    int bins() {
        return bins;
    }

    int firstBin() {
        return LOWEST_BIN;
    }

    double binRadPerSecond() {
        return binRadPerSecond;
    }

    CrossFrame newFrame() {
        return new CrossFrame(bins);
    }

    /** Whether either channel is silent in a frame. */
    static boolean isSilent(CrossFrame frame) {
        return frame.first < SILENCE || frame.second < SILENCE;
    }

    /** Writes the cross spectrum of a frame. */
    void transform(double[] first, double[] second, CrossFrame frame) {
        double[] series = transform.series();
        for (int i = 0; i < size; i++) {
            series[2 * i] = first[i];
            series[2 * i + 1] = second[i];
        }
        transform.transform();
        separate(transform.series());
        one.window(turnCos, turnSin, derivativeScale);
        two.window(turnCos, turnSin, derivativeScale);
        cross(one, two, frame);
        power(one, frame.firstPower);
        power(two, frame.secondPower);
        frame.first = 0.25 * powerScale * Sums.of(frame.firstPower, 0, bins);
        frame.second = 0.25 * powerScale * Sums.of(frame.secondPower, 0, bins);
    }

    /**
     * Takes the channels out of one transform: the first is its even part, the second its odd part; both twice as large,
     * with a bin more on either side.
     */
    private void separate(double[] z) {
        for (int i = 0; i < bins + 2; i++) {
            int k = 2 * (LOWEST_BIN - 1 + i);
            int mirror = 2 * size - k;
            one.plainRe[i] = z[k] + z[mirror];
            one.plainIm[i] = z[k + 1] - z[mirror + 1];
            two.plainRe[i] = z[k + 1] + z[mirror + 1];
            two.plainIm[i] = z[mirror] - z[k];
        }
    }

    private static void cross(ChannelSpectrum a, ChannelSpectrum b, CrossFrame frame) {
        for (int i = 0; i < frame.re.length; i++) {
            frame.re[i] = b.re[i] * a.re[i] + b.im[i] * a.im[i];
            frame.im[i] = b.im[i] * a.re[i] - b.re[i] * a.im[i];
            double fromFirstRe = b.re[i] * a.derivativeRe[i] + b.im[i] * a.derivativeIm[i];
            double fromFirstIm = b.im[i] * a.derivativeRe[i] - b.re[i] * a.derivativeIm[i];
            double fromSecondRe = b.derivativeRe[i] * a.re[i] + b.derivativeIm[i] * a.im[i];
            double fromSecondIm = b.derivativeIm[i] * a.re[i] - b.derivativeRe[i] * a.im[i];
            frame.derivativeRe[i] = 0.5 * (fromFirstRe - fromSecondRe);
            frame.derivativeIm[i] = 0.5 * (fromFirstIm - fromSecondIm);
        }
    }

    private static void power(ChannelSpectrum channel, double[] out) {
        for (int i = 0; i < out.length; i++) {
            out[i] = channel.re[i] * channel.re[i] + channel.im[i] * channel.im[i];
        }
    }

    /** Twice the spectrum of a channel: plain, with a bin more on either side; windowed; and under the window's derivative. */
    private static final class ChannelSpectrum {
        final double[] plainRe;
        final double[] plainIm;
        final double[] re;
        final double[] im;
        final double[] derivativeRe;
        final double[] derivativeIm;

        ChannelSpectrum(int bins) {
            plainRe = new double[bins + 2];
            plainIm = new double[bins + 2];
            re = new double[bins];
            im = new double[bins];
            derivativeRe = new double[bins];
            derivativeIm = new double[bins];
        }

        void window(double cos, double sin, double scale) {
            for (int i = 0; i < re.length; i++) {
                double sumRe = plainRe[i] + plainRe[i + 2];
                double sumIm = plainIm[i] + plainIm[i + 2];
                double differenceRe = plainRe[i] - plainRe[i + 2];
                double differenceIm = plainIm[i] - plainIm[i + 2];
                re[i] = 0.5 * plainRe[i + 1] - 0.25 * (cos * sumRe - sin * differenceIm);
                im[i] = 0.5 * plainIm[i + 1] - 0.25 * (cos * sumIm + sin * differenceRe);
                derivativeRe[i] = scale * (cos * differenceIm + sin * sumRe);
                derivativeIm[i] = -scale * (cos * differenceRe - sin * sumIm);
            }
        }
    }
}
