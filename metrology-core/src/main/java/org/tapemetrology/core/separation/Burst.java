/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import java.util.Optional;

/**
 * A burst of steady tone among complex amplitudes.
 *
 * @param from index where it starts
 * @param to index where it has ended
 * @param radiansPerSample frequency of the tone that the amplitudes still have
 */
record Burst(int from, int to, double radiansPerSample) {
    /** Of the power: 6 dB down is no burst any more. */
    private static final double EDGE = 0.25;
    /** Products of neighbours over powers; noise that fills the band of the amplitudes gives 0.45. */
    private static final double STEADY = 0.8;

    /**
     * Finds the burst about a place, by power that is smoothed.
     *
     * @param around index within half of {@code window} of the burst
     * @param smooth samples over which the power is averaged
     * @param least least length
     */
    static Optional<Burst> find(double[] re, double[] im, int around, int window, int smooth, int least) {
        double[] sums = new double[re.length + 1];
        for (int i = 0; i < re.length; i++) {
            sums[i + 1] = sums[i] + re[i] * re[i] + im[i] * im[i];
        }
        int strongest = around;
        for (int i = Math.max(0, around - window); i <= Math.min(re.length - 1, around + window); i++) {
            if (power(sums, i, smooth) > power(sums, strongest, smooth)) {
                strongest = i;
            }
        }
        double edge = EDGE * power(sums, strongest, smooth);
        int from = strongest;
        while (from > 0 && power(sums, from - 1, smooth) >= edge) {
            from--;
        }
        int to = strongest + 1;
        while (to < re.length && power(sums, to, smooth) >= edge) {
            to++;
        }
        double real = 0;
        double imaginary = 0;
        for (int i = from + 1; i < to; i++) {
            real += re[i] * re[i - 1] + im[i] * im[i - 1];
            imaginary += im[i] * re[i - 1] - re[i] * im[i - 1];
        }
        boolean steady = Math.hypot(real, imaginary) > STEADY * (sums[to] - sums[from]);
        return steady && to - from >= least
                ? Optional.of(new Burst(from, to, StrictMath.atan2(imaginary, real)))
                : Optional.empty();
    }

    private static double power(double[] sums, int at, int smooth) {
        int from = Math.max(0, at - smooth / 2);
        int to = Math.min(sums.length - 1, at + smooth / 2 + 1);
        return Math.max(0, sums[to] - sums[from]) / (to - from);
    }
}
