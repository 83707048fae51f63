/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/**
 * Bias, level and treble of one channel of the record side on an invented bias law in which everything can be told beforehand: short waves re
 * long ones fall by 12 dB a turn, treble by 18, and the level of the short wave is a parabola with its top 4 dB of that ratio
 * from the start. A drop of 2.4 dB then lies 4 + sqrt(2.4/0.15) = 8 dB from the start, two thirds of a turn.
 */
class RecordChannelTest {
    private static final AlignmentPlan PLAN = AlignmentPlan.cassette(2, 1, -12, 2.4);
    private static final double STEP = 0.05;
    private static final int TAKES = 16;
    private static final double TARGET = -8;
    private static final double TARGET_PLACE = 8 / 12.0;
    /** The search of the peak and the drop goes in 2000 steps over 11.25 dB. */
    private static final double GRID = 2 * 11.25 / 2000;

    private static Reading of(Quantity quantity, double value) {
        return Reading.valid(quantity, value, "law")
                .onChannel(1)
                .withTypeA(StandardUncertainty.of(0.02))
                .withUncertainty(new ExpandedUncertainty(0.1, 0.95));
    }

    private static Reading lost(Quantity quantity) {
        return Reading.without(quantity, Status.NO_CARRIER, "law").onChannel(1);
    }

    private static Measurement measured(Reading... readings) {
        return new Measurement(List.of(readings), List.of());
    }

    private static Measurement take(double place, double jump) {
        double x = 12 * place;
        return measured(
                of(Quantity.LEVEL, -32 - 0.15 * (x - 4) * (x - 4) + jump).atFrequency(6300),
                of(Quantity.RESPONSE, -x).atFrequency(6300),
                of(Quantity.RESPONSE, -1.5 * x).atFrequency(10_000));
    }

    private static List<Measurement> curve(double jumpDb) {
        List<Measurement> takes = new ArrayList<>();
        for (int i = 0; i < TAKES; i++) {
            takes.add(take(i * STEP, i % 2 == 0 ? jumpDb : -jumpDb));
        }
        return takes;
    }

    /** A curve that only falls: its trimmer does not go down to the peak. */
    private static List<Measurement> curveWithoutAPeak() {
        List<Measurement> takes = new ArrayList<>();
        for (int i = 0; i < TAKES; i++) {
            takes.add(measured(
                    of(Quantity.LEVEL, -32 - 0.6 * i).atFrequency(6300),
                    of(Quantity.RESPONSE, -0.6 * i).atFrequency(6300),
                    of(Quantity.RESPONSE, -0.9 * i).atFrequency(10_000)));
        }
        return takes;
    }

    private static List<Measurement> round(Reading level, Reading shortWave, Reading treble) {
        return List.of(
                measured(level, of(Quantity.DISTORTION_THIRD_HARMONIC, 1)),
                measured(shortWave.atFrequency(6300), treble.atFrequency(10_000)));
    }

    private static List<Measurement> round(double level, double shortWave, double treble) {
        return round(of(Quantity.LEVEL, level), of(Quantity.RESPONSE, shortWave), of(Quantity.RESPONSE, treble));
    }

    private static Outcome outcome(List<Outcome> all, ServiceStep step) {
        return all.stream().filter(each -> each.step() == step).findFirst().orElseThrow();
    }

    @Test
    void theSteppedCurveTellsWhereTheTrimmerBelongs() {
        SteppedBias stepped = new SteppedBias(PLAN, 1);
        stepped.take(curve(0), STEP);
        assertThat(stepped.target().orElseThrow()).isCloseTo(TARGET, within(GRID));
        assertThat(stepped.placeOfTarget()).isCloseTo(TARGET_PLACE, within(GRID / 12));
        assertThat(stepped.perTurn()).isCloseTo(-12, within(1e-9));
        assertThat(stepped.trebleChange(-6)).isCloseTo(1.5 * (TARGET + 6), within(1.5 * GRID));
        assertThat(stepped.deviation().orElseThrow()).isLessThan(GRID * TAKES);
    }

    /** A take that could not be read is left out, but the trimmer was turned after it too. */
    @Test
    void takesWithoutAReadingAreLeftOut() {
        for (int which = 0; which < 3; which++) {
            List<Measurement> takes = curve(0);
            for (int i : new int[] {0, 5, 13}) {
                List<Reading> readings = new ArrayList<>(takes.get(i).readings());
                Reading gone = readings.get(which);
                readings.set(
                        which,
                        lost(gone.quantity()).atFrequency(gone.atFrequencyHz().orElseThrow()));
                takes.set(i, new Measurement(readings, List.of()));
            }
            SteppedBias stepped = new SteppedBias(PLAN, 1);
            stepped.take(takes, STEP);
            assertThat(stepped.placeOfTarget()).isCloseTo(TARGET_PLACE, within(GRID / 12));
        }
    }

    /** Of ten takes each other one of the sixteen still makes a curve of eight; of five none. */
    @Test
    void sixTakesAreTheLeast() {
        List<Measurement> eight = new ArrayList<>();
        for (int i = 0; i < TAKES; i += 2) {
            eight.add(take(i * STEP, 0));
        }
        SteppedBias stepped = new SteppedBias(PLAN, 1);
        stepped.take(eight, 2 * STEP);
        // The last of these takes lies 8.4 dB from the start, a step of the grid is shorter.
        assertThat(stepped.target().orElseThrow()).isCloseTo(TARGET, within(GRID));
        assertThat(stepped.placeOfTarget()).isCloseTo(TARGET_PLACE, within(GRID / 12));
        stepped.take(curve(0).subList(0, 5), STEP);
        assertThat(stepped.target()).isEmpty();
        assertThat(stepped.deviation()).isEmpty();
    }

    @Test
    void whatTheCurveSays() {
        List<Turn> next = new ArrayList<>();
        Instruction says = new RecordChannel(PLAN, 1).takeCurve(curve(0.1), STEP, next);
        assertThat(says.state()).isEqualTo(State.TURN);
        assertThat(says.turns()).hasValue(next.get(0).turns());
        // Levels that jump by 0.1 dB move the drop, which falls by 1.2 dB for a decibel of the ratio.
        assertThat(next.get(0).turns()).isCloseTo(TARGET_PLACE - 0.75, within(0.02));
        assertThat(says.sentence())
                .matches(
                        "bias-1: turn counter-clockwise by about 0\\.0[789] of a turn, to where short waves are -[78]\\.[0-9] dB re the reference frequency \\(the curve tells that to 0\\.[1-9] dB\\)");
        assertThat(says.change()).isZero();
    }

    /** Without a peak the trimmer is left amid its travel, and level and treble are set all the same. */
    @Test
    void aCurveWithoutAPeakLeavesTheBiasInTheMiddle() {
        RecordChannel channel = new RecordChannel(PLAN, 1);
        List<Turn> next = new ArrayList<>();
        Instruction says = channel.takeCurve(curveWithoutAPeak(), STEP, next);
        assertThat(says.state()).isEqualTo(State.OUT_OF_REACH);
        assertThat(says.turns()).isEmpty();
        assertThat(says.sentence()).isEqualTo("bias-1: the curve has no peak, or ends before it has dropped by 2.4 dB");
        assertThat(next).hasSize(1);
        assertThat(next.get(0).turns()).isCloseTo(-0.375, within(1e-12));
        next.clear();
        List<Instruction> said = channel.takeRound(round(-14, -8, 3), 2, next);
        assertThat(said).extracting(Instruction::trimmer).containsExactly("record-level-1", "record-equalisation-1");
        assertThat(next).extracting(Turn::trimmer).containsExactly("record-level-1", "record-equalisation-1");
        // 2 dB too low at 19 dB a turn; 3 dB too high at 11.
        assertThat(next.get(0).turns()).isCloseTo(2 / 19.0, within(1e-9));
        assertThat(next.get(1).turns()).isCloseTo(-3 / 11.0, within(1e-9));
        Outcome bias = outcome(channel.outcomes(2), ServiceStep.BIAS);
        assertThat(bias.state()).isEqualTo(State.OUT_OF_REACH);
        assertThat(bias.sentence()).isEqualTo(says.sentence());
        assertThat(bias.reading()).isEmpty();
    }

    /** Too far off to be set by one turn: the treble waits for another round. */
    @Test
    void aFarTurnOfTheBiasIsReadAgainBeforeTheTrebleIsSet() {
        RecordChannel channel = new RecordChannel(PLAN, 1);
        channel.takeCurve(curve(0), STEP, new ArrayList<>());
        List<Turn> next = new ArrayList<>();
        List<Instruction> said = channel.takeRound(round(-12, TARGET + 2, 3), 2, next);
        assertThat(said).extracting(Instruction::trimmer).containsExactly("bias-1", "record-level-1");
        assertThat(said.get(0).state()).isEqualTo(State.TURN);
        assertThat(said.get(1).state()).isEqualTo(State.DONE);
        assertThat(next).hasSize(1);
        assertThat(next.get(0).turns()).isCloseTo(2 / 12.0, within(GRID / 12));
        // In the last of its rounds the bias is turned, and the treble set as it will be after that.
        next.clear();
        said = channel.takeRound(round(-12, TARGET + 2, 3), 3, next);
        assertThat(said)
                .extracting(Instruction::trimmer)
                .containsExactly("bias-1", "record-level-1", "record-equalisation-1");
        // 3 dB less 1.5 times 2 dB: nothing is left to be set.
        assertThat(said.get(2).state()).isNotEqualTo(State.TURN);
        assertThat(channel.takeRound(round(-12, TARGET, 3), 4, next))
                .extracting(Instruction::trimmer)
                .containsExactly("record-level-1", "record-equalisation-1");
    }

    /** A turn of at most 1 dB is trusted; the treble is told 1.5 times that beforehand. */
    @ParameterizedTest
    @CsvSource({"0.9, 4", "-0.9, -4", "0.9, -4"})
    void aSmallTurnOfTheBiasIsTrusted(double off, double treble) {
        RecordChannel channel = new RecordChannel(PLAN, 1);
        channel.takeCurve(curve(0), STEP, new ArrayList<>());
        List<Turn> next = new ArrayList<>();
        channel.takeRound(round(-12, TARGET + off, treble), 2, next);
        assertThat(next).extracting(Turn::trimmer).containsExactly("bias-1", "record-equalisation-1");
        assertThat(next.get(0).turns()).isCloseTo(off / 12, within(GRID / 12));
        assertThat(next.get(1).turns()).isCloseTo(-(treble - 1.5 * off) / 11, within(1.5 * GRID / 11));
        // In the next round the treble learns by what was foretold, which is no better known than to a third of the
        // change.
        TrimmerLaw law = TrimmerKind.RECORD_EQUALISATION.guess();
        double told = treble - 1.5 * off;
        double after = -told / 2;
        law.observe(-told / 11, after - told, Math.hypot(0.02, Math.hypot(0.02, 0.35 * 1.5 * off)));
        next.clear();
        channel.takeRound(round(-12, TARGET, after), 3, next);
        assertThat(next).extracting(Turn::trimmer).containsExactly("record-equalisation-1");
        // The target of the bias is known to a step of the grid, so the turn to some thousandths.
        assertThat(next.get(0).turns()).isCloseTo(law.turnsFor(-after), within(0.005));
        Outcome bias = outcome(channel.outcomes(3), ServiceStep.BIAS);
        assertThat(bias.state()).isEqualTo(State.AS_NEAR_AS_KNOWN);
        assertThat(bias.sentence()).isEqualTo("bias-1: set by a last turn for 0.9 dB, too small to be read again");
        assertThat(bias.reading().orElseThrow().value()).hasValue(TARGET + off);
        assertThat(bias.rounds()).isEqualTo(3);
    }

    @Test
    void aBiasThatIsRightIsDoneAndToldHowWell() {
        RecordChannel channel = new RecordChannel(PLAN, 1);
        channel.takeCurve(curve(0), STEP, new ArrayList<>());
        List<Turn> next = new ArrayList<>();
        List<Instruction> said = channel.takeRound(round(-12, TARGET, 0.5), 2, next);
        assertThat(said).extracting(Instruction::state).containsOnly(State.DONE);
        assertThat(next).isEmpty();
        List<Outcome> outcomes = channel.outcomes(2);
        assertThat(outcomes)
                .extracting(Outcome::step)
                .containsExactly(ServiceStep.BIAS, ServiceStep.RECORD_SENSITIVITY, ServiceStep.RECORD_RESPONSE);
        assertThat(outcomes).extracting(Outcome::state).containsOnly(State.DONE);
        assertThat(outcomes.get(0).sentence()).matches("bias-1: .* \\(the curve tells that to 0\\.[01] dB\\)");
        assertThat(outcomes.get(1).sentence()).isEqualTo("record-level-1: -12.00 dBFS, within the tolerance");
        assertThat(outcomes.get(2).reading().orElseThrow().value()).hasValue(0.5);
    }

    /** Twice the deviation of the target beyond its tolerance of 1 dB: the reading says done, the curve does not. */
    @Test
    void aDoubtfulCurveMakesNoBiasDone() {
        List<Measurement> takes = curve(0);
        for (int i : new int[] {3, 12, 14}) {
            takes.set(i, take(i * STEP, i == 12 ? 2.4 : -2.4));
        }
        SteppedBias stepped = new SteppedBias(PLAN, 1);
        stepped.take(takes, STEP);
        double target = stepped.target().orElseThrow();
        assertThat(stepped.deviation().isEmpty() || 2 * stepped.deviation().orElseThrow() > 1)
                .isTrue();
        RecordChannel channel = new RecordChannel(PLAN, 1);
        channel.takeCurve(takes, STEP, new ArrayList<>());
        List<Instruction> said = channel.takeRound(round(-12, target, 0), 2, new ArrayList<>());
        assertThat(said.get(0).state()).isEqualTo(State.DONE);
        assertThat(outcome(channel.outcomes(2), ServiceStep.BIAS).state()).isEqualTo(State.AS_NEAR_AS_KNOWN);
    }

    /** A bias that cannot be read is asked for again, up to the third round. */
    @Test
    void aBiasWithoutAReadingIsAskedForAgain() {
        RecordChannel channel = new RecordChannel(PLAN, 1);
        channel.takeCurve(curve(0), STEP, new ArrayList<>());
        List<Measurement> silent = round(of(Quantity.LEVEL, -12), lost(Quantity.RESPONSE), of(Quantity.RESPONSE, 0));
        List<Turn> next = new ArrayList<>();
        assertThat(channel.takeRound(silent, 2, next))
                .extracting(Instruction::trimmer)
                .containsExactly("bias-1", "record-level-1");
        assertThat(channel.takeRound(silent, 3, next))
                .extracting(Instruction::trimmer)
                .containsExactly("bias-1", "record-level-1", "record-equalisation-1");
        assertThat(outcome(channel.outcomes(3), ServiceStep.BIAS).state()).isEqualTo(State.NO_READING);
    }

    /** A treble without a reading stays without one, whatever the bias did. */
    @Test
    void aTrebleWithoutAReadingIsNotForetold() {
        RecordChannel channel = new RecordChannel(PLAN, 1);
        channel.takeCurve(curve(0), STEP, new ArrayList<>());
        List<Turn> next = new ArrayList<>();
        List<Instruction> said = channel.takeRound(
                round(of(Quantity.LEVEL, -12), of(Quantity.RESPONSE, TARGET + 0.9), lost(Quantity.RESPONSE)), 2, next);
        assertThat(said.get(2).state()).isEqualTo(State.NO_READING);
        assertThat(next).extracting(Turn::trimmer).containsExactly("bias-1");
    }

    @Test
    void theRoundsEndWhereNothingIsToBeTurned() {
        RecordSide side = new RecordSide(PLAN, 5);
        side.take(curve(0));
        side.take(round(-12, TARGET, 4));
        assertThat(side.request()).isPresent();
        side.take(round(-12, TARGET, 0));
        assertThat(side.request()).isEmpty();
    }

    @Test
    void theRoundsGoOnWhereSomethingCouldNotBeReadButNotForEver() {
        RecordSide side = new RecordSide(PLAN, 4);
        side.take(curve(0));
        List<Measurement> silent = round(lost(Quantity.LEVEL), of(Quantity.RESPONSE, TARGET), of(Quantity.RESPONSE, 0));
        side.take(silent);
        assertThat(side.request()).isPresent();
        side.take(silent);
        assertThat(side.request()).isPresent();
        side.take(silent);
        assertThat(side.request()).isEmpty();
    }
}
