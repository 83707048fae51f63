/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import org.tapemetrology.signals.SinusoidalDeviation;
import org.tapemetrology.signals.table.WeightingRow;

/** A line of flutter at the rate of a row of the published weighting, so that its weighted size is published too. */
record Line(WeightingRow row, double peak, double phase) {
    double rateHz() {
        return row.exactHz();
    }

    SinusoidalDeviation deviation() {
        return new SinusoidalDeviation(rateHz(), peak, phase);
    }

    double weightedPeak() {
        return peak * row.ratio();
    }

    /** Peak within a band with Butterworth edges of an order, in closed form. */
    double peakWithin(int order, double fromHz, double toHz) {
        double low = StrictMath.pow(fromHz / rateHz(), 2.0 * order);
        double high = StrictMath.pow(rateHz() / toHz, 2.0 * order);
        return peak / Math.sqrt((1 + low) * (1 + high));
    }
}
