/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.internal.Require;

/**
 * Losses of a replay head by wavelength, as amplitude ratios. Spacing and thickness loss after R. L. Wallace, Bell Syst.
 * Tech. J. 30 (1951) p. 1145 (reference from memory); gap loss with the effective gap of 1.11 times the optical one,
 * Eargle, Electroacoustical Reference Data, eq. 167.1 (verified). Immutable; may be shared between threads.
 *
 * @param spacingMicrometres distance between head and coating in um; grows with wear and dirt
 * @param gapMicrometres optical gap length in um; grows with wear
 * @param thicknessMicrometres recorded depth of the coating in um; 0 where the flux is given as the head sees it,
 *     which is how test tapes are specified
 */
public record ReplayLosses(double spacingMicrometres, double gapMicrometres, double thicknessMicrometres) {
    /** A head without losses. */
    public static final ReplayLosses NONE = new ReplayLosses(0, 0, 0);

    private static final double EFFECTIVE_GAP = 1.11;

    /**
     * Checks the values.
     *
     * @param spacingMicrometres finite and not below 0
     * @param gapMicrometres finite and not below 0
     * @param thicknessMicrometres finite and not below 0
     * @throws IllegalArgumentException if a length is not finite or below 0
     */
    public ReplayLosses {
        Require.notNegative("spacing in micrometres", spacingMicrometres);
        Require.notNegative("gap in micrometres", gapMicrometres);
        Require.notNegative("thickness in micrometres", thicknessMicrometres);
    }

    /**
     * All three losses.
     *
     * @param wavelengthMicrometres wavelength on the tape, infinite for the steady state
     * @return e^(-2&pi;d/&lambda;) &times; sin(x)/x &times; (1 - e^(-k))/k with x = 1.11&pi;g/&lambda; and k =
     *     2&pi;&delta;/&lambda;; negative beyond the first gap null
     */
    public double ratioAt(double wavelengthMicrometres) {
        double waveNumber = 2 * Math.PI / wavelengthMicrometres;
        double depth = waveNumber * thicknessMicrometres;
        double thickness = depth == 0 ? 1 : -StrictMath.expm1(-depth) / depth;
        return StrictMath.exp(-waveNumber * spacingMicrometres)
                * sinc(waveNumber * EFFECTIVE_GAP * gapMicrometres / 2)
                * thickness;
    }

    /**
     * All three losses as a level difference.
     *
     * @param wavelengthMicrometres wavelength on the tape
     * @return the level difference in dB, 0 or below
     */
    public double decibelsAt(double wavelengthMicrometres) {
        return Decibels.ofRatio(Math.abs(ratioAt(wavelengthMicrometres)));
    }

    /**
     * Loss of a head that stands askew to the recording: sin(x)/x with x = &pi; w tan(&alpha;)/&lambda; (usual form,
     * from memory).
     *
     * @param trackWidthMm width of the track in mm
     * @param arcmin angle between recording and head
     * @param wavelengthMicrometres wavelength on the tape
     * @return the amplitude ratio, negative between the first and the second null
     */
    public static double azimuthRatio(double trackWidthMm, double arcmin, double wavelengthMicrometres) {
        return sinc(
                Math.PI * 1000 * trackWidthMm * StrictMath.tan(TrackLayout.radians(arcmin)) / wavelengthMicrometres);
    }

    private static double sinc(double x) {
        return x == 0 ? 1 : StrictMath.sin(x) / x;
    }
}
