/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import org.tapemetrology.core.internal.RealTransform;
import org.tapemetrology.core.internal.Sums;

/**
 * Power spectrum of a frame under a Kaiser window with side lobes 138 dB down, scaled so that the bins of a tone sum up
 * to its power, amplitude^2/2, in the unit of the samples squared. Samples that are not finite make every bin, and
 * what is read of them, NaN. Thread-confined.
 *
 * <p>The window is that of J. F. Kaiser (Proc. IEEE ISCAS 1974, as in {@link
 * org.tapemetrology.core.filter.FirDesign}). Cost: n log n for n samples; nothing is allocated after construction.
 *
 * <p>Not for two tones nearer to each other than twice {@link #MAIN_LOBE_BINS}: they are one.
 */
public final class FrameSpectrum {
    /** Kaiser's shape for -138 dB. */
    private static final double BETA = 18;
    /** Half the main lobe in bins, {@code sqrt(1 + (beta/pi)^2)}. */
    public static final double MAIN_LOBE_BINS = Math.sqrt(1 + BETA * BETA / (Math.PI * Math.PI));

    private final double rateHz;
    private final double[] window;
    private final double windowSum;
    private final double powerScale;
    private final RealTransform transform;
    private final double[] power;

    /**
     * A spectrum.
     *
     * @param rateHz sampling rate in Hz
     * @param length samples of a frame, a power of two, at least 4
     */
    public FrameSpectrum(double rateHz, int length) {
        this.rateHz = rateHz;
        this.window = new double[length];
        this.transform = new RealTransform(length);
        this.power = new double[length / 2 + 1];
        double sum = 0;
        double squares = 0;
        double most = besselI0(BETA);
        for (int i = 0; i < length; i++) {
            double r = 2 * (i + 0.5) / length - 1;
            int mirror = length - 1 - i;
            window[i] = i <= mirror ? besselI0(BETA * StrictMath.sqrt(1 - r * r)) / most : window[mirror];
            sum += window[i];
            squares += window[i] * window[i];
        }
        this.windowSum = sum;
        this.powerScale = 2 / (length * squares);
    }

    private static double besselI0(double x) {
        double term = 1;
        double sum = 1;
        for (int k = 1; term > sum * 1e-17; k++) {
            term *= x * x / (4.0 * k * k);
            sum += term;
        }
        return sum;
    }

    /**
     * The window.
     *
     * @return its samples, not a copy, of sum {@link #windowSum()}
     */
    public double[] window() {
        return window;
    }

    /**
     * Sum of the window: a tone demodulated through it has {@code 2/windowSum} of the sum as its amplitude.
     *
     * @return the sum
     */
    public double windowSum() {
        return windowSum;
    }

    /**
     * Distance of the bins.
     *
     * @return distance in Hz
     */
    public double binHz() {
        return rateHz / window.length;
    }

    /**
     * Takes the spectrum of a frame, its windowed mean removed.
     *
     * @param frame samples
     * @param first index of the first of them that counts
     */
    public void take(double[] frame, int first) {
        double[] series = transform.series();
        System.arraycopy(frame, first, series, 0, window.length);
        for (int i = 0; i < window.length; i++) {
            series[i] *= window[i];
        }
        double mean = Sums.of(series, 0, window.length) / windowSum;
        for (int i = 0; i < window.length; i++) {
            series[i] -= mean * window[i];
        }
        transform.power(powerScale, power);
    }

    /**
     * Power in a bin.
     *
     * @param bin its number; its centre is {@code bin} times {@link #binHz()}
     * @return mean square
     */
    public double power(int bin) {
        return power[bin];
    }

    /**
     * Power between two frequencies: every bin whose centre lies within.
     *
     * @param fromHz lower frequency in Hz
     * @param toHz upper frequency in Hz
     * @return mean square
     */
    public double band(double fromHz, double toHz) {
        int from = Math.max(1, (int) Math.ceil(fromHz / binHz()));
        int to = Math.min(power.length - 1, (int) Math.floor(toHz / binHz()));
        double sum = 0;
        for (int k = from; k <= to; k++) {
            sum += power[k];
        }
        return sum;
    }

    /**
     * Frequency of the strongest component between two frequencies: centre of power of its main lobe.
     *
     * @param fromHz lower frequency in Hz
     * @param toHz upper frequency in Hz
     * @param spreadHz how far beyond the main lobe its power is counted, in Hz
     * @return frequency in Hz; the lower one in silence, NaN where a sample was not finite
     */
    public double peakHz(double fromHz, double toHz, double spreadHz) {
        int from = Math.max(1, (int) Math.ceil(fromHz / binHz()));
        int to = Math.min(power.length - 2, (int) Math.floor(toHz / binHz()));
        int best = from;
        for (int k = from; k <= to; k++) {
            if (power[k] > power[best]) {
                best = k;
            }
        }
        int half = (int) Math.ceil(MAIN_LOBE_BINS + spreadHz / binHz());
        double sum = 0;
        double moment = 0;
        for (int k = Math.max(1, best - half); k <= Math.min(power.length - 1, best + half); k++) {
            sum += power[k];
            moment += power[k] * k;
        }
        return sum == 0 ? best * binHz() : moment / sum * binHz();
    }
}
