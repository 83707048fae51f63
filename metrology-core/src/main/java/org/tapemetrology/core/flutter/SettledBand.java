/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import org.tapemetrology.core.detector.BlockStatistic;
import org.tapemetrology.core.filter.SecondOrderSections;

/** A band of the deviation and a statistic of it from the moment that its filter has settled. */
final class SettledBand<S extends BlockStatistic> {
    private final SecondOrderSections filter;
    private final Settling settling;
    private final S statistic;
    private double[] filtered = new double[0];

    SettledBand(SecondOrderSections filter, Settling settling, S statistic) {
        this.filter = filter;
        this.settling = settling;
        this.statistic = statistic;
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
        statistic.add(filtered, skipped, length - skipped);
    }

    S statistic() {
        return statistic;
    }

    /** Time over which the band was measured. */
    double seconds() {
        return statistic.count() / filter.sampleRateHz();
    }
}
