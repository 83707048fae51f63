/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/**
 * The end gauge of JCGM 100:2008, H.1 (second-hand; digits beyond the printed ones computed from its inputs as printed):
 * {@code l = ls + d - ls (d_alpha theta + alpha_s d_theta)} in nm.
 */
class EndGaugeTest {
    private static final double STANDARD = 50_000_623;

    private static final UncertaintyComponent OBSERVATIONS =
            UncertaintyComponent.typeA("repeated observations", 5.8, 24, "H.1.3.2");
    private static final UncertaintyComponent RANDOM = UncertaintyComponent.typeB(
                    "comparator, random", Distribution.NORMAL, 3.9, "H.1.3.2")
            .withDegreesOfFreedom(5);
    private static final UncertaintyComponent SYSTEMATIC = UncertaintyComponent.typeB(
                    "comparator, systematic", Distribution.NORMAL, 6.7, "H.1.3.2")
            .withDegreesOfFreedom(8);

    private static Budget gauge() {
        double arcsine = Distribution.ARCSINE.standardUncertainty(0.5);
        return Budget.of(
                UncertaintyComponent.typeB("standard", Distribution.NORMAL, 75.0 / 3, "H.1.3.1")
                        .withDegreesOfFreedom(18),
                OBSERVATIONS,
                RANDOM,
                SYSTEMATIC,
                UncertaintyComponent.typeB("expansion", Distribution.RECTANGULAR, 2e-6, "H.1.3.3")
                        .withSensitivity(0, "1/K"),
                UncertaintyComponent.typeB("temperature", Distribution.NORMAL, Math.hypot(0.2, arcsine), "H.1.3.4")
                        .withSensitivity(0, "K"),
                UncertaintyComponent.typeB("difference in expansion", Distribution.RECTANGULAR, 1e-6, "H.1.3.5")
                        .withSensitivity(-STANDARD * -0.1, "1/K")
                        .withDegreesOfFreedom(50),
                UncertaintyComponent.typeB("difference in temperature", Distribution.RECTANGULAR, 0.05, "H.1.3.6")
                        .withSensitivity(-STANDARD * 11.5e-6, "K")
                        .withDegreesOfFreedom(2));
    }

    /** The digits of the source: tolerances are half a unit of the last one. */
    @Test
    void theBudgetIsReproduced() {
        Budget gauge = gauge();
        assertThat(gauge.component("difference in expansion").contribution()).isCloseTo(2.887, within(0.0005));
        assertThat(gauge.component("difference in temperature").contribution()).isCloseTo(16.599, within(0.0005));
        assertThat(gauge.combined()).isCloseTo(31.66, within(0.005));
        assertThat(gauge.effectiveDegreesOfFreedom()).isCloseTo(16.75, within(0.005));
        assertThat(gauge.dominant()).map(UncertaintyComponent::name).contains("standard");
        assertThat(gauge.components().stream().mapToDouble(gauge::share).sum()).isCloseTo(1, within(1e-12)); // rounding
    }

    @Test
    void theDifferenceAloneIsReproduced() {
        Budget difference = Budget.of(OBSERVATIONS, RANDOM, SYSTEMATIC);
        assertThat(difference.combined()).isCloseTo(9.682, within(0.0005));
        assertThat(difference.effectiveDegreesOfFreedom()).isCloseTo(25.45, within(0.005));
    }

    /** Published 93 nm from t of 2.92 and u rounded to 32 nm; unrounded it is 92.5 nm, to half a unit of that digit. */
    @Test
    void theExpandedUncertaintyAt99PerCentIsReproduced() {
        assertThat(gauge().expandedTruncated(0.99).halfWidth()).isCloseTo(92.5, within(0.05));
        // Not truncated: t(16.75) at 99 %, between the 2.92 and 2.90 of 16 and 17.
        assertThat(gauge().expanded(0.99).halfWidth()).isBetween(2.90 * 31.66, 2.92 * 31.66);
    }

    /** H.1.7: second-order terms of 11.7 nm and 1.7 nm make it 34 nm, 33.81 nm by the inputs: half a unit of that digit. */
    @Test
    void theTermsOfSecondOrderAreReproduced() {
        double temperature = Math.hypot(0.2, Distribution.ARCSINE.standardUncertainty(0.5));
        double u = LinearPropagation.secondOrder(
                x -> x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5]),
                new double[] {STANDARD, 215, 0, -0.1, 11.5e-6, 0},
                new double[] {
                    25,
                    Budget.of(OBSERVATIONS, RANDOM, SYSTEMATIC).combined(),
                    Distribution.RECTANGULAR.standardUncertainty(1e-6),
                    temperature,
                    Distribution.RECTANGULAR.standardUncertainty(2e-6),
                    Distribution.RECTANGULAR.standardUncertainty(0.05)
                });
        assertThat(u).isCloseTo(33.81, within(0.005));
    }

    /** Divisors of JCGM 100:2008, 4.3 (memory): the roots of 3, 6 and 2. */
    @Test
    void halfWidthsAreDividedByTheirRoots() {
        assertThat(Distribution.RECTANGULAR.standardUncertainty(3)).isCloseTo(Math.sqrt(3), within(1e-15)); // rounding
        assertThat(Distribution.TRIANGULAR.standardUncertainty(6)).isCloseTo(Math.sqrt(6), within(1e-15));
        assertThat(Distribution.ARCSINE.standardUncertainty(2)).isCloseTo(Math.sqrt(2), within(1e-15));
        assertThat(Distribution.NORMAL.standardUncertainty(2)).isEqualTo(2);
        assertThat(UncertaintyComponent.oneSided("noise", -3, "").contribution())
                .isCloseTo(Math.sqrt(3), within(1e-15));
    }
}
