/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import java.util.List;
import org.tapemetrology.core.detector.QuasiPeakConstants;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.Root;

/**
 * IEC 60386:1972 with Amendment 1:1988, "Method of measurement of speed fluctuations in sound recording and reproducing
 * equipment". AES6-2008 calls itself technically identical; JIS C 5569-1991 is a translation.
 *
 * <p>Read in the text: the 3150 Hz carrier (3.2), wow 0.1 Hz to 10 Hz and flutter above 10 Hz (2.1, 2.2), the two-sigma
 * period of at least 5 s (AES6-2008), 90 % for pulses of 60 ms and the fall to 40 %. From memory of the published
 * tables, because the text could not be had: the rows of the weighting table and the other pulse rows.
 *
 * <p>Not for a claim of conformity by the rows from memory: they are to be compared with the text first.
 */
public final class Iec60386Edition1972 {
    /** Name of the quasi-peak method, deprecated in AES6-2008 but named by most makers' limits. */
    public static final String QUASI_PEAK_METHOD = "IEC 60386:1972 method 2";

    /** Name of the preferred method. */
    public static final String TWO_SIGMA_METHOD = "IEC 60386:1972 Amd 1:1988 method 1 (AES6-2008)";

    /** Name of the unweighted supplement that the note of clause 4 of the amendment recommends. */
    public static final String UNWEIGHTED_METHOD = "IEC 60386:1972 Amd 1:1988 clause 4 note, 0.1 Hz to 200 Hz";

    /** Name of the division into wow and flutter. */
    public static final String BANDS_METHOD = "IEC 60386:1972 clause 2";

    /** Nominal carrier in Hz (clause 3.2). */
    public static final double CARRIER_HZ = 3150;

    /** Least measuring period of the two-sigma method in seconds (AES6-2008). */
    public static final double TWO_SIGMA_PERIOD_SECONDS = 5;

    /** Share of the time for which the two-sigma value is exceeded (from memory; 2 sigma would be 4.55 %). */
    public static final double TWO_SIGMA_EXCEEDED = 0.05;

    /** Lower edge of wow in Hz (clause 2.2). */
    public static final double WOW_FROM_HZ = 0.1;

    /** Edge between wow and flutter in Hz (clauses 2.1 and 2.2). */
    public static final double FLUTTER_FROM_HZ = 10;

    /** Upper edge of flutter in Hz, the last row of the weighting table. */
    public static final double FLUTTER_TO_HZ = 200;

    /**
     * A realisation of the quasi-peak detector, fitted to the pulse readings of the standard through the weighting
     * filter. The standard gives readings alone, so other constants would serve as well: a tenth more or less on any of
     * them moves a pulse reading by 3 points at most.
     */
    public static final QuasiPeakConstants QUASI_PEAK = new QuasiPeakConstants(0.0346, 0.880, 0.0844, 0.135, 0.125);

    private Iec60386Edition1972() {}

    /**
     * The weighting curve (Table I), 0 dB at 4 Hz: six poles and five zeros fitted to the 17 rows by least squares and
     * then minimax. It stays within 0.19 dB of every row; the rows are rounded and not quite smooth, and seven or eight
     * poles reach 0.18 dB.
     *
     * @return the analogue prototype
     */
    public static AnalogFilter weighting() {
        return new AnalogFilter(
                4,
                List.of(Root.real(0), Root.real(0), Root.real(0), Root.real(-4.9024), Root.real(-91.6101)),
                List.of(
                        Root.pair(-0.3066, 0.2939),
                        Root.real(-2.0549),
                        Root.real(-3.2472),
                        Root.real(-12.4342),
                        Root.real(-116.8960)));
    }
}
