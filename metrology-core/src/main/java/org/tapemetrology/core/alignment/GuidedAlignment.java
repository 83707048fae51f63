/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.alignment.Request.Source;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;

/**
 * Leads through the alignment of a recorder in the trade's order: asks for something to be done, played or recorded, takes
 * what was measured of it, says what to turn, and repeats until each trimmer is set or found unable to.
 *
 * <p>The caller turns what {@link Request#before()} and {@link Request#between()} ask for, tells by {@link #stopped} where
 * a trimmer came to its stop, and hands the measurement of each take to {@link #take}. A take of one tone is to give the
 * readings of {@link org.tapemetrology.core.quantity.Quantity#LEVEL}, {@code SPEED_ERROR}, {@code AZIMUTH_DELAY} and
 * {@code DISTORTION_THIRD_HARMONIC} of that tone; one of several tones a {@code RESPONSE} and a {@code LEVEL} at each; takes
 * of a response one after the other a {@code RESPONSE} re the reference frequency.
 *
 * <pre>{@code
 * GuidedAlignment guide = new GuidedAlignment(AlignmentPlan.cassette(2, 2, -12, 2.6));
 * for (Optional<Request> next = guide.next(); next.isPresent(); next = guide.next()) {
 *     guide.take(bench.perform(next.get()));
 * }
 * guide.outcomes().forEach(outcome -> System.out.println(outcome.sentence()));
 * }</pre>
 *
 * <p>Never NaN: readings hold finite values only. Thread-confined.
 *
 * <p>Targets and tolerances are in the units of {@link Tolerances}; the order of the steps and the limits are common
 * practice, no source. Cost: nothing beside the takes: up to 8 readings a trimmer, on the record side up to 5 rounds
 * of record, rewind and replay.
 *
 * <p>Not for finding a fault: a machine that has one is repaired first, or its trimmers are set to hide it.
 */
public final class GuidedAlignment {
    /** Most rounds of record, rewind and replay for the record side. */
    public static final int MOST_ROUNDS = 5;

    private static final int MOST_READINGS = 8;
    private static final double TAPE_SECONDS = 15;
    private static final double AZIMUTH_SECONDS = 8;
    private static final double RESPONSE_SECONDS = 5;
    private static final double AZIMUTH_DB = -10;
    private static final double RESPONSE_DB = -20;
    /** Below this a full-width test tape reads high by fringing (IEC 60094-2 and AES7, from memory). */
    private static final double FRINGING_HZ = 500;

    private final AlignmentPlan plan;
    private final List<Procedure> procedures = new ArrayList<>();
    private List<Measurement> replayResponse = List.of();
    private int at;
    private int ownRecordings;

    /**
     * An alignment that has not begun.
     *
     * @param plan what is to be aligned
     */
    public GuidedAlignment(AlignmentPlan plan) {
        this.plan = plan;
        procedures.add(new HandProcedure(ServiceStep.CLEANING));
        procedures.add(new HandProcedure(ServiceStep.TAPE_HANDLING));
        procedures.add(speed());
        procedures.add(
                azimuth(ServiceStep.REPLAY_AZIMUTH, Source.TEST_TAPE, TrimmerKind.REPLAY_AZIMUTH, MOST_READINGS));
        procedures.add(replayLevel());
        procedures.add(replayResponse());
        // The treble trimmer moves the level a little where the reference frequency is high.
        procedures.add(replayLevel());
        if (plan.heads() == 3) {
            procedures.add(
                    azimuth(ServiceStep.RECORD_AZIMUTH, Source.OWN_RECORDING, TrimmerKind.RECORD_AZIMUTH, MOST_ROUNDS));
        }
        procedures.add(new RecordSide(plan, MOST_ROUNDS));
    }

    private Procedure speed() {
        return new TrimmerRounds(
                        tape(ServiceStep.SPEED, List.of(Take.tone(plan.speedHz(), 0, TAPE_SECONDS))), MOST_READINGS)
                .with(
                        TrimmerKind.SPEED.id(1),
                        Target.of(Quantity.SPEED_ERROR, 0, plan.tolerances().speedPercent()),
                        TrimmerKind.SPEED.guess(),
                        Readers.onChannel(0, Quantity.SPEED_ERROR, 1));
    }

    private Procedure azimuth(ServiceStep step, Source source, TrimmerKind trimmer, int most) {
        double db = source == Source.TEST_TAPE ? AZIMUTH_DB : RESPONSE_DB;
        SentTone longWave = new SentTone(plan.speedHz(), source == Source.TEST_TAPE ? 0 : db);
        SentTone shortWave = new SentTone(plan.azimuthHz(), db);
        if (plan.channels() == 1) {
            return new HeadPeak(
                    step,
                    source,
                    trimmer.id(1),
                    longWave,
                    shortWave,
                    plan.tolerances().azimuthLossDb());
        }
        List<Take> takes =
                List.of(new Take(List.of(longWave), AZIMUTH_SECONDS), new Take(List.of(shortWave), AZIMUTH_SECONDS));
        return new TrimmerRounds(Request.of(step, source, takes, step.instruction()), most)
                .with(
                        trimmer.id(1),
                        Target.of(Quantity.AZIMUTH_DELAY, 0, plan.tolerances().azimuthMicroseconds()),
                        trimmer.guess(),
                        measured -> Readers.delay(measured, 1e6 / plan.azimuthHz()));
    }

    private Procedure replayLevel() {
        TrimmerRounds rounds = new TrimmerRounds(
                tape(ServiceStep.REPLAY_LEVEL, List.of(Take.tone(plan.referenceHz(), 0, TAPE_SECONDS))), MOST_READINGS);
        for (int channel = 1; channel <= plan.channels(); channel++) {
            rounds.with(
                    TrimmerKind.REPLAY_LEVEL.id(channel),
                    Target.of(
                            Quantity.LEVEL,
                            plan.referenceDbfs(),
                            plan.tolerances().replayLevelDb()),
                    TrimmerKind.REPLAY_LEVEL.guess(),
                    Readers.onChannel(0, Quantity.LEVEL, channel));
        }
        return rounds;
    }

    private Procedure replayResponse() {
        List<Take> takes = plan.responseHz().stream()
                .map(f -> Take.tone(f, RESPONSE_DB, RESPONSE_SECONDS))
                .toList();
        TrimmerRounds rounds = new TrimmerRounds(tape(ServiceStep.REPLAY_RESPONSE, takes), MOST_READINGS);
        for (int channel = 1; channel <= plan.channels(); channel++) {
            int number = channel;
            rounds.with(
                    TrimmerKind.REPLAY_EQUALISATION.id(channel),
                    Target.of(Quantity.RESPONSE, 0, plan.tolerances().replayResponseDb() / 2),
                    TrimmerKind.REPLAY_EQUALISATION.guess(),
                    measured -> Readers.at(measured, Quantity.RESPONSE, number, plan.trebleHz()));
        }
        return rounds;
    }

    private static Request tape(ServiceStep step, List<Take> takes) {
        return Request.of(step, Source.TEST_TAPE, takes, step.instruction());
    }

    /**
     * What is to be done next; the same until its measurements were taken.
     *
     * @return the request, empty where the alignment is over
     */
    public Optional<Request> next() {
        while (at < procedures.size()) {
            Optional<Request> request = procedures.get(at).request();
            if (request.isPresent()) {
                return request;
            }
            at++;
        }
        return Optional.empty();
    }

    /**
     * Takes what was measured of the takes of the request.
     *
     * @param takes a measurement for each take, in order; none for what is done by hand
     * @return what is said of each trimmer
     */
    public List<Instruction> take(List<Measurement> takes) {
        Request request = next().orElseThrow(() -> new IllegalStateException("the alignment is over"));
        if (takes.size() != request.takes().size()) {
            throw new IllegalArgumentException(takes.size() + " measurements for "
                    + request.takes().size() + " takes of " + request.step().id());
        }
        if (request.step() == ServiceStep.REPLAY_RESPONSE) {
            replayResponse = List.copyOf(takes);
        }
        if (request.source() == Source.OWN_RECORDING) {
            ownRecordings++;
        }
        return procedures.get(at).take(takes);
    }

    /**
     * Tells that a turn of the request ended at the stop of a trimmer.
     *
     * @param trimmer which one
     */
    public void stopped(String trimmer) {
        if (at < procedures.size()) {
            procedures.get(at).stopped(trimmer);
        }
    }

    /**
     * How each thing ended, or stands by now.
     *
     * @return one outcome for each trimmer, response and distortion that was read; of one that was set twice the last
     */
    public List<Outcome> outcomes() {
        List<Outcome> all = new ArrayList<>();
        for (Procedure procedure : procedures) {
            for (Outcome outcome : procedure.outcomes()) {
                all.removeIf(before -> before.what().equals(outcome.what()) && before.step() == outcome.step());
                all.add(outcome);
            }
        }
        if (!replayResponse.isEmpty()) {
            all.addAll(new ResponseCheck(
                            ServiceStep.REPLAY_RESPONSE, plan.tolerances().replayResponseDb(), FRINGING_HZ)
                    .of(replayResponse, plan.channels(), MOST_READINGS));
        }
        return List.copyOf(all);
    }

    /**
     * Whether everything that was read is where it should be.
     *
     * @return true where each outcome is reached and nothing is left to be done
     */
    public boolean isReached() {
        return next().isEmpty()
                && outcomes().stream().allMatch(outcome -> outcome.state().isReached());
    }

    /**
     * How often the machine recorded and replayed.
     *
     * @return number of rounds
     */
    public int ownRecordings() {
        return ownRecordings;
    }
}
