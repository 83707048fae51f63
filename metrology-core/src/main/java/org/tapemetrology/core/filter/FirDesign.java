/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

/**
 * Linear-phase low-pass filters by the Kaiser window (J. F. Kaiser, "Nonrecursive digital filter design using the
 * I0-sinh window function", Proc. IEEE ISCAS 1974): stop-band attenuation and pass-band ripple are one figure, and the
 * length follows from it and the width of the transition.
 *
 * <p>Frequencies are in Hz, attenuations in dB. Cost: of the order of the number of taps. Edges and attenuations that
 * are NaN are refused; the sampling rate is to be finite. It has no state: any number of threads may use it.
 *
 * <p>Not for the shortest filter of a mask: an equiripple one is shorter.
 */
public final class FirDesign {
    /** Kaiser's formulas are fits and may miss by more than 1 dB. */
    private static final double MARGIN_DB = 2;

    private FirDesign() {}

    /**
     * Taps of a low-pass filter of odd length, symmetric, with gain 1 at 0 Hz.
     *
     * @param passHz upper edge of the pass band in Hz
     * @param stopHz lower edge of the stop band in Hz, above the pass edge, at most half the sampling rate
     * @param attenuationDb least attenuation in the stop band in dB, 21 to 160
     * @param sampleRateHz sampling rate in Hz
     * @return the taps
     */
    public static double[] lowPass(double passHz, double stopHz, double attenuationDb, double sampleRateHz) {
        if (!(passHz >= 0 && passHz < stopHz && stopHz <= sampleRateHz / 2)) {
            throw new IllegalArgumentException("edges " + passHz + " Hz and " + stopHz + " Hz are not in order below "
                    + sampleRateHz / 2 + " Hz, half the sampling rate");
        }
        int half = delay(stopHz - passHz, attenuationDb, sampleRateHz);
        double design = attenuationDb + MARGIN_DB;
        double beta = design > 50
                ? 0.1102 * (design - 8.7)
                : 0.5842 * StrictMath.pow(design - 21, 0.4) + 0.07886 * (design - 21);
        double cutoff = (passHz + stopHz) / sampleRateHz; // in half-cycles per sample
        double[] taps = new double[2 * half + 1];
        double sum = 0;
        for (int i = -half; i <= half; i++) {
            double r = (double) i / half;
            double window = besselI0(beta * StrictMath.sqrt(Math.max(0, 1 - r * r))) / besselI0(beta);
            double x = StrictMath.PI * i;
            taps[i + half] = window * (i == 0 ? cutoff : StrictMath.sin(cutoff * x) / x);
            sum += taps[i + half];
        }
        for (int i = 0; i < taps.length; i++) {
            taps[i] /= sum;
        }
        return taps;
    }

    /**
     * Delay of a low-pass filter: the number of its taps on one side of the middle.
     *
     * @param transitionHz from the pass edge to the stop edge in Hz, above 0
     * @param attenuationDb least attenuation in the stop band in dB, 21 to 160
     * @param sampleRateHz sampling rate in Hz
     * @return samples
     */
    public static int delay(double transitionHz, double attenuationDb, double sampleRateHz) {
        if (!(attenuationDb >= 21 && attenuationDb <= 160)) {
            throw new IllegalArgumentException("attenuationDb " + attenuationDb + " is not in 21 to 160");
        }
        double transition = 2 * StrictMath.PI * transitionHz / sampleRateHz;
        return (int) StrictMath.ceil((attenuationDb + MARGIN_DB - 7.95) / (2.285 * transition) / 2);
    }

    /**
     * Taps of a half-band filter, whose every second tap is zero but the middle one, which is a half: those 1, 3, 5 ...
     * steps from the middle, scaled to a sum of 1/2 over one side, so that the gain at 0 Hz is 1 where the samples of the
     * other phase pass with gain 1.
     *
     * @param passHz upper edge of the pass band in Hz, above 0 and below half the lower rate
     * @param attenuationDb least attenuation in dB of what lies above {@code lowRateHz - passHz}, 21 to 160
     * @param lowRateHz the lower one of the two sampling rates in Hz
     * @return the taps of one side, from the middle outwards
     */
    public static double[] halfBandSides(double passHz, double attenuationDb, double lowRateHz) {
        double[] taps = lowPass(passHz, lowRateHz - passHz, attenuationDb, 2 * lowRateHz);
        int middle = taps.length / 2;
        double[] sides = new double[(middle + 1) / 2];
        double sum = 0;
        for (int j = 0; j < sides.length; j++) {
            sides[j] = taps[middle + 2 * j + 1];
            sum += 2 * sides[j];
        }
        for (int j = 0; j < sides.length; j++) {
            sides[j] /= sum;
        }
        return sides;
    }

    /** Modified Bessel function of the first kind, order 0, by its power series: all terms are positive. */
    private static double besselI0(double x) {
        double quarter = x * x / 4;
        double term = 1;
        double sum = 1;
        for (int k = 1; term > sum * 1e-17; k++) {
            term *= quarter / ((double) k * k);
            sum += term;
        }
        return sum;
    }

    /**
     * Magnitude of the response of taps.
     *
     * @param taps any taps
     * @param frequencyHz frequency in Hz
     * @param sampleRateHz sampling rate in Hz
     * @return magnitude
     */
    public static double magnitude(double[] taps, double frequencyHz, double sampleRateHz) {
        double w = 2 * StrictMath.PI * frequencyHz / sampleRateHz;
        double re = 0;
        double im = 0;
        for (int i = 0; i < taps.length; i++) {
            re += taps[i] * StrictMath.cos(w * i);
            im += taps[i] * StrictMath.sin(w * i);
        }
        return StrictMath.hypot(re, im);
    }
}
