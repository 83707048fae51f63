/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** Mean and range of deviations of which the distribution is known. */
class DelayStatisticsTest {
    /** From its 2.5th to its 97.5th percentile a normal distribution is 3.92 deviations wide (tables). */
    private static final double NORMAL = 3.92;

    private static DelayStatistics normal(double deviation, double scatter, double predicted) {
        DelayStatistics statistics = new DelayStatistics();
        Random random = new Random(6);
        for (int i = 0; i < 20_000; i++) {
            statistics.add(1e-6 + deviation * random.nextGaussian(), scatter, predicted, 2);
        }
        return statistics;
    }

    /** 20 000 values scatter a percentile of 2.5 % by 2.6 % of the deviation, the range by 1 %. */
    @Test
    void theRangeIsFreedOfItsNoise() {
        DelayStatistics plain = normal(1e-6, 0, 0);
        assertThat(plain.range()).isCloseTo(NORMAL * 1e-6, within(0.04 * NORMAL * 1e-6));
        assertThat(plain.mean()).isCloseTo(1e-6, within(3e-8)); // four of 0.7e-8
        assertThat(plain.effectiveCount()).isCloseTo(20_000, within(1e-6));
        assertThat(plain.halfWidth()).isBetween(1.3e-8, 3e-8); // 1.96/sqrt(20 000), the greatest of several
        // Of a variance of 1 of which noise makes 0.36, 0.64 is left: 0.8 of the range.
        DelayStatistics noisy = normal(1e-6, 0.36e-12, 0);
        assertThat(noisy.range()).isCloseTo(0.8 * NORMAL * 1e-6, within(0.05 * NORMAL * 1e-6));
        assertThat(normal(1e-6, 1.5e-12, 0).range()).isZero();
        // A constant is as wide as the bins are: 0.01 us at most.
        assertThat(normal(0, 0, 0).range()).isBetween(0.0, 1.001e-8);
        plain.reset();
        assertThat(plain.effectiveCount()).isZero();
        plain.add(3e-6, 0, 0, 1);
        assertThat(plain.mean()).isEqualTo(3e-6);
    }

    /** Beyond 100 us either way a deviation stands at the end of the scale. */
    @Test
    void theScaleEnds() {
        DelayStatistics statistics = new DelayStatistics();
        statistics.add(-1, 0, 0, 1);
        statistics.add(1, 0, 0, 1);
        assertThat(statistics.range()).isCloseTo(200e-6, within(0.02e-6));
    }

    /** Noise that others do not have widens a range by a tenth where its variance is 0.174 of the whole: 1 - 1/1.21. */
    @Test
    void moreNoiseThanOthersHaveWidens() {
        DelayStatistics others = normal(1e-6, 0, 0.1e-12);
        // The range as it was drawn is known to 1 %.
        assertThat(normal(1e-6, 0, 0.29e-12).isWidenedBeside(others)).isTrue();
        assertThat(normal(1e-6, 0, 0.26e-12).isWidenedBeside(others)).isFalse();
        assertThat(others.isWidenedBeside(others)).isFalse();
    }
}
