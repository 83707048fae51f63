/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.IntStream;
import org.apache.commons.math3.stat.descriptive.DescriptiveStatistics;
import org.junit.jupiter.api.Test;
import org.tapemetrology.signals.table.PublishedTables;
import org.tapemetrology.signals.table.WeightingRow;

class SineFlutterTruthTest {
    /** Statistics of a general-purpose library over one period of the weighted deviation. */
    @Test
    void readingsAreTheStatisticsOfTheDeviation() {
        WeightingRow row = PublishedTables.flutterWeighting().rows().get(5);
        SinusoidalDeviation deviation = new SinusoidalDeviation(0.8, 0.001, 0.3);
        SineFlutterTruth truth = SineFlutterTruth.of(deviation, row);
        double weighting = Math.pow(10, -6.0 / 20);
        var magnitudes = new DescriptiveStatistics();
        IntStream.range(0, 100_000)
                .forEach(i -> magnitudes.addValue(Math.abs(weighting * deviation.at(i * 1.25 / 100_000))));

        // 100 000 points of a period: the extreme and the percentile are found to 1e-8 of the peak or better.
        assertThat(truth.weightedQuasiPeak()).isCloseTo(magnitudes.getMax(), within(1e-8 * 0.001));
        assertThat(truth.weightedTwoSigma()).isCloseTo(magnitudes.getPercentile(95), within(1e-4 * 0.001));
        assertThat(truth.weightedRms()).isCloseTo(magnitudes.getQuadraticMean(), within(1e-8 * 0.001));
        // Average of the magnitude, scaled to the RMS of a sine: pi / (2 sqrt 2) times it.
        assertThat(truth.weightedRms())
                .isCloseTo(magnitudes.getMean() * Math.PI / (2 * Math.sqrt(2)), within(1e-8 * 0.001));
        assertThat(truth.unweightedRms()).isCloseTo(truth.weightedRms() / weighting, within(1e-15));
        assertThat(truth.unweightedPeak()).isEqualTo(0.001);
    }

    @Test
    void rowOfAnotherRateIsRefused() {
        WeightingRow row = PublishedTables.flutterWeighting().rows().get(5);

        assertThatThrownBy(() -> SineFlutterTruth.of(new SinusoidalDeviation(4, 0.001, 0), row))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("rate of the deviation is 4.0 Hz, allowed: that of the row, 0.8 Hz");
    }
}
