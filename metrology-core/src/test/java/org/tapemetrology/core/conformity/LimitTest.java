/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Unit;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.core.uncertainty.TestTape;

/** What a limit refuses, which readings it is for, and what a rule says of a reading in words. */
class LimitTest {
    private static final Limit RESPONSE =
            Limit.between(Quantity.RESPONSE, -3, 3, "response", "test", Confidence.COMPUTED);

    private static Reading response(double hertz) {
        return Reading.valid(Quantity.RESPONSE, -2, "test").atFrequency(hertz);
    }

    /** Half a per cent to either side it is the same frequency: a machine is off speed, a tape is not exact. */
    @Test
    void aLimitAtAFrequencyIsForHalfAPerCentAround() {
        Limit limit = RESPONSE.atFrequency(10_000);
        assertThat(limit.appliesTo(response(10_049))).isTrue();
        assertThat(limit.appliesTo(response(10_051))).isFalse();
        assertThat(limit.appliesTo(response(9951))).isTrue();
        assertThat(limit.appliesTo(response(9949))).isFalse();
        assertThat(limit.appliesTo(Reading.valid(Quantity.RESPONSE, 0, "test"))).isFalse();
        assertThat(RESPONSE.appliesTo(response(50))).isTrue(); // wherever
        assertThat(RESPONSE.appliesTo(Reading.valid(Quantity.LEVEL, 0, "test"))).isFalse();
    }

    @Test
    void aRangeHasHalfAPerCentAtItsEnds() {
        Limit limit = RESPONSE.within(100, 1000);
        assertThat(limit.appliesTo(response(99.6))).isTrue();
        assertThat(limit.appliesTo(response(99.4))).isFalse();
        assertThat(limit.appliesTo(response(1004.9))).isTrue();
        assertThat(limit.appliesTo(response(1005.1))).isFalse();
        assertThat(limit.appliesTo(Reading.valid(Quantity.RESPONSE, 0, "test"))).isFalse();
        assertThat(RESPONSE.within(1000, 1000).appliesTo(response(1000))).isTrue(); // a range of one frequency
    }

    @Test
    void whatCannotBeALimitIsRefused() {
        assertThatThrownBy(() -> RESPONSE.within(0, 10)).hasMessageContaining("fromHz 0.0");
        assertThatThrownBy(() -> RESPONSE.within(10, Double.POSITIVE_INFINITY)).hasMessageContaining("toHz Infinity");
        assertThatThrownBy(() -> RESPONSE.atFrequency(0)).hasMessageContaining("response: atFrequencyHz 0.0");
        assertThatThrownBy(() -> Limit.atLeast(Quantity.LEVEL, Double.NaN, "level", "test", Confidence.COMPUTED))
                .hasMessageContaining("level: lower bound NaN");
        assertThatThrownBy(() -> limit(OptionalDouble.empty(), OptionalDouble.empty(), Optional.empty()))
                .hasMessage("x: a limit needs a lower or an upper bound");
        assertThatThrownBy(
                        () -> limit(OptionalDouble.of(1), OptionalDouble.of(1000), Optional.of(new Limit.Range(1, 2))))
                .hasMessage("x: a limit is for one frequency or for a range, not for both");
    }

    private static Limit limit(OptionalDouble lower, OptionalDouble atHz, Optional<Limit.Range> range) {
        return new Limit(
                Quantity.RESPONSE,
                Unit.DECIBEL,
                lower,
                OptionalDouble.empty(),
                atHz,
                range,
                "x",
                "test",
                Confidence.COMPUTED);
    }

    @Test
    void boundsThemselvesHold() {
        assertThat(RESPONSE.holds(3)).isTrue();
        assertThat(RESPONSE.holds(Math.nextUp(3.0))).isFalse();
        assertThat(RESPONSE.holds(-3)).isTrue();
        assertThat(RESPONSE.margin(-4)).isEqualTo(-1);
        Limit least = Limit.atLeast(Quantity.SEPARATION, 30, "separation", "test", Confidence.COMPUTED);
        assertThat(least.margin(33)).isEqualTo(3);
        assertThat(least.margin(28)).isEqualTo(-2);
        assertThat(Limit.atMost(Quantity.SEPARATION, 30, "separation", "test", Confidence.COMPUTED)
                        .margin(28))
                .isEqualTo(2);
    }

    /** The sentence names the distance, the side, and how it stands to the guard band. */
    @Test
    void theReasonSaysWhereTheReadingIs() {
        Reading reading =
                Reading.valid(Quantity.RESPONSE, 2.5, "test").withUncertainty(new ExpandedUncertainty(0.4, 0.95));
        assertThat(DecisionRule.guarded().decide(RESPONSE, reading).reason())
                .isEqualTo("The reading is 0.500 dB inside the limit, clear of the guard band of 0.400 dB.");
        assertThat(DecisionRule.guardedByExpanded(2).decide(RESPONSE, reading).reason())
                .isEqualTo("The reading is 0.500 dB inside the limit, within the guard band of 0.800 dB.");
        assertThat(DecisionRule.guarded()
                        .decide(RESPONSE, reading.withValue(-4))
                        .reason())
                .isEqualTo("The reading is 1.00 dB outside the limit, clear of the guard band of 0.400 dB.");
        assertThat(DecisionRule.simple().decide(RESPONSE, reading.withValue(-4)).reason())
                .isEqualTo("The reading is 1.00 dB outside the limit.");
        // At the bound it is inside, and at the guard band clear of it.
        assertThat(DecisionRule.simple().decide(RESPONSE, reading.withValue(3)).reason())
                .isEqualTo("The reading is 0.00 dB inside the limit.");
        assertThat(DecisionRule.guardedBy(0.5).decide(RESPONSE, reading).verdict())
                .isEqualTo(Verdict.PASS);
        assertThat(DecisionRule.guardedBy(0.5)
                        .decide(RESPONSE, reading.withValue(3.5))
                        .verdict())
                .isEqualTo(Verdict.UNDECIDED);
        assertThat(DecisionRule.guarded()
                        .fourWay()
                        .decide(RESPONSE, reading.withValue(3))
                        .verdict())
                .isEqualTo(Verdict.CONDITIONAL_PASS);
    }

    @Test
    void rulesDescribeThemselves() {
        assertThat(DecisionRule.simple().description()).isEqualTo("simple acceptance");
        assertThat(DecisionRule.guarded()).hasToString("guarded acceptance and rejection, guard band 1.00 U");
        assertThat(DecisionRule.guardedByStandard(2).fourWay().description()).isEqualTo("four-way, guard band 2.00 u");
        assertThat(DecisionRule.guardedBy(0.25).description())
                .isEqualTo("guarded acceptance and rejection, guard band 0.250");
        assertThat(DecisionRule.simple().fourWay().description()).isEqualTo("four-way, guard band 1.00 U");
        assertThatThrownBy(() -> DecisionRule.guardedByExpanded(-0.1)).hasMessageContaining("ratio -0.1");
        assertThatThrownBy(() -> DecisionRule.guardedByStandard(10.1)).hasMessageContaining("ratio 10.1");
        assertThatThrownBy(() -> DecisionRule.guardedBy(-1)).hasMessageContaining("guardBand -1.0");
    }

    @Test
    void verdictsHaveTheirWords() {
        assertThat(Arrays.stream(Verdict.values()).map(Verdict::id))
                .containsExactly("pass", "conditional-pass", "undecided", "conditional-fail", "fail");
    }

    /** A limit at a frequency, or from one on, without a reading is told with that frequency. */
    @Test
    void whatWasNotMeasuredIsToldWithItsFrequency() {
        LimitSet set = new LimitSet("set", List.of(RESPONSE.atFrequency(8000), RESPONSE.within(40, 250), RESPONSE));
        List<Decision> decisions = set.decide(
                new Measurement(List.of(), List.of()),
                DecisionRule.simple(),
                new ReadingBudgets(TestTape.assumed(), Converter.assumed()));
        assertThat(decisions)
                .extracting(d -> d.reading().atFrequencyHz())
                .containsExactly(OptionalDouble.of(8000), OptionalDouble.of(40), OptionalDouble.empty());
        assertThat(decisions).extracting(d -> d.reading().status()).containsOnly(Status.INSUFFICIENT_DATA);
        assertThat(set.of(new Measurement(List.of(response(8000)), List.of())).limits())
                .hasSize(2); // the first and the last
        assertThat(set.ofNoneOf(List.of(new Measurement(List.of(response(8000)), List.of())))
                        .limits())
                .containsExactly(RESPONSE.within(40, 250));
    }
}
