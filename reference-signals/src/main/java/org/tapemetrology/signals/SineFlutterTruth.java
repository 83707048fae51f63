/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;
import org.tapemetrology.signals.table.WeightingRow;

/**
 * What the standard flutter readings of a sinusoidal speed deviation must be, in closed form; all are ratios. A meter
 * that realises the printed weighting within its tolerance deviates from the weighted ones by that.
 *
 * @param peak peak relative deviation, a ratio
 * @param weighting response of the weighting at the rate of the deviation, an amplitude ratio
 */
public record SineFlutterTruth(double peak, double weighting) {
    /**
     * Checks the values.
     *
     * @param peak 0 to 1
     * @param weighting finite and not below 0
     * @throws IllegalArgumentException if the peak is not in 0 to 1, or the weighting is not finite or below 0
     */
    public SineFlutterTruth {
        Require.within("peak relative deviation", peak, 0, 1);
        Require.notNegative("weighting as a ratio", weighting);
    }

    /**
     * The truth of a deviation whose rate is that of a row of the printed weighting.
     *
     * @param deviation the deviation
     * @param row row of IEC 60386, Table I
     * @return the truth
     */
    public static SineFlutterTruth of(SinusoidalDeviation deviation, WeightingRow row) {
        Require.that(
                deviation.rateHz() == row.exactHz(),
                "rate of the deviation is " + deviation.rateHz() + " Hz, allowed: that of the row, " + row.exactHz()
                        + " Hz");
        return new SineFlutterTruth(deviation.peak(), row.ratio());
    }

    /**
     * Weighted quasi-peak (IEC 60386): a steady sine reads its weighted peak.
     *
     * @return the reading
     */
    public double weightedQuasiPeak() {
        return peak * weighting;
    }

    /**
     * Two-sigma (IEC 60386 Amendment 1, AES6-2008): what the weighted magnitude exceeds for 5 % of the time. A sine
     * spends 5 % of the time above sin(0.95 &pi;/2) = 0.9969 of its peak.
     *
     * @return the reading
     */
    public double weightedTwoSigma() {
        return peak * weighting * StrictMath.sin(0.95 * Math.PI / 2);
    }

    /**
     * Weighted RMS; an average-responding meter scaled to the RMS of a sine reads the same.
     *
     * @return the reading
     */
    public double weightedRms() {
        return peak * weighting / Math.sqrt(2);
    }

    /**
     * Unweighted peak, within the flat band.
     *
     * @return the reading
     */
    public double unweightedPeak() {
        return peak;
    }

    /**
     * Unweighted RMS, within the flat band; an average-responding meter scaled to the RMS of a sine reads the same.
     *
     * @return the reading
     */
    public double unweightedRms() {
        return peak / Math.sqrt(2);
    }
}
