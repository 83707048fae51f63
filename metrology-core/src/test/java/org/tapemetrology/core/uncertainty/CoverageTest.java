/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

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

    /** Between whole numbers too: {@code scipy.stats.t.ppf} of SciPy 1.17.1, twelve digits. The search ends at 1e-9. */
    @ParameterizedTest
    @CsvSource({
        "0.7, 0.0850983909918, 1.20033074346, 36.6114150316, 9790.11752312",
        "1, 0.0787017068246, 1, 12.7062047362, 636.619248769",
        "1.000001, 0.0787016914799, 0.999999584035, 12.7061747102, 636.615261616",
        "1.5, 0.0734807476373, 0.872594662542, 6.01666310443, 82.8474467037",
        "2.4, 0.0694457753458, 0.790151488818, 3.68350428968, 19.9823597585",
        "7.3, 0.0648939070196, 0.709573020457, 2.34506673655, 5.28321175894",
        "25.45, 0.0633281199794, 0.68425200861, 2.05769361784, 3.71660472465",
        "480, 0.0627395748079, 0.675001209586, 1.96491848984, 3.31091091054",
        "2e5, 0.062706856635, 0.674490976873, 1.95997584597, 3.2905753808",
    })
    void everyNumberOfDegreesOfFreedomHasItsFactor(
            double degreesOfFreedom, double p05, double p50, double p95, double p999) {
        assertThat(Coverage.factor(0.05, degreesOfFreedom)).isCloseTo(p05, within(1e-8));
        assertThat(Coverage.factor(0.5, degreesOfFreedom)).isCloseTo(p50, within(1e-8));
        assertThat(Coverage.factor(0.95, degreesOfFreedom)).isCloseTo(p95, within(1e-8 * p95));
        assertThat(Coverage.factor(0.999, degreesOfFreedom)).isCloseTo(p999, within(1e-7 * p999)); // flat out there
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
        assertThatThrownBy(() -> Coverage.factor(0, 5)).hasMessageContaining("coverageProbability 0.0");
        assertThatThrownBy(() -> Coverage.factor(1, 5)).hasMessageContaining("coverageProbability 1.0");
        assertThatThrownBy(() -> Coverage.factor(0.95, 0)).hasMessageContaining("degreesOfFreedom 0.0");
        assertThatThrownBy(() -> Coverage.factor(Double.NaN, 5)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> Coverage.degreesOfFreedomOfDoubt(-0.1)).hasMessageContaining("relativeDoubt -0.1");
    }

    /** {@code scipy.stats.t.cdf} of SciPy 1.17.1, and the ends. */
    @ParameterizedTest
    @CsvSource({
        "0.7, 0.141685669651, 0.470654691576, 0.676240153403, 0.840147818659",
        "1, 0.10241638235, 0.468274482569, 0.694400112214, 0.878881058409",
        "3, 0.0288344428112, 0.4633261744, 0.732836500848, 0.956146676496",
        "25.45, 0.0029838677681, 0.460563955148, 0.754861426207, 0.990394185401",
        "1e5, 0.00135023044203, 0.460172262953, 0.758035533576, 0.993789540404",
    })
    void probabilityBelowIsThatOfStudentsT(double degreesOfFreedom, double a, double b, double c, double d) {
        double[] expected = {a, b, 0.5, c, d};
        double[] at = {-3, -0.1, 0, 0.7, 2.5};
        for (int i = 0; i < at.length; i++) {
            assertThat(Coverage.probabilityBelow(at[i], degreesOfFreedom))
                    .isCloseTo(expected[i], within(1e-9)); // of a continued fraction
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
        assertThat(Evaluation.TYPE_A.id()).isEqualTo("A");
        assertThat(Evaluation.TYPE_B.id()).isEqualTo("B");
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
