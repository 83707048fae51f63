/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class StandardUncertaintyTest {
    /** The example of JCGM 100:2008, G.4.1 (from memory): 0.25 %, 0.57 %, 0.82 % with 9, 4, 14 degrees of freedom give 1.03 % with 19.0. */
    @Test
    void independentFiguresCombineAsInTheGuide() {
        StandardUncertainty combined = new StandardUncertainty(0.25, 9)
                .and(new StandardUncertainty(0.57, 4))
                .and(new StandardUncertainty(0.82, 14));
        // Half a unit of the last digit that the guide prints.
        assertThat(combined.value()).isCloseTo(1.03, within(0.005));
        assertThat(combined.degreesOfFreedom()).isCloseTo(19.0, within(0.05));
        StandardUncertainty exact = StandardUncertainty.of(3).and(StandardUncertainty.of(4));
        assertThat(exact.value()).isEqualTo(5);
        assertThat(exact.degreesOfFreedom()).isInfinite();
    }

    /** Table G.2 of JCGM 100:2008 at 95 %: 2.26 with 9 degrees of freedom, 12.71 with 1, 1.960 with infinitely many. */
    @Test
    void expandedByStudentsFactor() {
        ExpandedUncertainty expanded = new StandardUncertainty(2, 9).expanded();
        assertThat(expanded.halfWidth()).isCloseTo(2 * 2.26, within(0.01)); // half a unit of the last digit, twice
        assertThat(expanded.coverageProbability()).isEqualTo(0.95);
        assertThat(expanded.assumed()).isFalse();
        assertThat(new StandardUncertainty(1, 1).expanded().halfWidth()).isCloseTo(12.71, within(0.005));
        assertThat(StandardUncertainty.of(1).expanded().halfWidth()).isCloseTo(1.960, within(0.0005));
        // At 2000 and beyond, t differs from the normal distribution by less than 0.1 %: by (1 + 1.96^2)/4/2000.
        assertThat(new StandardUncertainty(1, 2000).expanded().halfWidth()).isCloseTo(1.96115, within(5e-6));
        assertThat(new StandardUncertainty(1, 2001).expanded().halfWidth()).isCloseTo(1.95996, within(5e-6));
    }

    @Test
    void aHalfWidthOfANormalDistributionComesBack() {
        assertThat(StandardUncertainty.ofHalfWidth(3).expanded().halfWidth()).isCloseTo(3, within(1e-12)); // rounding
        assertThat(StandardUncertainty.ofHalfWidth(1.959964).value()).isCloseTo(1, within(1e-6));
        assertThat(StandardUncertainty.ofHalfWidth(3).degreesOfFreedom()).isInfinite();
    }

    @Test
    void aFactorHasNoSign() {
        StandardUncertainty scatter = new StandardUncertainty(2, 7);
        assertThat(scatter.times(-3)).isEqualTo(new StandardUncertainty(6, 7));
        assertThat(scatter.times(0)).isEqualTo(new StandardUncertainty(0, 7));
        // What is not there adds neither uncertainty nor doubt.
        assertThat(scatter.and(new StandardUncertainty(0, 1)).degreesOfFreedom())
                .isCloseTo(7, within(1e-12));
    }

    @Test
    void whatCannotBeIsRefused() {
        for (double value : new double[] {-1e-9, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> StandardUncertainty.of(value))
                    .hasMessage("standard uncertainty " + value + " is not in [0, infinity)");
            assertThatThrownBy(() -> new ExpandedUncertainty(value, 0.95))
                    .hasMessage("halfWidth " + value + " is not in [0, infinity)");
        }
        for (double degrees : new double[] {0, -1, Double.NaN}) {
            assertThatThrownBy(() -> new StandardUncertainty(1, degrees))
                    .hasMessage("degreesOfFreedom " + degrees + " is not above 0");
        }
        for (double probability : new double[] {0, 1, Double.NaN}) {
            assertThatThrownBy(() -> new ExpandedUncertainty(1, probability))
                    .hasMessage("coverageProbability " + probability + " is not in (0, 1)");
        }
        assertThat(new ExpandedUncertainty(0, 0.5).halfWidth()).isZero();
    }
}
