/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import org.tapemetrology.core.detector.MeanPower;
import org.tapemetrology.core.filter.SecondOrderSections;

/** A band of the deviation and its RMS and average value from the moment that its filter has settled. */
final class HalfRateBand {
    private final SecondOrderSections filter;
    private final Settling settling;
    private final MeanPower power = new MeanPower();
    private double[] filtered = new double[0];

    HalfRateBand(SecondOrderSections filter, Settling settling) {
        this.filter = filter;
        this.settling = settling;
    }

    void presetTo(double constant) {
        filter.presetTo(constant);
    }

    void accept(double[] deviationHz, int length, boolean bridged) {
        if (filtered.length < length) {
            filtered = new double[length];
        }
        filter.process(deviationHz, 0, filtered, 0, length);
        int skipped = settling.leaveOut(length, bridged);
        power.add(filtered, skipped, length - skipped);
    }

    MeanPower power() {
        return power;
    }

    /** Time over which the band was measured. */
    double seconds() {
        return power.count() / filter.sampleRateHz();
    }
}
