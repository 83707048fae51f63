/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** Small series by hand, and a series that keeps part of its past. */
class BlockedMeanTest {
    @Test
    void eightValuesByHand() {
        BlockedMean mean = new BlockedMean();
        assertThat(mean.effectiveCount()).isZero();
        for (int i = 0; i < 7; i++) {
            mean.add(i % 2 == 0 ? 4 : 2, 0.5);
        }
        assertThat(mean.halfWidth()).isInfinite();
        mean.add(2, 0.5);
        assertThat(mean.mean()).isCloseTo(3, within(1e-12));
        assertThat(mean.effectiveCount()).isCloseTo(8, within(1e-12));
        // Deviation sqrt(8/7) of 8 values; Student's t of 7 degrees of freedom, 2.365 (tables), three decimals.
        assertThat(mean.halfWidth()).isCloseTo(2.365 * Math.sqrt(8.0 / 7 / 8), within(5e-4));
        // Pairs are all 3: at 16 values they scatter by nothing, and the single ones count still.
        for (int i = 0; i < 8; i++) {
            mean.add(i % 2 == 0 ? 4 : 2, 0.5);
        }
        assertThat(mean.halfWidth()).isCloseTo(2.131 * Math.sqrt(1.0 / 15), within(5e-4)); // t of 15
        mean.reset();
        assertThat(mean.effectiveCount()).isZero();
        assertThat(mean.halfWidth()).isInfinite();
        mean.add(5, 2);
        assertThat(mean.mean()).isEqualTo(5);
    }

    /** Weights 1 and 3 in turns: a mean of 0 and 4 of 3, as many values as 16/10 of a pair. */
    @Test
    void weightsCount() {
        BlockedMean mean = new BlockedMean();
        for (int i = 0; i < 8; i++) {
            mean.add(i % 2 == 0 ? 0 : 4, i % 2 == 0 ? 1 : 3);
        }
        assertThat(mean.mean()).isEqualTo(3);
        assertThat(mean.effectiveCount()).isCloseTo(16.0 * 16 / 40, within(1e-12));
        // Squared weights times squared offs, 9 + 9 x 1 a pair, over the sum of weights; t of 5.4 degrees is 2.51.
        double n = 6.4;
        double error = Math.sqrt(4 * 18 * n / (n - 1)) / 16;
        assertThat(mean.halfWidth()).isCloseTo(2.515 * error, within(0.01 * error));
    }

    /** Values that keep 0.9 of those before have a mean 19 times as uncertain, in variance, as independent ones: blocks see it. */
    @Test
    void dependenceIsSeenByBlocks() {
        int inside = 0;
        for (int trial = 0; trial < 200; trial++) {
            Random random = new Random(trial);
            BlockedMean mean = new BlockedMean();
            double state = random.nextGaussian();
            for (int i = 0; i < 4096; i++) {
                state = 0.9 * state + Math.sqrt(0.19) * random.nextGaussian();
                mean.add(1 + state, 1);
            }
            inside += Math.abs(mean.mean() - 1) <= mean.halfWidth() ? 1 : 0;
        }
        // The greatest of several errors is on the safe side: 190 are 95 %, 3 are their scatter.
        assertThat(inside).isBetween(184, 200);
    }
}
