/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class FullScaleRunTest {
    private static boolean last(double... samples) {
        FullScaleRun run = new FullScaleRun();
        boolean overload = false;
        for (double sample : samples) {
            overload = run.overloads(sample);
        }
        return overload;
    }

    @Test
    void theThirdSampleInARowOverloads() {
        assertThat(last(1, -1)).isFalse();
        assertThat(last(1, -1, 1)).isTrue(); // either way round
        assertThat(last(1, -1, 1, -1)).isTrue();
        assertThat(last(1, 1, 0.9, 1, 1)).isFalse();
        assertThat(last(1, 1, Double.NaN, 1)).isFalse();
        assertThat(last(2, Double.POSITIVE_INFINITY, 1)).isTrue();
    }

    /** The largest positive values of 16 bits are full scale, and the next but two is below. */
    @Test
    void theLargestSampleOf16BitsStandsThere() {
        double largest = 32_767 / 32_768.0;
        assertThat(last(largest, largest, largest)).isTrue();
        double below = 32_765 / 32_768.0;
        assertThat(last(1, 1, below)).isFalse();
    }

    @Test
    void aResetEndsTheRun() {
        FullScaleRun run = new FullScaleRun();
        run.overloads(1);
        run.overloads(1);
        run.reset();
        assertThat(run.overloads(1)).isFalse();
    }
}
