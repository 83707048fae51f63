/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** The solver of quantiles on functions whose inverse is known; how often it looks at them is what it costs. */
class QuantileTest {
    private int looks;

    /** An exponential distribution of magnitudes: the quantile is {@code -ln(1 - p)}. */
    private double exponential(double probability, double start) {
        looks = 0;
        return Quantile.solve(probability, start, (x, into) -> {
            looks++;
            into.probability = 1 - Math.exp(-x);
            into.density = Math.exp(-x);
        });
    }

    /** Newton's steps from below double the digits: 3 to 5e-5 in a few, and the last step is good to the square of that. */
    @Test
    void aSmoothQuantileTakesAFewSteps() {
        assertThat(exponential(0.95, 1)).isCloseTo(-Math.log(0.05), within(1e-9));
        assertThat(looks).isBetween(5, 7);
        assertThat(exponential(0.3, 1)).isCloseTo(-Math.log(0.7), within(1e-9));
        assertThat(looks).isBetween(3, 5);
        assertThat(exponential(0.95, 20)).isCloseTo(-Math.log(0.05), within(1e-9));
        assertThat(looks).isLessThan(15); // from where it is flat, by halves first
    }

    /** A step has no slope: halves to a part in 1e12, some forty. */
    @Test
    void aStepIsFoundByHalves() {
        looks = 0;
        double found = Quantile.solve(0.5, 1, (x, into) -> {
            looks++;
            into.probability = x >= 5.3 ? 1 : 0;
            into.density = 0;
        });
        assertThat(found).isCloseTo(5.3, within(1e-11));
        assertThat(looks).isBetween(40, 50);
    }
}
