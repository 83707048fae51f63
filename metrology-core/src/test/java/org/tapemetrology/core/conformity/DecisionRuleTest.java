/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.Distribution;
import org.tapemetrology.core.uncertainty.UncertaintyComponent;

/** Decision rules of JCGM 106:2012, 8 (memory) and ILAC-G8:09/2019, 4 (guard band verified, four ways second-hand). */
class DecisionRuleTest {
    private static final Limit LIMIT =
            Limit.atMost(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK, 0.20, "flutter", "test", Confidence.COMPUTED);

    /** U of 0.02 with k = 2, so that u is 0.01. */
    private static Reading reading(double value) {
        return Reading.valid(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK, value, "test")
                .withUncertainty(new ExpandedUncertainty(0.02, 0.954499736));
    }

    @ParameterizedTest
    @CsvSource({
        "0.17, PASS, PASS, PASS",
        "0.19, PASS, UNDECIDED, CONDITIONAL_PASS",
        "0.20, PASS, UNDECIDED, CONDITIONAL_PASS",
        "0.21, FAIL, UNDECIDED, CONDITIONAL_FAIL",
        "0.23, FAIL, FAIL, FAIL",
    })
    void eachRuleHasItsZones(double value, Verdict simple, Verdict guarded, Verdict fourWay) {
        assertThat(DecisionRule.simple().decide(LIMIT, reading(value)).verdict())
                .isEqualTo(simple);
        assertThat(DecisionRule.guarded().decide(LIMIT, reading(value)).verdict())
                .isEqualTo(guarded);
        assertThat(DecisionRule.guarded()
                        .fourWay()
                        .decide(LIMIT, reading(value))
                        .verdict())
                .isEqualTo(fourWay);
        assertThat(DecisionRule.guardedBy(0.02).decide(LIMIT, reading(value)).verdict())
                .isEqualTo(guarded);
    }

    /** JCGM 106:2012, 8.3.2: w = U = 2 u gives 97.72 % at the acceptance limit; w = 1.645 u gives 95 %; the digits printed. */
    @Test
    void theProbabilityOfConformityAtTheAcceptanceLimitIsThePublishedOne() {
        Decision decision = DecisionRule.guarded().decide(LIMIT, reading(0.18));
        assertThat(decision.guardBand().orElseThrow()).isCloseTo(0.02, within(1e-9));
        assertThat(decision.probabilityOfConformity().orElseThrow()).isCloseTo(0.9772, within(5e-5));
        double acceptance = 0.20
                - DecisionRule.guardedOneSided95()
                        .decide(LIMIT, reading(0.1))
                        .guardBand()
                        .orElseThrow();
        assertThat(acceptance).isCloseTo(0.20 - 0.01645, within(5e-6));
        assertThat(DecisionRule.simple()
                        .decide(LIMIT, reading(acceptance))
                        .probabilityOfConformity()
                        .orElseThrow())
                .isCloseTo(0.95, within(5e-5));
    }

    /** The distribution of the budget counts: of a rectangle of half-width 0.03, a third lies above 0.20. */
    @Test
    void theBudgetGivesTheProbability() {
        Budget budget = Budget.of(UncertaintyComponent.typeB("tape", Distribution.RECTANGULAR, 0.03, "test"));
        Decision decision = DecisionRule.guarded().decide(LIMIT, reading(0.19), budget);
        assertThat(decision.probabilityOfConformity().orElseThrow()).isCloseTo(2.0 / 3, within(1e-12)); // rounding
        assertThat(decision.guardBand().orElseThrow()).isCloseTo(0.954499736 * 0.03, within(1e-9));
        // An effect that only raises the reading: the truth lies below it.
        Budget raised = Budget.of(UncertaintyComponent.oneSided("noise", 0.04, "test"));
        assertThat(DecisionRule.guarded()
                        .decide(LIMIT, reading(0.21), raised)
                        .probabilityOfConformity()
                        .orElseThrow())
                .isCloseTo(0.75, within(1e-9));
    }

    @Test
    void bothBoundsCount() {
        Limit both = Limit.between(Quantity.SPEED_ERROR, -1, 1, "speed", "test", Confidence.COMPUTED);
        Reading near =
                Reading.valid(Quantity.SPEED_ERROR, -0.95, "test").withUncertainty(new ExpandedUncertainty(0.1, 0.95));
        assertThat(DecisionRule.guarded().decide(both, near).verdict()).isEqualTo(Verdict.UNDECIDED);
        assertThat(both.holds(-1)).isTrue();
        assertThat(both.holds(1.01)).isFalse();
        assertThat(both.margin(0.75)).isEqualTo(0.25);
    }

    @Test
    void whatCannotBeComparedIsUndecidedWithTheReason() {
        Reading none = Reading.without(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK, Status.INSUFFICIENT_DATA, "test");
        Decision absent = DecisionRule.simple().decide(LIMIT, none);
        assertThat(absent.verdict()).isEqualTo(Verdict.UNDECIDED);
        assertThat(absent.reason()).contains("insufficient-data");
        Reading bare = Reading.valid(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK, 0.1, "test");
        assertThat(DecisionRule.simple().decide(LIMIT, bare).verdict()).isEqualTo(Verdict.PASS);
        assertThat(DecisionRule.guardedBy(0.01).decide(LIMIT, bare).verdict()).isEqualTo(Verdict.PASS);
        Decision unknown = DecisionRule.guarded().decide(LIMIT, bare);
        assertThat(unknown.verdict()).isEqualTo(Verdict.UNDECIDED);
        assertThat(unknown.reason()).contains("uncertainty");
        assertThat(unknown.probabilityOfConformity()).isEmpty();
        Limit noise = Limit.atMost(Quantity.NOISE_A_WEIGHTED, -50, "noise", "test", Confidence.COMPUTED)
                .reReference();
        Reading absolute = Reading.valid(Quantity.NOISE_A_WEIGHTED, -60, "test");
        assertThat(DecisionRule.simple().decide(noise, absolute).reason()).contains("dBFS");
        assertThat(DecisionRule.simple().decide(noise, absolute.re(-15)).verdict())
                .isEqualTo(Verdict.FAIL);
    }

    @Test
    void limitsAndFrequenciesAreChecked() {
        assertThatThrownBy(() -> Limit.between(Quantity.LEVEL, 1, 1, "level", "test", Confidence.COMPUTED))
                .hasMessageContaining("level: lower bound 1.0");
        assertThatThrownBy(() -> Limit.atMost(Quantity.LEVEL, Double.NaN, "level", "test", Confidence.COMPUTED))
                .hasMessageContaining("level: upper bound NaN");
        assertThatThrownBy(() -> LIMIT.reReference()).hasMessageContaining("not given in dB");
        Limit response = Limit.between(Quantity.RESPONSE, -3, 3, "response", "test", Confidence.COMPUTED)
                .atFrequency(10_000);
        Reading there = Reading.valid(Quantity.RESPONSE, -2, "test").atFrequency(10_020);
        assertThat(DecisionRule.simple().decide(response, there).verdict()).isEqualTo(Verdict.PASS);
        assertThatThrownBy(() -> DecisionRule.simple().decide(response, there.atFrequency(12_500)))
                .hasMessageContaining("12500.0 Hz");
    }
}
