/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.alignment.Request.Source;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/**
 * What the guide asks and says, on a machine of a few formulas. How well it aligns machines that are heard through their
 * recordings alone is tested on the virtual recorder, in the module of the examples.
 */
class GuidedAlignmentTest {
    private static final AlignmentPlan PLAN = AlignmentPlan.cassette(2, 2, -12, 2.5);

    /** A machine whose readings follow its trimmers, each with a scatter of 0.05. */
    private static final class Machine {
        private final Random random = new Random(5);
        private final Map<String, Double> errors = new HashMap<>();
        private final List<String> stuck = new ArrayList<>();
        private boolean silent;

        private static final Map<String, Double> PER_TURN =
                Map.of("speed", 12.0, "replay-azimuth", -150.0, "replay-level", 15.0, "replay-equalisation", 10.0);

        double of(String trimmer) {
            return errors.getOrDefault(trimmer, 0.0);
        }

        void turn(Turn turn) {
            if (stuck.contains(turn.trimmer())) {
                return;
            }
            double perTurn = PER_TURN.getOrDefault(turn.trimmer().replaceAll("-\\d$", ""), 12.0);
            errors.merge(turn.trimmer(), perTurn * turn.turns() * (1 + 0.1 * random.nextGaussian()), Double::sum);
        }

        List<Measurement> perform(Request request) {
            request.before().forEach(this::turn);
            List<Measurement> all = new ArrayList<>();
            for (Take take : request.takes()) {
                if (!all.isEmpty()) {
                    request.between().forEach(this::turn);
                }
                all.add(measure(request.source(), take));
            }
            return all;
        }

        private Measurement measure(Source source, Take take) {
            List<Reading> readings = new ArrayList<>();
            readings.add(read(Quantity.SPEED_ERROR, of("speed")).onChannel(1));
            readings.add(read(Quantity.AZIMUTH_DELAY, of("replay-azimuth")));
            for (int channel = 1; channel <= 2; channel++) {
                readings.add(read(Quantity.DISTORTION_THIRD_HARMONIC, 1).onChannel(channel));
                for (SentTone tone : take.tones()) {
                    double response = response(source, tone.frequencyHz(), channel);
                    double gain = of("replay-level-" + channel)
                            + (source == Source.OWN_RECORDING ? of("record-level-" + channel) : 0);
                    Reading level = read(Quantity.LEVEL, -12 + tone.levelDb() + gain + response)
                            .onChannel(channel);
                    Reading flat = read(Quantity.RESPONSE, response).onChannel(channel);
                    readings.add(take.tones().size() > 1 ? level.atFrequency(tone.frequencyHz()) : level);
                    readings.add(flat.atFrequency(tone.frequencyHz()));
                }
            }
            return new Measurement(readings, List.of());
        }

        /** Treble that rises with the logarithm of the frequency; over the bias, a parabola with the drop that the plan wants. */
        private double response(Source source, double hz, int channel) {
            double treble = Math.max(0, Math.log(hz / 315) / Math.log(10_000 / 315.0));
            double replay = of("replay-equalisation-" + channel) * treble;
            if (source == Source.TEST_TAPE) {
                return replay;
            }
            double over = of("bias-" + channel);
            double bias = -treble * (over + over * over / 12);
            return replay + bias + of("record-equalisation-" + channel) * treble;
        }

        private Reading read(Quantity quantity, double value) {
            return silent
                    ? Reading.without(quantity, Status.NO_CARRIER, "formula")
                    : Reading.valid(quantity, value + 0.05 * random.nextGaussian(), "formula")
                            .withTypeA(new StandardUncertainty(0.05, 50))
                            .withUncertainty(new ExpandedUncertainty(0.1, 0.95));
        }
    }

    private static List<Request> run(GuidedAlignment guide, Machine machine) {
        List<Request> asked = new ArrayList<>();
        for (Optional<Request> next = guide.next(); next.isPresent(); next = guide.next()) {
            asked.add(next.get());
            guide.take(machine.perform(next.get()));
        }
        return asked;
    }

    /** The order of the trade (common practice, no source). */
    @Test
    void theStepsComeInTheOrderOfTheTrade() {
        Machine machine = new Machine();
        machine.errors.putAll(Map.of("speed", 2.0, "replay-azimuth", 60.0, "replay-level-1", -2.0));
        List<Request> asked = run(new GuidedAlignment(PLAN), machine);
        assertThat(asked.stream().map(Request::step).distinct())
                .containsExactly(
                        ServiceStep.CLEANING,
                        ServiceStep.TAPE_HANDLING,
                        ServiceStep.SPEED,
                        ServiceStep.REPLAY_AZIMUTH,
                        ServiceStep.REPLAY_LEVEL,
                        ServiceStep.REPLAY_RESPONSE,
                        ServiceStep.BIAS,
                        ServiceStep.RECORD_SENSITIVITY);
        assertThat(Math.abs(machine.of("speed"))).isLessThan(PLAN.tolerances().speedPercent());
        assertThat(Math.abs(machine.of("replay-azimuth")))
                .isLessThan(PLAN.tolerances().azimuthMicroseconds());
        assertThat(Math.abs(machine.of("replay-level-1")))
                .isLessThan(PLAN.tolerances().replayLevelDb());
    }

    /** Before a reference tape is loaded: a demagnetised path, no recording, a scrap tape first. */
    @Test
    void theReferenceTapeIsProtectedFirst() {
        GuidedAlignment guide = new GuidedAlignment(PLAN);
        String sentences = "";
        for (int i = 0; i < 2; i++) {
            Request request = guide.next().orElseThrow();
            assertThat(request.source()).isEqualTo(Source.HAND);
            sentences += request.sentence();
            guide.take(List.of());
        }
        assertThat(sentences).containsIgnoringCase("demagneti").containsIgnoringCase("scrap tape");
        assertThat(guide.next().orElseThrow().source()).isEqualTo(Source.TEST_TAPE);
    }

    @Test
    void aTrimmerThatDoesNothingIsOutOfReachAndTheRestGoesOn() {
        Machine machine = new Machine();
        machine.errors.put("speed", -3.0);
        machine.stuck.add("speed");
        machine.errors.put("replay-level-2", 2.0);
        GuidedAlignment guide = new GuidedAlignment(PLAN);
        run(guide, machine);
        assertThat(outcome(guide, "speed").state()).isEqualTo(State.OUT_OF_REACH);
        assertThat(outcome(guide, "replay-level-2").state().isReached()).isTrue();
        assertThat(guide.isReached()).isFalse();
    }

    @Test
    void aTrimmerAtItsStopIsOutOfReach() {
        Machine machine = new Machine();
        machine.errors.put("speed", -3.0);
        machine.stuck.add("speed");
        GuidedAlignment guide = new GuidedAlignment(PLAN);
        while (guide.next().orElseThrow().step() != ServiceStep.SPEED) {
            guide.take(List.of());
        }
        guide.take(machine.perform(guide.next().orElseThrow()));
        guide.stopped("speed");
        guide.take(machine.perform(guide.next().orElseThrow()));
        assertThat(outcome(guide, "speed").state()).isEqualTo(State.OUT_OF_REACH);
        assertThat(outcome(guide, "speed").sentence()).contains("stop");
        assertThat(guide.next().orElseThrow().step()).isEqualTo(ServiceStep.REPLAY_AZIMUTH);
    }

    @Test
    void withoutAReadingItAsksAgainAndEndsUnreached() {
        Machine machine = new Machine();
        machine.silent = true;
        GuidedAlignment guide = new GuidedAlignment(PLAN);
        assertThat(run(guide, machine)).hasSizeLessThan(60);
        assertThat(outcome(guide, "speed").state()).isEqualTo(State.NO_READING);
        assertThat(guide.isReached()).isFalse();
    }

    /** Five is what a two-head machine may take (issue of the bench). */
    @Test
    void theRecordSideTakesAtMostFiveRounds() {
        for (double error : new double[] {-2.5, 0, 2.5}) {
            Machine machine = new Machine();
            machine.errors.putAll(
                    Map.of("record-level-1", error, "record-equalisation-2", -error, "bias-1", error / 2));
            GuidedAlignment guide = new GuidedAlignment(PLAN);
            run(guide, machine);
            assertThat(guide.ownRecordings()).isBetween(2, GuidedAlignment.MOST_ROUNDS);
            assertThat(outcome(guide, "record-level-1").state().isReached()).isTrue();
        }
    }

    /** Three heads have an azimuth of the record head, which is read from the machine's own recordings. */
    @Test
    void aMachineOfThreeHeadsHasAnAzimuthMore() {
        AlignmentPlan three = AlignmentPlan.cassette(3, 2, -12, 2.5);
        List<Request> asked = run(new GuidedAlignment(three), new Machine());
        assertThat(asked.stream().map(Request::step).distinct()).contains(ServiceStep.RECORD_AZIMUTH);
        assertThat(asked)
                .filteredOn(request -> request.step() == ServiceStep.RECORD_AZIMUTH)
                .allSatisfy(request -> {
                    assertThat(request.source()).isEqualTo(Source.OWN_RECORDING);
                    assertThat(request.takes()).containsExactly(Take.tone(3150, -20, 8), Take.tone(10_000, -20, 8));
                });
        assertThat(asked)
                .filteredOn(request -> request.step() == ServiceStep.REPLAY_AZIMUTH)
                .allSatisfy(request ->
                        assertThat(request.takes()).containsExactly(Take.tone(3150, 0, 8), Take.tone(10_000, -10, 8)));
    }

    @Test
    void measurementsOfAnotherRequestAreRefused() {
        GuidedAlignment guide = new GuidedAlignment(PLAN);
        assertThatThrownBy(() -> guide.take(List.of(new Measurement(List.of(), List.of()))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("1 measurements for 0 takes of cleaning");
    }

    @Test
    void afterTheEndNothingIsTaken() {
        GuidedAlignment guide = new GuidedAlignment(PLAN);
        run(guide, new Machine());
        assertThatThrownBy(() -> guide.take(List.of())).isInstanceOf(IllegalStateException.class);
    }

    /** Of every take with something to set a sentence is said at once, and the responses stand among the outcomes. */
    @Test
    void whatIsMeasuredIsSaid() {
        Machine machine = new Machine();
        machine.errors.putAll(Map.of("speed", 2.0, "record-level-1", 1.5, "bias-2", -1.0));
        GuidedAlignment guide = new GuidedAlignment(PLAN);
        Map<ServiceStep, List<String>> said = new HashMap<>();
        String bias = "";
        for (Optional<Request> next = guide.next(); next.isPresent(); next = guide.next()) {
            Request request = next.get();
            bias = request.step() == ServiceStep.BIAS ? request.sentence() : bias;
            List<Instruction> now = guide.take(machine.perform(request));
            assertThat(now).allSatisfy(each -> assertThat(each.sentence()).isNotBlank());
            said.computeIfAbsent(request.step(), step -> new ArrayList<>())
                    .addAll(now.stream().map(Instruction::trimmer).toList());
        }
        assertThat(said.get(ServiceStep.CLEANING)).isEmpty();
        assertThat(said.get(ServiceStep.SPEED)).contains("speed");
        assertThat(said.get(ServiceStep.REPLAY_AZIMUTH)).contains("replay-azimuth");
        assertThat(said.get(ServiceStep.REPLAY_LEVEL)).contains("replay-level-1", "replay-level-2");
        assertThat(said.get(ServiceStep.BIAS)).contains("bias-1", "bias-2");
        assertThat(said.get(ServiceStep.RECORD_SENSITIVITY)).contains("record-level-1", "record-level-2");
        assertThat(bias).matches(".* s, \\d+ Hz(, \\d+ Hz)+ together at .*");
        // Of each channel the trimmer and the response itself.
        assertThat(guide.outcomes().stream()
                        .filter(each -> each.step() == ServiceStep.REPLAY_RESPONSE)
                        .map(Outcome::what))
                .hasSize(4)
                .contains("replay-equalisation-1", "replay-equalisation-2");
        assertThat(guide.outcomes()).extracting(Outcome::step).contains(ServiceStep.RECORD_RESPONSE);
    }

    private static Outcome outcome(GuidedAlignment guide, String what) {
        return guide.outcomes().stream()
                .filter(each -> each.what().equals(what))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void frequenciesOfAResponseMustRise() {
        List<Double> rising = PLAN.responseHz();
        List<Double> swapped = new ArrayList<>(rising);
        swapped.set(0, rising.get(1));
        swapped.set(1, rising.get(0));
        assertThatThrownBy(() -> withResponse(swapped))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("responseHz")
                .hasMessageContaining(rising.get(0) + " Hz follows " + rising.get(1) + " Hz");
        List<Double> twice = new ArrayList<>(rising);
        twice.add(1, rising.get(0));
        assertThatThrownBy(() -> withResponse(twice)).hasMessageContaining("does not rise");
    }

    private static AlignmentPlan withResponse(List<Double> responseHz) {
        return new AlignmentPlan(
                PLAN.heads(),
                PLAN.channels(),
                PLAN.referenceHz(),
                PLAN.referenceDbfs(),
                PLAN.speedHz(),
                PLAN.azimuthHz(),
                PLAN.trebleHz(),
                PLAN.biasHz(),
                PLAN.overBiasDropDb(),
                responseHz,
                PLAN.tolerances());
    }
}
