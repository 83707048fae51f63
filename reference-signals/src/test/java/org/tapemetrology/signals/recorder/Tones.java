/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import org.tapemetrology.signals.Decibels;

/** Plain readings of tones for tests, by definition: a projection with a window on the frequency that is asked. */
final class Tones {
    static final int RATE = 48_000;

    private Tones() {}

    /** Amplitude and phase of a frequency between two moments; a Hann window keeps what is four cycles off below -90 dB. */
    static double[] phasor(double[] samples, double fromSeconds, double toSeconds, double hz) {
        int from = (int) Math.round(fromSeconds * RATE);
        int to = (int) Math.round(toSeconds * RATE);
        double real = 0;
        double imaginary = 0;
        double weight = 0;
        for (int i = from; i < to; i++) {
            double window = 1 - Math.cos(2 * Math.PI * (i - from + 0.5) / (to - from));
            double angle = 2 * Math.PI * hz * i / RATE;
            real += window * samples[i] * Math.cos(angle);
            imaginary += window * samples[i] * Math.sin(angle);
            weight += window;
        }
        return new double[] {2 * Math.hypot(real, imaginary) / weight, Math.atan2(real, imaginary)};
    }

    static double decibels(double[] samples, double fromSeconds, double toSeconds, double hz) {
        return Decibels.ofRatio(phasor(samples, fromSeconds, toSeconds, hz)[0]);
    }

    /** By how much the second signal lags, within half a period. */
    static double delaySeconds(double[] first, double[] second, double fromSeconds, double toSeconds, double hz) {
        double phase = phasor(first, fromSeconds, toSeconds, hz)[1] - phasor(second, fromSeconds, toSeconds, hz)[1];
        return Math.IEEEremainder(phase, 2 * Math.PI) / (2 * Math.PI * hz);
    }

    /** Frequency from the phase of two parts, given one that is right within half a cycle of their distance. */
    static double frequency(double[] samples, double fromSeconds, double toSeconds, double nearHz) {
        double hz = nearHz;
        for (double part = (toSeconds - fromSeconds) / 64; part <= (toSeconds - fromSeconds) / 2; part *= 2) {
            double early = phasor(samples, fromSeconds, fromSeconds + part, hz)[1];
            double late = phasor(samples, fromSeconds + part, fromSeconds + 2 * part, hz)[1];
            hz += Math.IEEEremainder(late - early, 2 * Math.PI) / (2 * Math.PI * part);
        }
        return hz;
    }

    /** Relative deviation of a tone's frequency, at 1 kHz: the slope of its phase in a complex one-period mean. */
    static double[] deviation(double[] samples, double hz) {
        int step = RATE / 1000;
        int count = samples.length / step - 4;
        double[] phase = new double[count];
        for (int k = 0; k < count; k++) {
            // Two hundred samples under a Hann window: the second harmonic and the image are down by 60 dB.
            double from = (double) k * step / RATE;
            phase[k] = phasor(samples, from, from + 4.0 * step / RATE, hz)[1];
        }
        double[] deviation = new double[count - 1];
        for (int k = 0; k < deviation.length; k++) {
            deviation[k] = Math.IEEEremainder(phase[k + 1] - phase[k], 2 * Math.PI) * 1000 / (2 * Math.PI * hz);
        }
        return deviation;
    }

    /** Peak of a rate within a series at 1 kHz. */
    static double peak(double[] series, double hz) {
        double real = 0;
        double imaginary = 0;
        double weight = 0;
        for (int i = 0; i < series.length; i++) {
            double window = 1 - Math.cos(2 * Math.PI * (i + 0.5) / series.length);
            real += window * series[i] * Math.cos(2 * Math.PI * hz * i / 1000);
            imaginary += window * series[i] * Math.sin(2 * Math.PI * hz * i / 1000);
            weight += window;
        }
        return 2 * Math.hypot(real, imaginary) / weight;
    }
}
