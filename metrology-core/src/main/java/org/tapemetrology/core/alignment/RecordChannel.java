/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** Bias, level and treble of one channel of the {@link RecordSide}: what is read, and what its trimmers are told. */
final class RecordChannel {
    /** The round after which treble has its turn in any case. */
    private static final int LAST_OF_BIAS = 3;
    /** A hand is a tenth off: a turn for less than this need not be looked at again. */
    private static final double SMALL_DB = 1;
    /** Standard deviations to either side for 95 %, of a normal distribution. */
    private static final double TWO_SIDED = 2;
    /** A few points about the target tell the slope to a fifth or better. */
    private static final double SLOPE_DOUBT = 0.2;
    /** The hand, dead travel and that slope together. */
    private static final double FORETOLD_DOUBT = 0.35;

    private final AlignmentPlan plan;
    private final int number;
    private final String biasTrimmer;
    private final SteppedBias stepped;
    private final TrimmerLoop level;
    private final TrimmerLoop treble;
    private @Nullable TrimmerLoop bias;
    private boolean biasOpen = true;

    private @Nullable Instruction biasSays;
    private @Nullable Instruction levelSays;
    private @Nullable Instruction trebleSays;

    private Optional<Reading> shortWave = Optional.empty();
    private Optional<Reading> levelReading = Optional.empty();
    private Optional<Reading> trebleReading = Optional.empty();

    RecordChannel(AlignmentPlan plan, int number) {
        this.plan = plan;
        this.number = number;
        biasTrimmer = TrimmerKind.BIAS.id(number);
        stepped = new SteppedBias(plan, number);
        level = new TrimmerLoop(
                TrimmerKind.RECORD_LEVEL.id(number),
                Target.of(
                        Quantity.LEVEL, plan.referenceDbfs(), plan.tolerances().recordLevelDb()),
                TrimmerKind.RECORD_LEVEL.guess());
        treble = new TrimmerLoop(
                TrimmerKind.RECORD_EQUALISATION.id(number),
                Target.of(Quantity.RESPONSE, 0, plan.tolerances().recordResponseDb() / 3),
                TrimmerKind.RECORD_EQUALISATION.guess());
    }

    String biasTrimmer() {
        return biasTrimmer;
    }

    /** Returns what is said of the bias. */
    Instruction takeCurve(List<Measurement> takes, double turnsPerTake, List<Turn> next) {
        stepped.take(takes, turnsPerTake);
        double end = (takes.size() - 1) * turnsPerTake;
        OptionalDouble target = stepped.target();
        if (target.isEmpty()) {
            biasOpen = false;
            biasSays = new Instruction(
                    biasTrimmer,
                    State.OUT_OF_REACH,
                    0,
                    OptionalDouble.empty(),
                    biasTrimmer + ": the curve has no peak, or ends before it has dropped by " + plan.overBiasDropDb()
                            + " dB");
            next.add(new Turn(biasTrimmer, -end / 2));
            return biasSays;
        }
        double turn = stepped.placeOfTarget() - end;
        biasSays = new Instruction(
                biasTrimmer,
                State.TURN,
                0,
                OptionalDouble.of(turn),
                String.format(
                        Locale.ROOT,
                        "%s: turn %s by about %.2f of a turn, to where short waves are %+.1f dB re the reference frequency%s",
                        biasTrimmer,
                        turn > 0 ? "clockwise" : "counter-clockwise",
                        Math.abs(turn),
                        target.getAsDouble(),
                        doubt()));
        bias = new TrimmerLoop(
                biasTrimmer,
                Target.of(
                        Quantity.RESPONSE,
                        target.getAsDouble(),
                        plan.tolerances().overBiasDropDb() / 3),
                new TrimmerLaw(stepped.perTurn(), SLOPE_DOUBT));
        next.add(new Turn(biasTrimmer, turn));
        return biasSays;
    }

    /** Returns what is said of each trimmer that was looked at. */
    List<Instruction> takeRound(List<Measurement> takes, int rounds, List<Turn> next) {
        List<Instruction> said = new ArrayList<>();
        double trebleToCome = 0;
        if (biasOpen) {
            trebleToCome = bias(takes, rounds, next);
            Optional.ofNullable(biasSays).ifPresent(said::add);
        }
        Reading sensitivity = Readers.onChannel(0, Quantity.LEVEL, number).of(takes);
        levelReading = Optional.of(sensitivity);
        levelSays = said(level, sensitivity, levelSays, next);
        said.add(levelSays);
        if (!biasOpen) {
            Reading high = Readers.at(takes, Quantity.RESPONSE, number, plan.trebleHz());
            trebleReading = Optional.of(high);
            trebleSays = said(treble, foretold(high, trebleToCome), trebleSays, next);
            said.add(trebleSays);
        }
        return said;
    }

    /** A reading as it will be after a turn of the bias; how far that turn goes is known to a third or so. */
    private Reading foretold(Reading reading, double change) {
        if (change == 0 || !reading.isValid()) {
            return reading;
        }
        double own = reading.typeA().map(StandardUncertainty::value).orElse(0.0);
        Reading told = reading.withValue(reading.value().orElseThrow() + change)
                .withTypeA(StandardUncertainty.of(Math.hypot(own, FORETOLD_DOUBT * change)));
        return reading.uncertainty().map(told::withUncertainty).orElse(told);
    }

    /** Sets the bias; returns by how much treble will change by that. */
    private double bias(List<Measurement> takes, int rounds, List<Turn> next) {
        Reading reading = Readers.at(takes, Quantity.RESPONSE, number, plan.biasHz());
        shortWave = Optional.of(reading);
        if (bias == null) {
            return 0;
        }
        Instruction says = bias.next(reading);
        biasSays = says;
        boolean last = rounds >= LAST_OF_BIAS;
        if (says.state() != State.TURN) {
            biasOpen = says.state() == State.NO_READING && !last;
            return 0;
        }
        next.add(new Turn(biasTrimmer, says.turns().orElseThrow()));
        biasOpen = Math.abs(says.change()) > SMALL_DB && !last;
        return stepped.trebleChange(reading.value().orElseThrow());
    }

    private Instruction said(TrimmerLoop loop, Reading reading, @Nullable Instruction before, List<Turn> next) {
        if (before != null && before.state() == State.OUT_OF_REACH) {
            return before;
        }
        Instruction says = loop.next(reading);
        says.turns().ifPresent(t -> next.add(new Turn(says.trimmer(), t)));
        return says;
    }

    void stopped(String trimmer) {
        if (bias != null && trimmer.equals(biasTrimmer)) {
            bias.stopped();
        } else if (trimmer.equals(TrimmerKind.RECORD_LEVEL.id(number))) {
            level.stopped();
        } else if (trimmer.equals(TrimmerKind.RECORD_EQUALISATION.id(number))) {
            treble.stopped();
        }
    }

    List<Outcome> outcomes(int rounds) {
        List<Outcome> all = new ArrayList<>();
        add(all, ServiceStep.BIAS, biasSays, shortWave, rounds);
        add(all, ServiceStep.RECORD_SENSITIVITY, levelSays, levelReading, rounds);
        add(all, ServiceStep.RECORD_RESPONSE, trebleSays, trebleReading, rounds);
        return all;
    }

    private void add(
            List<Outcome> all, ServiceStep step, @Nullable Instruction says, Optional<Reading> reading, int rounds) {
        if (says != null) {
            boolean ofBias = step == ServiceStep.BIAS;
            // A small last turn of the bias is as good as read: see SMALL_DB.
            boolean small = ofBias && says.state() == State.TURN && !biasOpen;
            boolean doubtful = ofBias && says.state() == State.DONE && isTargetDoubtful();
            String sentence = small
                    ? String.format(
                            Locale.ROOT,
                            "%s: set by a last turn for %.1f dB, too small to be read again",
                            says.trimmer(),
                            Math.abs(says.change()))
                    : says.sentence();
            all.add(new Outcome(
                    step,
                    says.trimmer(),
                    small || doubtful ? State.AS_NEAR_AS_KNOWN : says.state(),
                    reading,
                    rounds,
                    ofBias && says.state().isReached() ? sentence + doubt() : sentence));
        }
    }

    private boolean isTargetDoubtful() {
        return stepped.deviation().isEmpty()
                || TWO_SIDED * stepped.deviation().getAsDouble()
                        > plan.tolerances().overBiasDropDb();
    }

    /** How well the curve tells the target, since readings near it tell nothing of that. */
    private String doubt() {
        return stepped.deviation().isEmpty()
                ? ", which hangs on a single take"
                : String.format(
                        Locale.ROOT,
                        " (the curve tells that to %.1f dB)",
                        TWO_SIDED * stepped.deviation().getAsDouble());
    }
}
