/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.distribution.TDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Coverage factors and degrees of freedom against JCGM 100:2008, table G.2 (computed) and G.4.2 (memory). */
class CoverageTest {
    private static final double[] PROBABILITIES = {0.6827, 0.90, 0.95, 0.9545, 0.99, 0.9973};

    /** The table is printed with two decimals from 1 degree of freedom on, its last column with fewer at the top. */
    @ParameterizedTest
    @CsvSource({
        "1, 1.84, 6.31, 12.71, 13.97, 63.66, 235.8",
        "2, 1.32, 2.92, 4.30, 4.53, 9.92, 19.21",
        "3, 1.20, 2.35, 3.18, 3.31, 5.84, 9.22",
        "4, 1.14, 2.13, 2.78, 2.87, 4.60, 6.62",
        "5, 1.11, 2.02, 2.57, 2.65, 4.03, 5.51",
        "6, 1.09, 1.94, 2.45, 2.52, 3.71, 4.90",
        "7, 1.08, 1.89, 2.36, 2.43, 3.50, 4.53",
        "8, 1.07, 1.86, 2.31, 2.37, 3.36, 4.28",
        "9, 1.06, 1.83, 2.26, 2.32, 3.25, 4.09",
        "10, 1.05, 1.81, 2.23, 2.28, 3.17, 3.96",
        "12, 1.04, 1.78, 2.18, 2.23, 3.05, 3.76",
        "15, 1.03, 1.75, 2.13, 2.18, 2.95, 3.59",
        "16, 1.03, 1.75, 2.12, 2.17, 2.92, 3.54",
        "20, 1.03, 1.72, 2.09, 2.13, 2.85, 3.42",
        "25, 1.02, 1.71, 2.06, 2.11, 2.79, 3.33",
        "30, 1.02, 1.70, 2.04, 2.09, 2.75, 3.27",
        "40, 1.01, 1.68, 2.02, 2.06, 2.70, 3.20",
        "50, 1.01, 1.68, 2.01, 2.05, 2.68, 3.16",
        "100, 1.01, 1.66, 1.98, 2.03, 2.63, 3.08",
        "Infinity, 1.00, 1.645, 1.960, 2.00, 2.576, 3.00",
    })
    void theTableOfStudentsTIsReproduced(
            double degreesOfFreedom, String p68, String p90, String p95, String p9545, String p99, String p9973) {
        String[] printed = {p68, p90, p95, p9545, p99, p9973};
        for (int i = 0; i < printed.length; i++) {
            // Half a unit of the last printed digit, and one per cent of it for a value that lies on the half.
            double unit = Math.pow(10, printed[i].indexOf('.') + 1 - printed[i].length());
            assertThat(Coverage.factor(PROBABILITIES[i], degreesOfFreedom))
                    .as("nu %s, p %s", degreesOfFreedom, PROBABILITIES[i])
                    .isCloseTo(Double.parseDouble(printed[i]), within(0.505 * unit));
        }
    }

    /** Against a general-purpose library: between whole numbers too. Its inversion is good to some 1e-9. */
    @ParameterizedTest
    @ValueSource(doubles = {0.7, 1, 1.000001, 1.5, 2.4, 7.3, 25.45, 480, 2e5})
    void everyNumberOfDegreesOfFreedomHasItsFactor(double degreesOfFreedom) {
        TDistribution reference = new TDistribution(null, degreesOfFreedom, 1e-12);
        for (double probability : new double[] {0.05, 0.5, 0.95, 0.999}) {
            double expected = reference.inverseCumulativeProbability((1 + probability) / 2);
            assertThat(Coverage.factor(probability, degreesOfFreedom))
                    .as("p %s", probability)
                    .isCloseTo(expected, within(1e-7 * expected));
        }
    }

    /** JCGM 100:2008, G.4.2: a doubt of a quarter gives 8, one of a tenth 50. */
    @Test
    void doubtGivesDegreesOfFreedom() {
        assertThat(Coverage.degreesOfFreedomOfDoubt(0.25)).isEqualTo(8);
        assertThat(Coverage.degreesOfFreedomOfDoubt(0.10)).isCloseTo(50, within(1e-12)); // rounding
        assertThat(Coverage.degreesOfFreedomOfDoubt(0)).isInfinite();
    }

    @Test
    void whatCannotBeIsRefused() {
        assertThatThrownBy(() -> Coverage.factor(1, 5)).hasMessageContaining("coverageProbability 1.0");
        assertThatThrownBy(() -> Coverage.factor(0.95, 0)).hasMessageContaining("degreesOfFreedom 0.0");
        assertThatThrownBy(() -> Coverage.factor(Double.NaN, 5)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> Coverage.degreesOfFreedomOfDoubt(-0.1)).hasMessageContaining("relativeDoubt -0.1");
    }

    /** The distribution function of t against a general-purpose library, and its ends. */
    @ParameterizedTest
    @ValueSource(doubles = {0.7, 1, 3, 25.45, 1e5})
    void probabilityBelowIsThatOfStudentsT(double degreesOfFreedom) {
        TDistribution reference = new TDistribution(null, degreesOfFreedom, 1e-12);
        for (double t : new double[] {-3, -0.1, 0, 0.7, 2.5}) {
            assertThat(Coverage.probabilityBelow(t, degreesOfFreedom))
                    .isCloseTo(reference.cumulativeProbability(t), within(1e-9)); // of its continued fraction
        }
        assertThat(Coverage.probabilityBelow(Double.NEGATIVE_INFINITY, degreesOfFreedom))
                .isZero();
        assertThat(Coverage.probabilityBelow(Double.POSITIVE_INFINITY, degreesOfFreedom))
                .isEqualTo(1);
        assertThat(Coverage.probabilityBelow(1, Double.POSITIVE_INFINITY)).isCloseTo(0.8413447461, within(1e-9));
    }

    @Test
    void distributionsHaveTheirWords() {
        assertThat(Distribution.ARCSINE.id()).isEqualTo("arcsine");
        assertThat(Distribution.values()).extracting(Distribution::id).doesNotHaveDuplicates();
        assertThatThrownBy(() -> Distribution.RECTANGULAR.standardUncertainty(-1))
                .hasMessageContaining("halfWidth -1.0");
    }

    /** A certificate states an expanded uncertainty and its factor; a limit known to one side has no known error. */
    @Test
    void statedValuesAreChecked() {
        StatedValue certified = StatedValue.certified(0.2, 0.1, 2, "certificate");
        assertThat(certified.halfWidth()).isEqualTo(0.05);
        assertThat(certified.assumed()).isFalse();
        assertThat(certified.asAssumed().assumed()).isTrue();
        assertThat(certified.most()).isEqualTo(0.2);
        assertThat(StatedValue.atMost(0.3, "data sheet").most()).isEqualTo(0.3);
        UncertaintyComponent component = certified.asAssumed().component("tape", -3, "dB");
        assertThat(component.contribution()).isCloseTo(0.15, within(1e-12)); // rounding
        assertThat(component.inputUnit()).isEqualTo("dB");
        assertThat(component.assumed()).isTrue();
        for (double factor : new double[] {0, Double.NaN}) {
            assertThatThrownBy(() -> StatedValue.certified(0, 1, factor, ""))
                    .hasMessageContaining("coverageFactor " + factor);
        }
        for (double halfWidth : new double[] {-1, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> StatedValue.within(halfWidth, "")).hasMessageContaining("halfWidth " + halfWidth);
        }
        assertThat(StatedValue.within(0, "").halfWidth()).isZero();
        assertThatThrownBy(() -> StatedValue.certified(Double.NaN, 1, 2, "")).hasMessageContaining("value NaN");
        assertThatThrownBy(() -> new StatedValue(1, Distribution.ONE_SIDED, 1, "", false))
                .hasMessageContaining("a known error of 1.0");
        assertThatThrownBy(() -> UncertaintyComponent.typeA(" ", 1, 5, "")).hasMessageContaining("no name");
    }
}
