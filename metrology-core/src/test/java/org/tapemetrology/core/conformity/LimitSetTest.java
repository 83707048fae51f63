/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.core.uncertainty.TestTape;

/** Limits of DIN 45500 sheet 4 as reported by the trade press of 1977 (second-hand). */
class LimitSetTest {
    private static final ReadingBudgets BUDGETS = new ReadingBudgets(TestTape.assumed(), Converter.assumed());

    private static Verdict verdict(Quantity quantity, double value) {
        Reading reading = Reading.valid(quantity, value, "test").onChannel(1).withTypeA(StandardUncertainty.of(1e-6));
        Measurement measurement = BUDGETS.applied(new Measurement(List.of(reading), List.of()));
        return LimitSet.DIN_45500.decide(measurement, DecisionRule.guarded(), BUDGETS).stream()
                .filter(d -> d.limit().quantity() == quantity && d.reading().isValid())
                .findFirst()
                .orElseThrow()
                .verdict();
    }

    /** The assumed tape leaves some 0.2 % about the limit of 1.5 % open. */
    @Test
    void speedOfHomeRecordersIsLimitedToOneAndAHalfPerCent() {
        assertThat(verdict(Quantity.SPEED_ERROR, 1.2)).isEqualTo(Verdict.PASS);
        assertThat(verdict(Quantity.SPEED_ERROR, -1.2)).isEqualTo(Verdict.PASS);
        assertThat(verdict(Quantity.SPEED_ERROR, 1.45)).isEqualTo(Verdict.UNDECIDED);
        assertThat(verdict(Quantity.SPEED_ERROR, -1.55)).isEqualTo(Verdict.UNDECIDED);
        assertThat(verdict(Quantity.SPEED_ERROR, 1.8)).isEqualTo(Verdict.FAIL);
    }

    @Test
    void weightedFlutterIsLimitedToTwoTenths() {
        assertThat(verdict(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK, 0.15)).isEqualTo(Verdict.PASS);
        assertThat(verdict(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK, 0.3)).isEqualTo(Verdict.FAIL);
    }

    @Test
    void separationMustReachTwentyDecibels() {
        assertThat(verdict(Quantity.SEPARATION, 25)).isEqualTo(Verdict.PASS);
        assertThat(verdict(Quantity.SEPARATION, 15)).isEqualTo(Verdict.FAIL);
    }

    /** Nothing is passed over: what was not measured is undecided. */
    @Test
    void limitsWithoutAReadingAreUndecided() {
        List<Decision> decisions =
                LimitSet.DIN_45500.decide(new Measurement(List.of(), List.of()), DecisionRule.guarded(), BUDGETS);
        assertThat(decisions)
                .hasSize(LimitSet.DIN_45500.limits().size())
                .allSatisfy(d -> assertThat(d.verdict()).isEqualTo(Verdict.UNDECIDED));
    }

    @Test
    void setsAreFoundByName() {
        assertThat(LimitSet.named("din-45500")).contains(LimitSet.DIN_45500);
        assertThat(LimitSet.named("unknown")).isEmpty();
        assertThat(LimitSet.published()).extracting(LimitSet::name).doesNotHaveDuplicates();
    }

    /** A tolerance field limits every reading between its ends, these included; the reference frequency is 0 by definition. */
    @Test
    void aFieldLimitsEveryReadingOfItsRange() {
        Limit low = Limit.between(Quantity.RESPONSE, -4, 4, "bass", "test", Confidence.MEMORY)
                .within(40, 250);
        Limit high = Limit.between(Quantity.RESPONSE, -2, 2, "rest", "test", Confidence.MEMORY)
                .within(250, 10_000);
        List<Reading> response = List.of(
                response(40, 3),
                response(250, 3),
                Reading.valid(Quantity.RESPONSE, 0, "test").atFrequency(1000),
                response(10_000, 1),
                response(12_500, -9));
        Measurement measurement = new Measurement(response, List.of());
        LimitSet field = new LimitSet("field", List.of(low, high));
        List<Decision> decisions = field.decide(measurement, DecisionRule.simple(), BUDGETS);
        assertThat(decisions)
                .extracting(d -> d.reading().atFrequencyHz().orElseThrow() + " "
                        + d.limit().name() + " " + d.verdict())
                .containsExactly("40.0 bass PASS", "250.0 bass PASS", "250.0 rest FAIL", "10000.0 rest PASS");
        assertThat(field.of(measurement).limits()).hasSize(2);
        assertThat(field.ofNoneOf(List.of(new Measurement(List.of(response(12_500, 0)), List.of())))
                        .limits())
                .hasSize(2);
        assertThatThrownBy(() -> low.within(250, 40)).hasMessageContaining("toHz 40.0 is not in [250.0");
    }

    private static Reading response(double hertz, double decibels) {
        return Reading.valid(Quantity.RESPONSE, decibels, "test")
                .onChannel(1)
                .atFrequency(hertz)
                .withTypeA(StandardUncertainty.of(0.01));
    }
}
