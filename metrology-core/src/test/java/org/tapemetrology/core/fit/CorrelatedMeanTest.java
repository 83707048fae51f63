/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Means of series that depend on their past, against processes known in closed form and small series by hand. */
class CorrelatedMeanTest {
    /**
     * Values that keep a share k of those before: the variance of the mean of n is (1 + k)/(1 - k)/n of theirs. Of 100 series the mean of the
     * estimates scatters by some 3 %; the truncated sum of correlations leaves some per cent out.
     */
    @ParameterizedTest
    @CsvSource({"0, 500", "0.5, 1000", "0.8, 5000", "0, 5000"})
    void theScatterOfTheMeanIsThatOfTheProcess(double keep, int values) {
        double squares = 0;
        double effective = 0;
        for (int trial = 0; trial < 100; trial++) {
            Random random = new Random(trial);
            CorrelatedMean mean = new CorrelatedMean();
            double state = random.nextGaussian();
            for (int i = 0; i < values; i++) {
                state = keep * state + Math.sqrt(1 - keep * keep) * random.nextGaussian();
                mean.add(2 + state);
            }
            CorrelatedMean.Scatter scatter = mean.scatter().orElseThrow();
            assertThat(mean.count()).isEqualTo(values);
            assertThat(Math.abs(mean.mean() - 2)).isLessThan(5 * scatter.standardUncertainty());
            squares += scatter.standardUncertainty() * scatter.standardUncertainty() / 100;
            effective += scatter.effectiveCount() / 100;
        }
        double factor = (1 + keep) / (1 - keep);
        assertThat(squares * values / factor).isCloseTo(1, within(0.15));
        assertThat(effective * factor / values).isCloseTo(1, within(0.2));
    }

    /** 1, 2, 3, 4 about 2.5 have autocovariances of 5, 1.25, -1.5, -2.25 quarters. */
    @Test
    void aSmallSeriesByHand() {
        CorrelatedMean mean = new CorrelatedMean();
        assertThat(mean.mean()).isZero();
        for (int i = 1; i <= 3; i++) {
            mean.add(i);
        }
        assertThat(mean.scatter()).isEmpty(); // fewer than four
        mean.add(4);
        assertThat(mean.mean()).isEqualTo(2.5);
        // Pairs: 6.25/4, then below 0. The sum is 2 x 6.25/4 - 5/4 = 7.5/4; the window 3 of 4: a quarter is left.
        CorrelatedMean.Scatter scatter = mean.scatter().orElseThrow();
        double total = 7.5 / 4 / 0.25;
        assertThat(scatter.standardUncertainty()).isCloseTo(Math.sqrt(total / 4), within(1e-12));
        assertThat(scatter.degreesOfFreedom()).isCloseTo(4 / 3.0, within(1e-12));
        assertThat(scatter.effectiveCount()).isCloseTo(5 / 3.0 / (total / 4), within(1e-12)); // variance 5/3
    }

    /** Values in turns gain nothing: no less than half of the variance of independent ones. */
    @Test
    void aRegularSwayGainsNothing() {
        CorrelatedMean mean = new CorrelatedMean();
        for (int i = 0; i < 100; i++) {
            mean.add(i % 2 == 0 ? 1 : -1);
        }
        CorrelatedMean.Scatter scatter = mean.scatter().orElseThrow();
        assertThat(scatter.standardUncertainty()).isCloseTo(Math.sqrt(0.5 / 100), within(0.02 * 0.07));
        mean.reset();
        assertThat(mean.count()).isZero();
        for (int i = 0; i < 10; i++) {
            mean.add(3);
        }
        assertThat(mean.scatter()).contains(new CorrelatedMean.Scatter(0, 9, 10));
    }

    /** Beyond 1024 values means of 2, 4, 8 are kept, in order, and the open one waits. */
    @Test
    void aLongSeriesIsKeptAsMeans() {
        BatchedSeries series = new BatchedSeries();
        for (int i = 0; i < 1023; i++) {
            series.add(i);
        }
        assertThat(series.size()).isEqualTo(1023);
        assertThat(series.batchLength()).isEqualTo(1);
        for (int i = 1023; i < 4099; i++) {
            series.add(i);
        }
        assertThat(series.batchLength()).isEqualTo(8); // twice halved at 4096 values of means of 4
        assertThat(series.size()).isEqualTo(512);
        for (int b = 0; b < 512; b++) {
            assertThat(series.get(b)).isEqualTo(8 * b + 3.5);
        }
        assertThat(series.meanOfBatches()).isEqualTo(2047.5);
        assertThat(series.moments().mean()).isCloseTo(2049, within(1e-9)); // with the three that wait
        series.reset();
        assertThat(series.size()).isZero();
        assertThat(series.batchLength()).isEqualTo(1);
        series.add(5);
        assertThat(series.get(0)).isEqualTo(5);
    }

    /** Weights of 1 and 3: the mean of 0 and 4 is 3, the variance 3 with n in the divisor and 6 with n - 1. */
    @Test
    void weightsCount() {
        RunningMoments moments = new RunningMoments();
        assertThat(moments.standardDeviation()).isZero();
        moments.add(0);
        assertThat(moments.standardDeviation()).isZero();
        moments.add(4, 3);
        assertThat(moments.mean()).isEqualTo(3);
        assertThat(moments.standardDeviation()).isCloseTo(Math.sqrt(6), within(1e-12));
        assertThat(moments.count()).isEqualTo(2);
        assertThatThrownBy(() -> moments.add(1, 0)).hasMessage("weight 0.0 is not above 0");
        assertThatThrownBy(() -> moments.add(1, Double.NaN)).hasMessageContaining("weight NaN");
        moments.reset();
        moments.add(7);
        assertThat(moments.mean()).isEqualTo(7);
        assertThat(moments.count()).isEqualTo(1);
    }
}
