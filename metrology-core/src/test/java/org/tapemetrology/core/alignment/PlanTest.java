/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.alignment.CompandingTracking.Level;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/** What plans, takes, targets and readings of the alignment accept, and which of several readings is found. */
class PlanTest {
    private static final AlignmentPlan REEL = AlignmentPlan.openReel(3, 2, -9, 3);

    private static AlignmentPlan with(int heads, int channels, double dbfs, double speed, double azimuth, double drop) {
        return new AlignmentPlan(
                heads,
                channels,
                1000,
                dbfs,
                speed,
                azimuth,
                12_500,
                10_000,
                drop,
                REEL.responseHz(),
                REEL.tolerances());
    }

    @Test
    void plansAreChecked() {
        assertThat(with(2, 1, 0, 3150, 10_000, 0.1)).isNotNull();
        assertThat(with(2, 1, -60, 3150, 3151, 0.1)).isNotNull();
        assertThatThrownBy(() -> with(1, 2, -9, 3150, 10_000, 3)).hasMessageContaining("heads 1");
        assertThatThrownBy(() -> with(3, 3, -9, 3150, 10_000, 3)).hasMessageContaining("channels 3");
        assertThatThrownBy(() -> with(3, 2, 0.5, 3150, 10_000, 3)).hasMessageContaining("referenceDbfs 0.5");
        assertThatThrownBy(() -> with(3, 2, -9, 0, 10_000, 3)).hasMessageContaining("speedHz");
        assertThatThrownBy(() -> with(3, 2, -9, 3150, 10_000, 0)).hasMessageContaining("overBiasDropDb");
        assertThatThrownBy(() -> with(3, 2, -9, 3150, 3150, 3))
                .hasMessage("azimuthHz 3150.0 is not above the tone of the speed section, 3150.0");
        assertThatThrownBy(() -> new AlignmentPlan(
                        3, 2, 1000, -9, 3150, 10_000, 12_000, 10_000, 3, REEL.responseHz(), REEL.tolerances()))
                .hasMessageContaining("lacks 12000.0 Hz");
    }

    /** The tolerances of common practice, and what they are called where one is not above 0. */
    @Test
    void tolerancesAreChecked() {
        Tolerances usual = Tolerances.commonPractice();
        assertThat(usual).isEqualTo(new Tolerances(0.5, 10, 1, 0.5, 2, 1, 1, 3, 3));
        String[] names = {
            "speedPercent",
            "azimuthMicroseconds",
            "azimuthLossDb",
            "replayLevelDb",
            "replayResponseDb",
            "overBiasDropDb",
            "recordLevelDb",
            "recordResponseDb",
            "thirdHarmonicPercent"
        };
        for (int i = 0; i < names.length; i++) {
            double[] t = {1, 1, 1, 1, 1, 1, 1, 1, 1};
            t[i] = 0;
            assertThatThrownBy(() -> new Tolerances(t[0], t[1], t[2], t[3], t[4], t[5], t[6], t[7], t[8]))
                    .hasMessageContaining(names[i]);
        }
    }

    @Test
    void takesAndTargetsAreChecked() {
        assertThatThrownBy(() -> new Take(List.of(), 1)).hasMessage("a take without a tone");
        assertThatThrownBy(() -> Take.tone(1000, 0, 0)).hasMessageContaining("seconds");
        assertThatThrownBy(() -> Take.tones(List.of(1000.0, 1000.0), 0, 1))
                .hasMessage("tone 1 of 1000.0 Hz is not above the one before");
        assertThat(Take.tones(List.of(1000.0, 2000.0), -20, 1).tones())
                .containsExactly(new SentTone(1000, -20), new SentTone(2000, -20));
        assertThatThrownBy(() -> new SentTone(0, 0)).hasMessageContaining("frequencyHz");
        assertThatThrownBy(() -> new SentTone(1000, -81)).hasMessageContaining("levelDb");
        assertThatThrownBy(() -> new SentTone(1000, 21)).hasMessageContaining("levelDb");
        assertThatThrownBy(() -> Target.of(Quantity.LEVEL, Double.NaN, 1))
                .hasMessage(Quantity.LEVEL.id() + ": target NaN is not finite");
        assertThatThrownBy(() -> Target.of(Quantity.LEVEL, 0, 0)).hasMessageContaining("tolerance");
        assertThat(Target.of(Quantity.SPEED_ERROR, 0, 1).unit()).isEqualTo(Quantity.SPEED_ERROR.unit());
    }

    @Test
    void aReadingIsFoundByQuantityChannelAndFrequency() {
        Measurement first = new Measurement(
                List.of(
                        Reading.valid(Quantity.LEVEL, 1, "t").onChannel(1).atFrequency(1000),
                        Reading.valid(Quantity.RESPONSE, 2, "t").onChannel(2).atFrequency(1000),
                        Reading.valid(Quantity.RESPONSE, 3, "t").onChannel(1).atFrequency(2000)),
                List.of());
        Measurement second = new Measurement(
                List.of(
                        Reading.valid(Quantity.RESPONSE, 4, "t").onChannel(1).atFrequency(1000),
                        Reading.valid(Quantity.SPEED_ERROR, 5, "t")),
                List.of());
        List<Measurement> takes = List.of(first, second);
        assertThat(Readers.at(takes, Quantity.RESPONSE, 1, 1000).value()).hasValue(4);
        assertThat(Readers.at(takes, Quantity.RESPONSE, 2, 1000).value()).hasValue(2);
        assertThat(Readers.onChannel(0, Quantity.LEVEL, 1).of(takes).value()).hasValue(1);
        assertThat(Readers.between(1, Quantity.SPEED_ERROR).of(takes).value()).hasValue(5);
        for (Reading missing : List.of(
                Readers.at(takes, Quantity.RESPONSE, 2, 2000),
                Readers.onChannel(1, Quantity.LEVEL, 1).of(takes),
                Readers.between(0, Quantity.SPEED_ERROR).of(takes))) {
            assertThat(missing.status()).isEqualTo(Status.INSUFFICIENT_DATA);
            assertThat(missing.method()).isEqualTo("not found in the recording");
            assertThat(missing.channel()).isEqualTo(OptionalInt.empty());
        }
    }

    /** Which states end, and which of them well. */
    @Test
    void statesAreFinalOrReached() {
        for (State state : State.values()) {
            boolean well = state == State.DONE || state == State.AS_NEAR_AS_KNOWN;
            assertThat(state.isReached()).isEqualTo(well);
            assertThat(state.isFinal()).isEqualTo(well || state == State.OUT_OF_REACH);
        }
    }

    /** Tones within 2 % and half a decibel are the same, to either side. */
    @Test
    void tonesOfTrackingAreTheSameWithinTheirLimits() {
        List<Level> without = List.of(new Level(1000, -20, -21));
        for (double hz : new double[] {981.5, 1019}) {
            for (double sent : new double[] {-20.49, -19.51}) {
                CompandingTracking same = CompandingTracking.of(without, List.of(new Level(hz, sent, -19)));
                assertThat(same.errors()).containsExactly(new CompandingTracking.Deviation(hz, sent, 2));
            }
        }
        for (Level other : List.of(
                new Level(979, -20, -19),
                new Level(1022, -20, -19),
                new Level(1000, -20.5, -19),
                new Level(1000, -19.5, -19))) {
            assertThatThrownBy(() -> CompandingTracking.of(without, List.of(other)))
                    .hasMessage("the recordings with and without noise reduction share no tone");
        }
        assertThatThrownBy(() -> new Level(0, -20, -20)).hasMessageContaining("frequencyHz");
        assertThatThrownBy(() -> new Level(1000, Double.NaN, -20)).hasMessage("levels NaN, -20.0 are not finite");
        assertThatThrownBy(() -> new Level(1000, -20, Double.POSITIVE_INFINITY)).hasMessageContaining("not finite");
    }

    /** The third harmonic of 3 % itself counts as not yet above: the level there is that of the point. */
    @Test
    void theMaximumOutputLevelAtAPointIsThatPoint() {
        List<MaximumOutputLevel.Point> points =
                List.of(new MaximumOutputLevel.Point(2, 3), new MaximumOutputLevel.Point(4, 6));
        assertThat(MaximumOutputLevel.between(points).orElseThrow()).isCloseTo(2, within(1e-12));
        assertThat(MaximumOutputLevel.between(points.subList(0, 1))).isEmpty();
        assertThat(new MaximumOutputLevel.Point(0, 100).thirdHarmonicPercent()).isEqualTo(100);
        assertThatThrownBy(() -> new MaximumOutputLevel.Point(0, 100.1))
                .hasMessage("thirdHarmonicPercent 100.1 is not in (0, 100]");
        assertThatThrownBy(() -> new MaximumOutputLevel.Point(Double.NaN, 1)).hasMessage("levelDb NaN is not finite");
    }
}
