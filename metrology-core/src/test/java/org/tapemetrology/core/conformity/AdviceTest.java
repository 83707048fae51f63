/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
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
}
