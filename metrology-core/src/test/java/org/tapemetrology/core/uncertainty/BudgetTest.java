/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.uncertainty.Distribution.ARCSINE;
import static org.tapemetrology.core.uncertainty.Distribution.NORMAL;
import static org.tapemetrology.core.uncertainty.Distribution.ONE_SIDED;
import static org.tapemetrology.core.uncertainty.Distribution.RECTANGULAR;
import static org.tapemetrology.core.uncertainty.Distribution.TRIANGULAR;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.DoubleStream;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.RealDistribution;
import org.apache.commons.math3.distribution.TDistribution;
import org.apache.commons.math3.special.BesselJ;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Budgets: closed cases, and the Monte Carlo method of JCGM 101:2008 as the reference of the analytic interval. */
class BudgetTest {
    private static final double INFINITE = Double.POSITIVE_INFINITY;
    private static final double[][] BOUNDED = {{1}, {1, 0.2}, {1, 0.7, 0.3}, {1, 1, 1}};

    private static Budget budget(double typeA, double degreesOfFreedom, Distribution distribution, double... others) {
        List<UncertaintyComponent> components = new ArrayList<>();
        components.add(UncertaintyComponent.typeA("scatter", typeA, degreesOfFreedom, "test"));
        for (int i = 0; i < others.length; i++) {
            components.add(UncertaintyComponent.typeB(
                    "bounded " + i, distribution, others[i] * distribution.divisor(), "test"));
        }
        return Budget.of(components);
    }

    private static double halfWidth(Budget budget) {
        return budget.expanded(0.95).halfWidth();
    }

    /** Closed forms; the sinusoid alone is smoothed by a hundredth of its amplitude, which is its tolerance. */
    @Test
    void oneDistributionAloneHasItsOwnInterval() {
        assertThat(halfWidth(budget(0, INFINITE, RECTANGULAR, 1))).isCloseTo(0.95 * Math.sqrt(3), within(1e-9));
        assertThat(halfWidth(budget(0, INFINITE, TRIANGULAR, 1)))
                .isCloseTo(Math.sqrt(6) * (1 - Math.sqrt(0.05)), within(1e-9));
        assertThat(halfWidth(budget(0, INFINITE, ARCSINE, 1)))
                .isCloseTo(Math.sqrt(2) * Math.sin(0.95 * Math.PI / 2), within(0.01 * Math.sqrt(2)));
        assertThat(halfWidth(budget(0, INFINITE, ONE_SIDED, 1))).isCloseTo(0.95 * Math.sqrt(3), within(1e-9));
        assertThat(halfWidth(budget(0, INFINITE, NORMAL, 1))).isCloseTo(1.959964, within(1e-6));
        assertThat(halfWidth(budget(1, 7, NORMAL))).isCloseTo(Coverage.factor(0.95, 7), within(1e-9));
    }

    /**
     * 100 000 trials scatter the half-width by some 0.5 %; from 10 degrees of freedom on the formula of Welch and
     * Satterthwaite differs from the sum of t distributions by up to 2 %. Together 2.5 %.
     */
    @Tag("slow")
    @ParameterizedTest
    @EnumSource(names = {"RECTANGULAR", "TRIANGULAR", "ARCSINE", "ONE_SIDED"})
    void theIntervalIsThatOfMonteCarlo(Distribution distribution) {
        for (double typeA : new double[] {0.3, 1.5}) {
            for (double degreesOfFreedom : new double[] {10, INFINITE}) {
                for (double[] others : BOUNDED) {
                    Budget budget = budget(typeA, degreesOfFreedom, distribution, others);
                    double drawn =
                            MonteCarlo.fixed(5, 200_000).expanded(budget, 0.95).halfWidth();
                    assertThat(halfWidth(budget))
                            .as("u %s, nu %s, %s others", typeA, degreesOfFreedom, others.length)
                            .isCloseTo(drawn, within(0.025 * drawn));
                }
            }
        }
    }

    /** A scatter that is lost in the rounding of the rest leaves the interval of the rest, however few observations tell it. */
    @ParameterizedTest
    @EnumSource(names = {"RECTANGULAR", "TRIANGULAR", "ARCSINE", "ONE_SIDED"})
    void aScatterTooSmallToSeeChangesNothing(Distribution distribution) {
        double alone = halfWidth(budget(0, INFINITE, distribution, 1));
        for (double typeA : new double[] {1e-15, 1e-12, 1e-9, 1e-7, 1e-5}) {
            for (double degreesOfFreedom : new double[] {1, 2, 8, INFINITE}) {
                // A sinusoid is smoothed by a hundredth of itself, with the tails of the scatter.
                assertThat(halfWidth(budget(typeA, degreesOfFreedom, distribution, 1)))
                        .as("u %s, nu %s", typeA, degreesOfFreedom)
                        .isCloseTo(alone, within(0.01 * alone));
            }
        }
    }

    /** Negative control: 1.96 of the combined uncertainty would be far outside of that tolerance. */
    @Tag("slow")
    @Test
    void theFactorOfANormalDistributionWouldBeTooWide() {
        Budget budget = budget(0.1, INFINITE, RECTANGULAR, 1);
        double drawn = MonteCarlo.fixed(5, 200_000).expanded(budget, 0.95).halfWidth();
        assertThat(1.96 * budget.combined()).isGreaterThan(1.1 * drawn);
    }

    /**
     * What the interval is for: with the scatter known from few observations only, and itself random with them, it holds the
     * error in 95 % of cases. 40 000 cases scatter by 0.11 %, which is negligible beside the 1.5 % allowed: with few
     * degrees of freedom, t beside a rectangle is known to be on the safe side, up to 96.2 %.
     */
    @Tag("slow")
    @ParameterizedTest
    @ValueSource(doubles = {3, 5, 10})
    void theIntervalHoldsTheErrorThoughTheScatterIsHardlyKnown(double degreesOfFreedom) {
        SplittableRandom random = new SplittableRandom(11);
        ChiSquaredDistribution chi = new ChiSquaredDistribution(null, degreesOfFreedom);
        double[] spread = new double[400];
        for (int i = 0; i < spread.length; i++) {
            spread[i] = Math.sqrt(chi.inverseCumulativeProbability((i + 0.5) / spread.length) / degreesOfFreedom);
        }
        for (double typeA : new double[] {0.3, 1, 3}) {
            for (double[] others : BOUNDED) {
                int held = 0;
                for (double s : spread) {
                    double reach = halfWidth(budget(typeA * s, degreesOfFreedom, RECTANGULAR, others));
                    for (int i = 0; i < 100; i++) {
                        double error = NORMAL.sample(random, typeA);
                        for (double other : others) {
                            error += RECTANGULAR.sample(random, other);
                        }
                        held += Math.abs(error) <= reach ? 1 : 0;
                    }
                }
                assertThat(held / 40_000.0)
                        .as("u %s, %s others", typeA, others.length)
                        .isBetween(0.94, 0.965);
            }
        }
    }

    /** Two effects of one direction add their means, two of opposite direction take them away; 0.4 % scatter, 2 % rule. */
    @Test
    void oneSidedEffectsKeepTheirDirection() {
        UncertaintyComponent noise = UncertaintyComponent.oneSided("noise", 1, "test");
        UncertaintyComponent tape = UncertaintyComponent.oneSided("tape", 0.8, "test");
        UncertaintyComponent loss = UncertaintyComponent.oneSided("loss", -0.8, "test");
        for (Budget budget : List.of(Budget.of(noise, tape), Budget.of(noise, loss))) {
            MonteCarloResult drawn = MonteCarlo.fixed(3, 200_000).of(budget, 0.95);
            assertThat(halfWidth(budget))
                    .isCloseTo(
                            MonteCarlo.fixed(3, 200_000).expanded(budget, 0.95).halfWidth(), within(0.025));
            // Root mean square about the reading; 200 000 trials scatter it by 0.2 %.
            assertThat(budget.combined())
                    .isCloseTo(Math.hypot(drawn.mean(), drawn.standardUncertainty()), within(0.01 * budget.combined()));
        }
        assertThat(Budget.of(noise, tape).combined())
                .isGreaterThan(Budget.of(noise, loss).combined());
        // The reading is too high by up to 1: the true value lies below it.
        assertThat(Budget.of(noise).probabilityBetween(-1, 0)).isEqualTo(1);
        assertThat(Budget.of(noise).probabilityBetween(-0.25, 3)).isCloseTo(0.25, within(1e-12)); // rounding
    }

    /** An effect without reach is none, of either side. */
    @Test
    void anEffectWithoutReachIsNone() {
        UncertaintyComponent none = UncertaintyComponent.oneSided("none", 0, "test");
        assertThat(none.sensitivity()).isEqualTo(1);
        assertThat(halfWidth(Budget.of(none))).isZero();
    }

    @Test
    void correlatedComponentsAddTheirCovariance() {
        Budget independent = Budget.of(
                UncertaintyComponent.typeA("a", 3, 8, "test"),
                UncertaintyComponent.typeA("b", 4, 20, "test").withSensitivity(-1));
        assertThat(independent.combined()).isEqualTo(5);
        Budget cancelling = independent.withCorrelation("a", "b", 1);
        assertThat(cancelling.combined()).isCloseTo(1, within(1e-12)); // rounding
        assertThat(cancelling.effectiveDegreesOfFreedom()).isCloseTo(8, within(1e-9));
        assertThat(independent.withCorrelation("b", "a", -1).combined()).isEqualTo(7);
        assertThat(cancelling.withCorrelation("a", "b", 0.5).combined()).isCloseTo(Math.sqrt(13), within(1e-12));
        assertThat(cancelling.components().stream()
                        .mapToDouble(cancelling::share)
                        .sum())
                .isCloseTo(1, within(1e-12));
        assertThat(cancelling.without("b").combined()).isEqualTo(3);
        // One group, t-distributed with 8 degrees of freedom; 200 000 trials scatter by 0.4 %.
        assertThat(MonteCarlo.fixed(1, 200_000).expanded(cancelling, 0.95).halfWidth())
                .isCloseTo(halfWidth(cancelling), within(0.02 * halfWidth(cancelling)));
    }

    /** The end of JCGM 100:2008, 5.2.2, example: fully correlated components add up linearly. */
    @Test
    void aWholeMatrixOfCorrelationsServesToo() {
        Budget budget = Budget.of(
                        UncertaintyComponent.typeA("a", 1, 5, "test"),
                        UncertaintyComponent.typeA("b", 2, 9, "test"),
                        UncertaintyComponent.typeA("c", 3, 7, "test"))
                .withCorrelations(new double[][] {{1, 1, 1}, {1, 1, 1}, {1, 1, 1}});
        assertThat(budget.combined()).isCloseTo(6, within(1e-12)); // rounding
        assertThat(budget.effectiveDegreesOfFreedom()).isCloseTo(5, within(1e-9));
    }

    @Test
    void aBudgetAnswersWhatIf() {
        Budget budget = Budget.of(
                UncertaintyComponent.typeA("scatter", 4, 5, "test"),
                UncertaintyComponent.typeB("tape", NORMAL, 3, "certificate").asAssumed());
        assertThat(budget.combined()).isEqualTo(5);
        assertThat(budget.assumed()).isTrue();
        assertThat(budget.scaled("tape", 0.1).assumed()).isFalse(); // 0.6 % of the variance
        assertThat(budget.longer(4).combined()).isCloseTo(Math.hypot(2, 3), within(1e-12)); // rounding
        assertThat(budget.longer(4).component("scatter").degreesOfFreedom()).isEqualTo(20);
        assertThat(budget.without("scatter").combined()).isEqualTo(3);
        assertThat(budget.times(-2).combined()).isEqualTo(10);
        assertThat(budget.share(budget.component("scatter"))).isCloseTo(0.64, within(1e-12));
        assertThat(budget.dominant()).contains(budget.component("scatter"));
    }

    @Test
    void nothingUncertainGivesZero() {
        assertThat(halfWidth(Budget.of())).isZero();
        assertThat(Budget.of().effectiveDegreesOfFreedom()).isInfinite();
        Budget zero = Budget.of(UncertaintyComponent.typeA("scatter", 0, 5, "test"));
        assertThat(halfWidth(zero)).isZero();
        assertThat(zero.dominant()).isEmpty();
        assertThat(zero.share(zero.component("scatter"))).isZero();
        assertThat(zero.probabilityBetween(-1, 1)).isEqualTo(1);
        assertThat(zero.probabilityBetween(1, 2)).isZero();
    }

    @Test
    void whatCannotBeIsRefused() {
        UncertaintyComponent a = UncertaintyComponent.typeA("a", 1, 5, "test");
        UncertaintyComponent b = UncertaintyComponent.typeA("b", 1, 5, "test");
        UncertaintyComponent c = UncertaintyComponent.typeA("c", 1, 5, "test");
        assertThatThrownBy(() -> Budget.of(a, a)).hasMessageContaining("\"a\"");
        assertThatThrownBy(() -> Budget.of(a).without("z")).hasMessageContaining("\"z\"");
        assertThatThrownBy(() -> Budget.of(a, b).withCorrelation("a", "b", 1.1)).hasMessageContaining("1.1");
        Budget two = Budget.of(a, b, c).withCorrelation("a", "b", 0.7).withCorrelation("b", "c", 0.7);
        assertThatThrownBy(() -> two.withCorrelation("a", "c", -0.7)).hasMessageContaining("eigenvalue");
        assertThatThrownBy(() -> two.withCorrelations(new double[][] {{1, 0}, {0, 1}}))
                .hasMessageContaining("2 rows where 3");
        assertThatThrownBy(() -> Budget.of(a).withCorrelations(new double[][] {{2}}))
                .hasMessageContaining("correlations: element 0, 0 is 2.0");
        assertThatThrownBy(() -> UncertaintyComponent.typeA("a", -1, 5, "test"))
                .hasMessageContaining("a: standardUncertainty -1.0");
        assertThatThrownBy(() -> a.withDegreesOfFreedom(0)).hasMessageContaining("a: degreesOfFreedom 0.0");
        assertThatThrownBy(() -> a.withSensitivity(Double.NaN)).hasMessageContaining("a: sensitivity NaN");
        assertThatThrownBy(() -> Budget.of(a).expanded(1)).hasMessageContaining("coverageProbability 1.0");
    }

    /** Two rectangles make a trapezoid: beyond h lies {@code (a + b - h)^2 / (4 a b)}. */
    @Test
    void twoRectanglesMakeATrapezoid() {
        Budget budget = Budget.of(
                UncertaintyComponent.typeB("a", RECTANGULAR, 1, "test"),
                UncertaintyComponent.typeB("b", RECTANGULAR, 0.5, "test"));
        assertThat(halfWidth(budget)).isCloseTo(1.5 - Math.sqrt(0.05 * 4 * 0.5), within(1e-9));
        assertThat(budget.probabilityBetween(-0.5, 0.5)).isCloseTo(0.5, within(1e-12)); // its flat top, 1/2 high
        assertThat(budget.probabilityBetween(-9, -1)).isCloseTo(0.0625, within(1e-12));
        assertThat(budget.probabilityBetween(-9, 1)).isCloseTo(1 - 0.0625, within(1e-12));
        assertThat(budget.probabilityBetween(2, 9)).isZero();
        for (double x : new double[] {-1.6, -1.2, -0.6, -0.3, 0.1, 0.7, 1.4, 1.6}) {
            double beyond = Math.max(0, 1.5 - Math.abs(x));
            double tail = Math.abs(x) > 0.5 ? beyond * beyond / 4 : 0.5 - Math.abs(x) / 2; // of the flat top
            assertThat(budget.probabilityBetween(-9, x)).isCloseTo(x < 0 ? tail : 1 - tail, within(1e-12));
        }
    }

    /**
     * Distributions added up by brute force: t or normal, averaged over the places of rectangles and the phases of sinusoids,
     * with the distribution functions of a general-purpose library.
     */
    private static double summed(
            double x, double scale, double degreesOfFreedom, double[] rectangles, double[] sinusoids) {
        double[] places = {0};
        for (double halfWidth : rectangles) {
            places = spread(places, 150, share -> halfWidth * (2 * share - 1));
        }
        for (double amplitude : sinusoids) {
            places = spread(places, 100, share -> amplitude * Math.cos(Math.PI * share));
        }
        RealDistribution distribution = degreesOfFreedom == INFINITE
                ? new NormalDistribution(null, 0, 1)
                : new TDistribution(null, degreesOfFreedom);
        double sum = 0;
        for (double place : places) {
            sum += distribution.cumulativeProbability((x - place) / scale);
        }
        return sum / places.length;
    }

    private static double[] spread(double[] places, int count, DoubleUnaryOperator at) {
        double[] more = new double[places.length * count];
        for (int i = 0; i < more.length; i++) {
            more[i] = places[i / count] + at.applyAsDouble((i % count + 0.5) / count);
        }
        return more;
    }

    @ParameterizedTest
    @CsvSource({
        "0.5, 4, 1, 0, 0, 0",
        "0.3, Infinity, 1, 0, 0, 0",
        "0.5, 6, 1, 0.8, 0, 0",
        "0.5, Infinity, 1, 0.8, 0, 0",
        "0.4, Infinity, 0, 0, 1, 0",
        "0.4, Infinity, 0, 0, 1, 0.8",
        "0.4, 5, 0.8, 0, 1, 0",
        "0.5, 1, 1, 0, 0, 0",
        "0.5, 2, 1, 0.8, 0, 0"
    })
    void severalDistributionsAreThoseAddedUp(
            double scale, double degreesOfFreedom, double a, double b, double c, double d) {
        List<UncertaintyComponent> components = new ArrayList<>();
        components.add(UncertaintyComponent.typeA("scatter", scale, degreesOfFreedom, "test"));
        double[] rectangles = b > 0 ? new double[] {a, b} : a > 0 ? new double[] {a} : new double[0];
        double[] sinusoids = d > 0 ? new double[] {c, d} : c > 0 ? new double[] {c} : new double[0];
        for (double r : rectangles) {
            components.add(UncertaintyComponent.typeB("rectangle " + r, RECTANGULAR, r, "test"));
        }
        for (double r : sinusoids) {
            components.add(UncertaintyComponent.typeB("sinusoid " + r, ARCSINE, r, "test"));
        }
        Budget budget = Budget.of(components);
        // 150 places of a rectangle and 100 phases are right within some 1e-5.
        for (double x : new double[] {-1.7, -0.4, 0.9}) {
            double expected = summed(x, scale, degreesOfFreedom, rectangles, sinusoids);
            assertThat(budget.probabilityBetween(-x, INFINITE)).isCloseTo(expected, within(3e-5));
            assertThat(budget.probabilityBetween(-INFINITE, -x)).isCloseTo(1 - expected, within(3e-5));
        }
        double reach = halfWidth(budget);
        assertThat(2 * summed(reach, scale, degreesOfFreedom, rectangles, sinusoids) - 1)
                .isCloseTo(0.95, within(3e-5));
        assertThat(budget.probabilityBetween(-reach, reach)).isCloseTo(0.95, within(1e-6));
    }

    /** An effect to one side and a scatter: the error is uniform from 0 to 1 and normal; the interval is about the reading. */
    @Test
    void aOneSidedEffectAndAScatterAreThoseAddedUp() {
        Budget budget = Budget.of(
                UncertaintyComponent.typeA("scatter", 0.3, INFINITE, "test"),
                UncertaintyComponent.oneSided("effect", 1, "test"));
        double[] half = {0.5};
        double[] none = {};
        double reach = halfWidth(budget);
        assertThat(summed(reach - 0.5, 0.3, INFINITE, half, none) - summed(-reach - 0.5, 0.3, INFINITE, half, none))
                .isCloseTo(0.95, within(3e-5));
        assertThat(budget.probabilityBetween(-0.4, 0.1))
                .isCloseTo(
                        summed(0.4 - 0.5, 0.3, INFINITE, half, none) - summed(-0.1 - 0.5, 0.3, INFINITE, half, none),
                        within(3e-5));
    }

    /** Components that hang together by a third one are one group, with the least degrees of freedom among them. */
    @Test
    void correlationsReachOnToOthers() {
        Budget chain = Budget.of(
                        UncertaintyComponent.typeA("z", 2, 50, "test"),
                        UncertaintyComponent.typeA("a", 1, 9, "test"),
                        UncertaintyComponent.typeA("b", 2, 5, "test"),
                        UncertaintyComponent.typeA("c", 3, 7, "test"))
                .withCorrelation("a", "b", 0.5)
                .withCorrelation("c", "b", 0.5);
        double group = 1 + 4 + 9 + 2 * 0.5 * (1 * 2 + 2 * 3);
        assertThat(chain.combined()).isCloseTo(Math.sqrt(4 + group), within(1e-12)); // rounding
        // G.4.1 with z and the group as the two components.
        assertThat(chain.effectiveDegreesOfFreedom())
                .isCloseTo(Math.pow(4 + group, 2) / (16 / 50.0 + group * group / 5), within(1e-9));
        // Without z the places of the others move up, and their correlations with them.
        assertThat(chain.without("z").combined()).isCloseTo(Math.sqrt(group), within(1e-12));
        assertThat(chain.without("a").combined()).isCloseTo(Math.sqrt(4 + 4 + 9 + 6), within(1e-12));
        assertThat(chain.without("b").combined()).isCloseTo(Math.sqrt(4 + 1 + 9), within(1e-12));
        assertThat(chain.scaled("z", 0).combined()).isCloseTo(Math.sqrt(group), within(1e-12));
        assertThat(chain.times(3).combined()).isCloseTo(3 * Math.sqrt(4 + group), within(1e-12));
        Budget more = chain.with(UncertaintyComponent.typeA("d", 5, 7, "test"));
        assertThat(more.combined()).isCloseTo(Math.sqrt(25 + 4 + group), within(1e-12));
        assertThat(more.components()).hasSize(5);
        assertThatThrownBy(() -> more.with(UncertaintyComponent.typeA("d", 1, 7, "test")))
                .hasMessageContaining("\"d\"");
        assertThatThrownBy(() -> more.withCorrelation("d", "d", 1)).hasMessageContaining("itself");
        // The group's scatter is t-distributed with 5 degrees of freedom, drawn beside z with 50.
        MonteCarloResult drawn = MonteCarlo.fixed(4, 50_000).of(chain, 0.95);
        assertThat(drawn.mean()).isCloseTo(0, within(0.09)); // 3 of 6/sqrt(50 000)
        assertThat(drawn.standardUncertainty())
                .isCloseTo(Math.sqrt(4 * 50 / 48.0 + group * 5 / 3.0), within(0.15)); // long tails, 2 %
    }

    /** An assumption counts from 1 % of the variance on. */
    @Test
    void anAssumptionOfAHundredthOfTheVarianceIsSaid() {
        for (double tape : new double[] {0.99, 1.01}) {
            Budget budget = Budget.of(
                    UncertaintyComponent.typeA("scatter", Math.sqrt(99), 5, "test"),
                    UncertaintyComponent.typeB("tape", NORMAL, tape, "guess").asAssumed());
            assertThat(budget.assumed()).isEqualTo(tape > 1);
        }
        assertThat(Budget.of(UncertaintyComponent.typeB("tape", NORMAL, 1, "certificate"))
                        .assumed())
                .isFalse();
    }

    /** The standard's own way: t of the next lower whole number, of at least 1. */
    @Test
    void truncatedDegreesOfFreedomAreAtLeastOne() {
        Budget budget = Budget.of(UncertaintyComponent.typeA("scatter", 2, 0.7, "test"));
        assertThat(budget.expandedTruncated(0.95).halfWidth()).isCloseTo(2 * Coverage.factor(0.95, 1), within(1e-9));
        assertThat(budget.expandedTruncated(0.95).coverageProbability()).isEqualTo(0.95);
    }

    /** In whatever order components stand, the budget is the same; three of a kind are an approximation of 1 %. */
    @Test
    void theOrderOfComponentsDoesNotMatter() {
        assertThat(halfWidth(budget(0.1, INFINITE, RECTANGULAR, 0.3, 0.7, 1)))
                .isCloseTo(halfWidth(budget(0.1, INFINITE, RECTANGULAR, 1, 0.7, 0.3)), within(1e-9));
        Budget sinusoids = budget(0.3, INFINITE, ARCSINE, 0.5, 0.7, 0.65);
        assertThat(halfWidth(sinusoids))
                .isCloseTo(halfWidth(budget(0.3, INFINITE, ARCSINE, 0.7, 0.65, 0.5)), within(1e-9));
        double root = Math.sqrt(2);
        double held = 2
                        * summed(halfWidth(sinusoids), 0.3, INFINITE, new double[0], new double[] {
                            0.5 * root, 0.7 * root, 0.65 * root
                        })
                - 1;
        assertThat(held).isCloseTo(0.95, within(0.004)); // 1 % of the half-width
    }

    /** An independent rectangle beside correlated components stays one; a long way round still makes one group. */
    @Test
    void whatIsNotCorrelatedKeepsItsDistribution() {
        Budget budget = Budget.of(
                        UncertaintyComponent.typeA("a", 0.001, 9, "test"),
                        UncertaintyComponent.typeA("b", 0.001, 9, "test"),
                        UncertaintyComponent.typeB("rectangle", RECTANGULAR, 1, "test"))
                .withCorrelation("a", "b", 0.5);
        assertThat(halfWidth(budget)).isCloseTo(0.95, within(1e-4));
        // The first is joined to the last, that to the third, and that to the second.
        Budget ring = Budget.of(
                        UncertaintyComponent.typeA("a", 1, 9, "test"),
                        UncertaintyComponent.typeA("b", 1, 4, "test"),
                        UncertaintyComponent.typeA("c", 1, 9, "test"),
                        UncertaintyComponent.typeA("d", 1, 9, "test"))
                .withCorrelation("b", "c", 0.3)
                .withCorrelation("a", "d", 0.3)
                .withCorrelation("c", "d", 0.3);
        assertThat(ring.combined()).isCloseTo(Math.sqrt(4 + 6 * 0.3), within(1e-12)); // rounding
        assertThat(ring.effectiveDegreesOfFreedom()).isCloseTo(4, within(1e-9));
        assertThat(ring.scaled("a", 2).combined()).isCloseTo(Math.sqrt(7 + 2 * 0.3 * (2 + 1 + 1)), within(1e-12));
        assertThat(ring.without("a").components()).hasSize(3);
    }

    /** What is correlated with neither of two is in no group with them: each group has its own degrees of freedom. */
    @Test
    void groupsStayApart() {
        Budget budget = Budget.of(
                        UncertaintyComponent.typeA("a", 1, 9, "test"),
                        UncertaintyComponent.typeA("b", 1, 4, "test"),
                        UncertaintyComponent.typeA("c", 2, 30, "test"),
                        UncertaintyComponent.typeA("d", 2, 12, "test"))
                .withCorrelation("a", "b", 0.5)
                .withCorrelation("c", "d", -0.25);
        double first = 1 + 1 + 2 * 0.5;
        double second = 4 + 4 - 2 * 0.25 * 4;
        assertThat(budget.combined()).isCloseTo(Math.sqrt(first + second), within(1e-12)); // rounding
        // G.4.1 with two components of 4 and 12 degrees of freedom.
        assertThat(budget.effectiveDegreesOfFreedom())
                .isCloseTo(Math.pow(first + second, 2) / (first * first / 4 + second * second / 12), within(1e-9));
    }

    /** Of a one-sided effect in a group its mean stays beside the group's variance: 1/3 less the square of 1/2. */
    @Test
    void aOneSidedEffectInAGroupKeepsItsMean() {
        Budget budget = Budget.of(
                        UncertaintyComponent.oneSided("effect", 1, "test"),
                        UncertaintyComponent.typeA("scatter", 0.3, INFINITE, "test"))
                .withCorrelation("effect", "scatter", 1e-9);
        NormalDistribution error = new NormalDistribution(null, 0.5, Math.sqrt(1 / 12.0 + 0.09));
        double reach = halfWidth(budget);
        assertThat(error.cumulativeProbability(reach) - error.cumulativeProbability(-reach))
                .isCloseTo(0.95, within(1e-6));
    }

    /** A small effect to one side leaves a tail on the other, which counts. */
    @Test
    void bothTailsOfAShiftedErrorCount() {
        Budget budget = Budget.of(
                UncertaintyComponent.typeA("scatter", 0.3, INFINITE, "test"),
                UncertaintyComponent.oneSided("effect", 0.4, "test"));
        double reach = halfWidth(budget);
        double[] half = {0.2};
        double[] none = {};
        assertThat(summed(reach - 0.2, 0.3, INFINITE, half, none) - summed(-reach - 0.2, 0.3, INFINITE, half, none))
                .isCloseTo(0.95, within(2e-3)); // so small a rectangle counts as normal
    }

    /** What is drawn is drawn by its own distribution and to its own side; 20 000 draws. */
    @Test
    void drawsKeepDistributionAndSide() {
        MonteCarlo few = MonteCarlo.fixed(8, 20_000);
        MonteCarloResult up = few.of(Budget.of(UncertaintyComponent.oneSided("effect", 1, "test")), 0.95);
        assertThat(up.mean()).isCloseTo(0.5, within(0.01)); // 0.29/sqrt(20 000), four times
        MonteCarloResult down = few.of(Budget.of(UncertaintyComponent.oneSided("effect", -1, "test")), 0.95);
        assertThat(down.mean()).isCloseTo(-0.5, within(0.01));
        MonteCarloResult scatter = few.of(Budget.of(UncertaintyComponent.typeA("scatter", 1, INFINITE, "test")), 0.95);
        assertThat(scatter.standardUncertainty()).isCloseTo(1, within(0.02)); // 0.7/sqrt(20 000), four times
        MonteCarloResult flat = few.of(Budget.of(UncertaintyComponent.typeB("flat", RECTANGULAR, 1, "test")), 0.95);
        assertThat((flat.high() - flat.low()) / 2).isCloseTo(0.95, within(0.01));
        // With finite degrees of freedom it is t-distributed about its mean, with its own scatter.
        MonteCarloResult doubtful = few.of(
                Budget.of(UncertaintyComponent.oneSided("effect", 1, "test").withDegreesOfFreedom(50)), 0.95);
        assertThat(doubtful.mean()).isCloseTo(0.5, within(0.01));
        assertThat(doubtful.standardUncertainty()).isCloseTo(Math.sqrt(1 / 12.0 * 50 / 48), within(0.01));
    }

    /** In another unit every half-width is that many times as large, from 1e-6 to 1e6. */
    @ParameterizedTest
    @ValueSource(doubles = {1e-6, 30, 1e6})
    void anotherUnitChangesNothingElse(double factor) {
        for (Distribution distribution : new Distribution[] {RECTANGULAR, ARCSINE, TRIANGULAR, ONE_SIDED}) {
            for (double scatter : new double[] {0, 0.4}) {
                Budget one = budget(scatter, 6, distribution, 1, 0.8, 0.6, 0.4);
                Budget other =
                        budget(factor * scatter, 6, distribution, factor, factor * 0.8, factor * 0.6, factor * 0.4);
                assertThat(halfWidth(other) / factor).isCloseTo(halfWidth(one), within(1e-7));
                assertThat(other.probabilityBetween(-factor, 0.5 * factor))
                        .isCloseTo(one.probabilityBetween(-1, 0.5), within(1e-9));
            }
        }
    }

    /**
     * Probability within a half-width by the characteristic functions of a normal distribution, of rectangles and of sinusoids,
     * {@code 2/pi} times the integral of {@code sin(h u)/u} times all of them; the trapezoidal rule is exact but for what
     * lies 100 away.
     */
    private static double held(double halfWidth, double scale, double[] rectangles, double[] sinusoids) {
        double step = 0.06;
        double sum = halfWidth / 2;
        for (double u = step; u < 8 / scale; u += step) {
            double product = Math.sin(halfWidth * u) / u * Math.exp(-scale * scale * u * u / 2);
            for (double r : rectangles) {
                product *= Math.sin(r * u) / (r * u);
            }
            for (double r : sinusoids) {
                product *= BesselJ.value(0, r * u);
            }
            sum += product;
        }
        return 2 / Math.PI * step * sum;
    }

    /**
     * What is merged is right within 1 % of the half-width, which is 0.2 % of probability in a normal distribution: rectangles
     * from the third on, sinusoids from the third on or below 15 % of the variance.
     */
    @ParameterizedTest
    @CsvSource({
        "0.1, 1, 0.7, 0.5, 0.3, 0, 0, 0",
        "0.4, 1, 0.9, 0.8, 0.7, 0, 0, 0",
        "0.05, 1, 0.3, 0.25, 0.2, 0, 0, 0",
        "0.2, 0, 0, 0, 0, 1, 0.95, 0.9",
        "0.1, 0, 0, 0, 0, 1, 0.9, 0.45",
        "0.1, 1, 0, 0, 0, 0.4, 0.35, 0.3",
        "0.1, 1, 0.6, 0, 0, 0.9, 0.5, 0",
        "0.1, 0.4, 0, 0, 0, 1, 0, 0",
        "0.1, 1, 0.2, 0, 0, 0, 0, 0",
        "0.1, 1, 0.5, 0, 0, 0.3, 0, 0",
    })
    void whatIsMergedStaysWithinAPerCent(
            double scale, double a, double b, double c, double d, double e, double f, double g) {
        double[] rectangles = DoubleStream.of(a, b, c, d).filter(x -> x > 0).toArray();
        double[] sinusoids = DoubleStream.of(e, f, g).filter(x -> x > 0).toArray();
        List<UncertaintyComponent> components = new ArrayList<>();
        components.add(UncertaintyComponent.typeA("scatter", scale, INFINITE, "test"));
        for (double r : rectangles) {
            components.add(UncertaintyComponent.typeB("rectangle " + r, RECTANGULAR, r, "test"));
        }
        for (double r : sinusoids) {
            components.add(UncertaintyComponent.typeB("sinusoid " + r, ARCSINE, r, "test"));
        }
        assertThat(held(halfWidth(Budget.of(components)), scale, rectangles, sinusoids))
                .isCloseTo(0.95, within(0.002));
    }
}
