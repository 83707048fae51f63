/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import org.tapemetrology.core.detector.Statistics;

/** Statistics of a path that leave out its settling time. */
final class SettledStatistics {
    private final double rateHz;
    private final long settlingSamples;
    private final Statistics statistics = new Statistics();
    private long unsettled;

    SettledStatistics(double rateHz, double settlingSeconds) {
        this.rateHz = rateHz;
        this.settlingSamples = Math.round(settlingSeconds * rateHz);
        this.unsettled = settlingSamples;
    }

    void process(double[] samples, int offset, int length) {
        int skipped = (int) Math.min(unsettled, length);
        unsettled -= skipped;
        statistics.process(samples, offset + skipped, length - skipped);
    }

    void reset() {
        unsettled = settlingSamples;
        statistics.reset();
    }

    Statistics statistics() {
        return statistics;
    }

    double seconds() {
        return statistics.count() / rateHz;
    }

    /** When the highest sample came, from the start of the path. */
    double secondsOfMaximum() {
        return (settlingSamples + statistics.maximumAt()) / rateHz;
    }
}
