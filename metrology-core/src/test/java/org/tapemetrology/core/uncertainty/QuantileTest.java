/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** Quantiles of functions whose inverse is known; how often the search looks at them is what it costs. */
class QuantileTest {
    private int looks;

    /** An exponential distribution of magnitudes with mean 1: the quantile is {@code -ln(1 - p)}. */
    private double exponential(double probability, double scale) {
        looks = 0;
        return Quantile.solve(probability, scale, x -> {
            looks++;
            return 1 - Math.exp(-x);
        });
    }

    /** The search ends at 1e-9 of the scale. */
    @Test
    void theScaleDoesNotMatter() {
        for (double scale : new double[] {1e-3, 0.2, 1, 3, 1e3}) {
            assertThat(exponential(0.95, scale)).isCloseTo(-Math.log(0.05), within(1e-9 * Math.max(3, scale)));
            assertThat(exponential(0.3, scale)).isCloseTo(-Math.log(0.7), within(1e-9 * Math.max(1, scale)));
        }
        assertThat(exponential(1 - 1e-9, 1))
                .isCloseTo(-Math.log(1e-9), within(3e-6)); // of 1 - 1e-9 itself 1e-7 is rounding
    }

    /** Between 0.9 and 2.1 scales ten looks; each doubling beyond takes two more. A budget at 95 % is of that kind. */
    @Test
    void aQuantileNearTheScaleTakesFewLooks() {
        assertThat(exponential(0.8, 1)).isCloseTo(-Math.log(0.2), within(2e-9));
        assertThat(looks).isLessThan(12);
        assertThat(exponential(0.95, 1)).isCloseTo(-Math.log(0.05), within(3e-9));
        assertThat(looks).isLessThan(15);
    }

    /** A step has no slope: it is found all the same, a sum of constants alone having no other form. */
    @Test
    void aStepIsFound() {
        looks = 0;
        double found = Quantile.solve(0.5, 1, x -> {
            looks++;
            return x >= 5.3 ? 1 : 0;
        });
        assertThat(found).isCloseTo(5.3, within(1e-8));
        assertThat(looks).isLessThan(100);
    }
}
