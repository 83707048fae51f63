/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import org.tapemetrology.core.internal.Require;

/**
 * Losses of replay over the recorded wavelength, in dB, positive where level is lost.
 *
 * <p>At a null of the gap or azimuth loss the result is very large or infinite, never NaN. Safe to share between threads.
 *
 * <p>Lengths are in um and mm, angles in minutes of arc; each formula has its source (R. L. Wallace, 1951, and J.
 * Eargle) or follows from geometry. Cost: a function or two. Arguments that are NaN or out of range are refused.
 *
 * <p>Not for long waves: the undulations that the outline of the head makes there are in none of these formulas.
 */
public final class ReplayLoss {
    /** Effective over optical gap length (J. Eargle, "Electroacoustical Reference Data", section 167, equation 167.1). */
    public static final double EFFECTIVE_GAP_RATIO = 1.11;

    /** Where {@code sin(x)/x} is {@code 1/sqrt(2)}. */
    private static final double HALF_POWER_SINC = 1.3915573782515103;

    private static final double MICROMETRES_PER_MILLIMETRE = 1e3;

    private ReplayLoss() {}

    /**
     * Recorded wavelength, {@code v/f}.
     *
     * @param frequencyHz frequency in Hz
     * @param speedCmPerSecond tape speed in cm/s
     * @return wavelength in um
     */
    public static double wavelengthMicrometres(double frequencyHz, double speedCmPerSecond) {
        return Require.positive("speedCmPerSecond", speedCmPerSecond)
                * 1e4
                / Require.positive("frequencyHz", frequencyHz);
    }

    /**
     * Spacing loss, {@code 20 lg(e) 2 pi d/lambda}: 54.6 dB for each wavelength between head and tape (R. L. Wallace,
     * "The reproduction of magnetically recorded signals", Bell System Technical Journal 30 (1951), p. 1145).
     *
     * @param spacingMicrometres distance d in um
     * @param wavelengthMicrometres wavelength in um
     * @return loss in dB
     */
    public static double spacingDb(double spacingMicrometres, double wavelengthMicrometres) {
        return decibels(waves(
                Require.notNegative("spacingMicrometres", spacingMicrometres),
                Require.positive("wavelengthMicrometres", wavelengthMicrometres)));
    }

    /**
     * Gap loss, {@code -20 lg(sin(x)/x)} with {@code x = pi g/lambda}.
     *
     * @param gapMicrometres gap length g in um
     * @param wavelengthMicrometres wavelength in um
     * @return loss in dB
     */
    public static double gapDb(double gapMicrometres, double wavelengthMicrometres) {
        Require.notNegative("gapMicrometres", gapMicrometres);
        Require.positive("wavelengthMicrometres", wavelengthMicrometres);
        return sincDb(StrictMath.PI * gapMicrometres / wavelengthMicrometres);
    }

    /**
     * Gap loss with the effective gap, {@value #EFFECTIVE_GAP_RATIO} times the optical one.
     *
     * @param opticalGapMicrometres optical gap length in um
     * @param wavelengthMicrometres wavelength in um
     * @return loss in dB
     */
    public static double effectiveGapDb(double opticalGapMicrometres, double wavelengthMicrometres) {
        return gapDb(EFFECTIVE_GAP_RATIO * opticalGapMicrometres, wavelengthMicrometres);
    }

    /**
     * Wavelength of the first null of a gap: the gap length itself, so with the effective gap
     * {@value #EFFECTIVE_GAP_RATIO} times the optical one.
     *
     * @param opticalGapMicrometres optical gap length in um
     * @return wavelength in um
     */
    public static double firstGapNullMicrometres(double opticalGapMicrometres) {
        return EFFECTIVE_GAP_RATIO * Require.positive("opticalGapMicrometres", opticalGapMicrometres);
    }

    /**
     * Thickness loss, {@code -20 lg((1 - e^-x)/x)} with {@code x = 2 pi d/lambda}: 6 dB per octave at most (R. L.
     * Wallace, Bell System Technical Journal 30 (1951), p. 1145).
     *
     * @param thicknessMicrometres thickness d of the recorded layer in um
     * @param wavelengthMicrometres wavelength in um
     * @return loss in dB
     */
    public static double thicknessDb(double thicknessMicrometres, double wavelengthMicrometres) {
        Require.notNegative("thicknessMicrometres", thicknessMicrometres);
        Require.positive("wavelengthMicrometres", wavelengthMicrometres);
        double x = waves(thicknessMicrometres, wavelengthMicrometres);
        return x == 0 ? 0 : -20 * StrictMath.log10(-StrictMath.expm1(-x) / x);
    }

    /**
     * Azimuth loss, {@code -20 lg(sin(x)/x)} with {@code x = pi w tan(alpha)/lambda}.
     *
     * @param angleArcminutes azimuth error in minutes of arc, of either sign
     * @param trackWidthMillimetres track width w in mm
     * @param wavelengthMicrometres wavelength in um
     * @return loss in dB
     */
    public static double azimuthDb(double angleArcminutes, double trackWidthMillimetres, double wavelengthMicrometres) {
        Require.positive("trackWidthMillimetres", trackWidthMillimetres);
        Require.positive("wavelengthMicrometres", wavelengthMicrometres);
        double skew =
                trackWidthMillimetres * MICROMETRES_PER_MILLIMETRE * StrictMath.abs(tanOfArcminutes(angleArcminutes));
        return sincDb(StrictMath.PI * skew / wavelengthMicrometres);
    }

    /**
     * Azimuth error at which the azimuth loss has its first null, {@code w tan(alpha) = lambda}.
     *
     * @param trackWidthMillimetres track width in mm
     * @param wavelengthMicrometres wavelength in um
     * @return angle in minutes of arc
     */
    public static double firstAzimuthNullArcminutes(double trackWidthMillimetres, double wavelengthMicrometres) {
        return arcminutesOfTan(Require.positive("wavelengthMicrometres", wavelengthMicrometres)
                / (Require.positive("trackWidthMillimetres", trackWidthMillimetres) * MICROMETRES_PER_MILLIMETRE));
    }

    /**
     * Azimuth error that costs half the power, 3.01 dB.
     *
     * @param trackWidthMillimetres track width in mm
     * @param wavelengthMicrometres wavelength in um
     * @return angle in minutes of arc
     */
    public static double halfPowerAzimuthArcminutes(double trackWidthMillimetres, double wavelengthMicrometres) {
        return firstAzimuthNullArcminutes(
                trackWidthMillimetres, wavelengthMicrometres * HALF_POWER_SINC / StrictMath.PI);
    }

    static double tanOfArcminutes(double arcminutes) {
        return StrictMath.tan(StrictMath.toRadians(Require.inRange("angleArcminutes", arcminutes, -600, 600) / 60));
    }

    static double arcminutesOfTan(double tangent) {
        return 60 * StrictMath.toDegrees(StrictMath.atan(tangent));
    }

    private static double sincDb(double x) {
        return x == 0 ? 0 : -20 * StrictMath.log10(StrictMath.abs(StrictMath.sin(x) / x));
    }

    /** Length in radians of the wavelength. */
    private static double waves(double lengthMicrometres, double wavelengthMicrometres) {
        return 2 * StrictMath.PI * lengthMicrometres / wavelengthMicrometres;
    }

    private static double decibels(double nepers) {
        return 20 * StrictMath.log10(StrictMath.E) * nepers;
    }
}
