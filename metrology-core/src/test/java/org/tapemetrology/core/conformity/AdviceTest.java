/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.Distribution;
import org.tapemetrology.core.uncertainty.UncertaintyComponent;

/** Advice is checked by following it: just enough decides, a little less does not. */
class AdviceTest {
    private static final Limit LIMIT =
            Limit.atMost(Quantity.FLUTTER_WEIGHTED_RMS, 0.10, "flutter", "test", Confidence.COMPUTED);
    private static final DecisionRule RULE = DecisionRule.guarded();

    private static final Budget BUDGET = Budget.of(
            UncertaintyComponent.typeA("scatter", 0.008, 6, "test"),
            UncertaintyComponent.typeB("tape", Distribution.NORMAL, 0.003, "test"));

    private static Reading reading(double value) {
        Reading bare = Reading.valid(Quantity.FLUTTER_WEIGHTED_RMS, value, "test");
        return bare.withUncertainty(BUDGET.expanded(0.95));
    }

    private static Advice on(double value, Budget budget) {
        return Advice.on(RULE.decide(LIMIT, reading(value), budget), budget);
    }

    @Test
    void measuringLongerDecides() {
        for (double value : new double[] {0.09, 0.11}) {
            Advice advice = on(value, BUDGET);
            double times = advice.timesLonger().orElseThrow();
            assertThat(advice.decided()).isEqualTo(value < 0.1 ? Verdict.PASS : Verdict.FAIL);
            assertThat(RULE.decide(LIMIT, reading(value), BUDGET.longer(1.0001 * times))
                            .verdict())
                    .isEqualTo(advice.decided());
            assertThat(RULE.decide(LIMIT, reading(value), BUDGET.longer(0.99 * times))
                            .verdict())
                    .isEqualTo(Verdict.UNDECIDED);
            assertThat(advice.sentences()).anyMatch(s -> s.contains("times as long"));
        }
    }

    @Test
    void oneBetterComponentDecides() {
        Advice advice = on(0.09, BUDGET);
        assertThat(advice.improvements()).hasSize(1);
        Advice.Improvement improvement = advice.improvements().get(0);
        assertThat(improvement.component().name()).isEqualTo("scatter");
        assertThat(improvement.standardUncertainty()).isCloseTo(improvement.factor() * 0.008, within(1e-15));
        double factor = improvement.factor();
        assertThat(RULE.decide(LIMIT, reading(0.09), BUDGET.scaled("scatter", 0.9999 * factor))
                        .verdict())
                .isEqualTo(Verdict.PASS);
        assertThat(RULE.decide(LIMIT, reading(0.09), BUDGET.scaled("scatter", 1.01 * factor))
                        .verdict())
                .isEqualTo(Verdict.UNDECIDED);
    }

    /** The tape alone keeps 0.003 x 1.96 = 0.0059 undecided, however long one measures. */
    @Test
    void nothingHelpsVeryNearTheLimit() {
        Advice advice = on(0.0999, BUDGET);
        assertThat(advice.decided()).isEqualTo(Verdict.UNDECIDED);
        assertThat(advice.timesLonger()).isEmpty();
        assertThat(advice.improvements()).isEmpty();
        assertThat(advice.sentences()).singleElement().asString().contains("neither a longer measurement");
        assertThat(on(0.1, BUDGET).sentences()).singleElement().asString().contains("exactly at the limit");
    }

    @Test
    void nothingIsAdvisedWhereNothingIsToGain() {
        assertThat(on(0.05, BUDGET).decided()).isEqualTo(Verdict.PASS);
        assertThat(on(0.05, BUDGET).improvements()).isEmpty();
        Decision agreed = DecisionRule.guardedBy(0.02).decide(LIMIT, reading(0.09), BUDGET);
        assertThat(Advice.on(agreed, BUDGET).sentences())
                .singleElement()
                .asString()
                .contains("agreed upon");
    }

    /** The easiest improvement comes first: the component that need fall least. */
    @Test
    void improvementsComeByWhatTheyTake() {
        Budget budget = Budget.of(
                UncertaintyComponent.typeB("small", Distribution.NORMAL, 0.004, "test"),
                UncertaintyComponent.typeB("none", Distribution.NORMAL, 0, "test"),
                UncertaintyComponent.typeB("large", Distribution.NORMAL, 0.5, "test")
                        .withSensitivity(0.01, "mV"));
        // 0.0064 of 1.96 standard uncertainties is 0.01255; what is left of either alone would be enough.
        Advice advice = Advice.on(RULE.decide(LIMIT, reading(0.0885), budget), budget);
        assertThat(advice.improvements())
                .extracting(improvement -> improvement.component().name())
                .containsExactly("large", "small");
        double large = advice.improvements().get(0).factor();
        double small = advice.improvements().get(1).factor();
        double allowed = 0.0115 / 1.959964;
        assertThat(large).isCloseTo(Math.sqrt(allowed * allowed - 0.004 * 0.004) / 0.005, within(1e-4));
        assertThat(small).isCloseTo(Math.sqrt(allowed * allowed - 0.005 * 0.005) / 0.004, within(1e-4));
        assertThat(advice.sentences())
                .containsExactly(
                        "With the standard uncertainty of \"large\" at most "
                                + DecisionRule.number(0.5 * large)
                                + " mV instead of 0.500 mV, the verdict becomes pass.",
                        "With the standard uncertainty of \"small\" at most "
                                + DecisionRule.number(0.004 * small)
                                + " % instead of 0.00400 %, the verdict becomes pass.");
    }

    /** Of a guard band that no component can reach alone nothing is promised, of a long measurement only up to a million times. */
    @Test
    void whatIsOutOfReachIsNotPromised() {
        Budget two = Budget.of(
                UncertaintyComponent.typeB("a", Distribution.NORMAL, 0.01, "test"),
                UncertaintyComponent.typeB("b", Distribution.NORMAL, 0.01, "test"));
        assertThat(Advice.on(RULE.decide(LIMIT, reading(0.09), two), two).improvements())
                .isEmpty();
        // 0.001 of 1.96 u is reached after a million times where u is 0.5, and is not where it is 0.6.
        for (double scatter : new double[] {0.5, 0.6}) {
            Budget one = Budget.of(UncertaintyComponent.typeA("scatter", scatter, 1e9, "test"));
            assertThat(Advice.on(RULE.decide(LIMIT, reading(0.099), one), one)
                            .timesLonger()
                            .isPresent())
                    .isEqualTo(scatter < 0.55);
        }
    }

    @Test
    void withoutAReadingThereIsNothingToAdvise() {
        Reading none = Reading.without(Quantity.FLUTTER_WEIGHTED_RMS, Status.NO_CARRIER, "test");
        Advice advice = Advice.on(RULE.decide(LIMIT, none, BUDGET), BUDGET);
        assertThat(advice.decided()).isEqualTo(Verdict.UNDECIDED);
        assertThat(advice.sentences())
                .containsExactly(
                        "There is no valid reading: no-carrier. A valid reading with its uncertainty comes first.");
    }
}
