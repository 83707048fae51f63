/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import org.tapemetrology.core.filter.FirDesign;

/** The plain form of {@link PhaseTracker}: one filter, and every sine and cosine by itself. */
final class PlainPhaseTracker {
    /** Ripple of the pass band and leakage of everything else: 1e-6. */
    private static final double ATTENUATION_DB = 120;

    private final double rateHz;
    private final int length;
    private final double[] taps;
    private final int step;
    private final double[] shiftedRe;
    private final double[] shiftedIm;
    private final double[] phase;

    /**
     * A tracker.
     *
     * @param rateHz sampling rate in Hz
     * @param length samples whose phase is wanted, in the middle of each frame
     * @param passHz deviation of the frequency that is followed, and rate of its change, in Hz
     * @param stopHz distance at which everything else is rejected, in Hz
     */
    PlainPhaseTracker(double rateHz, int length, double passHz, double stopHz) {
        this.rateHz = rateHz;
        this.length = length;
        this.taps = FirDesign.lowPass(passHz, stopHz, ATTENUATION_DB, rateHz);
        // Twelve points per period of the fastest movement leave a cubic an error of 2e-3 of that movement.
        this.step = Math.max(1, (int) (rateHz / (12 * passHz)));
        int points = length / step + 4;
        this.phase = new double[points];
        int needed = length + 2 * margin();
        this.shiftedRe = new double[needed];
        this.shiftedIm = new double[needed];
    }

    /**
     * Samples that a frame needs before and after those whose phase is wanted.
     *
     * @return that number
     */
    int margin() {
        return taps.length / 2 + 4 * step;
    }

    /**
     * Finds cos and sin of the tone's phase.
     *
     * @param frame samples
     * @param first index in the frame of the first sample whose phase is wanted, at least {@link #margin()}
     * @param referenceHz frequency near that of the tone in Hz
     * @param cos where the cosines go
     * @param sin where the sines go
     */
    void track(double[] frame, int first, double referenceHz, double[] cos, double[] sin) {
        double w = 2 * Math.PI * referenceHz / rateHz;
        int origin = first - margin();
        for (int i = 0; i < shiftedRe.length; i++) {
            double angle = w * (i - margin());
            shiftedRe[i] = frame[origin + i] * StrictMath.cos(angle);
            shiftedIm[i] = -frame[origin + i] * StrictMath.sin(angle);
        }
        double last = 0;
        for (int p = 0; p < phase.length; p++) {
            // Point p stands for the wanted sample (p - 1) step.
            int start = margin() + (p - 1) * step - taps.length / 2;
            double re = 0;
            double im = 0;
            for (int k = 0; k < taps.length; k++) {
                re += taps[k] * shiftedRe[start + k];
                im += taps[k] * shiftedIm[start + k];
            }
            double angle = StrictMath.atan2(im, re);
            phase[p] = p == 0 ? angle : last + StrictMath.IEEEremainder(angle - last, 2 * Math.PI);
            last = phase[p];
        }
        for (int i = 0; i < length; i++) {
            double angle = w * i + interpolated(i);
            cos[i] = StrictMath.cos(angle);
            sin[i] = StrictMath.sin(angle);
        }
    }

    /** Cubic through the four nearest points. */
    private double interpolated(int sample) {
        int p = sample / step;
        double u = (double) (sample - p * step) / step;
        double before = phase[p];
        double here = phase[p + 1];
        double next = phase[p + 2];
        double after = phase[Math.min(p + 3, phase.length - 1)];
        return -u * (u - 1) * (u - 2) / 6 * before
                + (u + 1) * (u - 1) * (u - 2) / 2 * here
                - (u + 1) * u * (u - 2) / 2 * next
                + (u + 1) * u * (u - 1) / 6 * after;
    }
}
