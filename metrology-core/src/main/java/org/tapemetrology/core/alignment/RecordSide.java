/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/**
 * Bias, record sensitivity and record equalisation in few rounds of record, rewind, replay. The first round steps the bias;
 * the second corrects bias and level, and the third too where the second turned the bias far. The treble is set from the last turn of
 * the bias on, first as it will be after that turn: short waves, by which the bias is read, follow the equalisation too.
 */
final class RecordSide implements Procedure {
    private static final int BIAS_TAKES = 16;
    private static final double BIAS_STEP_TURNS = 0.05;
    private static final double BIAS_TAKE_SECONDS = 15;
    private static final double LEVEL_SECONDS = 25;
    private static final double RESPONSE_SECONDS = 12;
    private static final double BELOW_SATURATION_DB = -20;
    private static final double EACH_OF_MANY_DB = -28;

    private final AlignmentPlan plan;
    private final int most;
    private final List<RecordChannel> channels = new ArrayList<>();
    private List<Turn> turns = List.of();
    private List<Measurement> latest = List.of();
    private int rounds;
    private boolean over;

    RecordSide(AlignmentPlan plan, int most) {
        this.plan = plan;
        this.most = most;
        for (int channel = 1; channel <= plan.channels(); channel++) {
            channels.add(new RecordChannel(plan, channel));
        }
    }

    @Override
    public Optional<Request> request() {
        if (over) {
            return Optional.empty();
        }
        return Optional.of(rounds == 0 ? curve() : round());
    }

    private Request curve() {
        List<Turn> toStop = new ArrayList<>();
        List<Turn> between = new ArrayList<>();
        for (RecordChannel channel : channels) {
            toStop.add(new Turn(channel.biasTrimmer(), -BIAS_TAKES * BIAS_STEP_TURNS));
            between.add(new Turn(channel.biasTrimmer(), BIAS_STEP_TURNS));
        }
        List<Double> tones = new ArrayList<>(List.of(plan.referenceHz(), plan.biasHz(), plan.trebleHz()));
        Collections.sort(tones);
        List<Take> takes = Collections.nCopies(
                BIAS_TAKES, Take.tones(tones.stream().distinct().toList(), BELOW_SATURATION_DB, BIAS_TAKE_SECONDS));
        return new Request(
                ServiceStep.BIAS,
                Request.Source.OWN_RECORDING,
                toStop,
                between,
                takes,
                String.format(
                        Locale.ROOT,
                        "Turn the bias to its counter-clockwise stop. Record %d takes of %.0f s, %s together at %.0f dB, and turn the bias clockwise by about %.2f of a turn after each; rewind and replay.",
                        BIAS_TAKES,
                        BIAS_TAKE_SECONDS,
                        tones.stream()
                                .distinct()
                                .map(f -> String.format(Locale.ROOT, "%.0f Hz", f))
                                .reduce((a, b) -> a + ", " + b)
                                .orElseThrow(),
                        BELOW_SATURATION_DB,
                        BIAS_STEP_TURNS));
    }

    private Request round() {
        return new Request(
                ServiceStep.RECORD_SENSITIVITY,
                Request.Source.OWN_RECORDING,
                turns,
                List.of(),
                List.of(
                        Take.tone(plan.referenceHz(), 0, LEVEL_SECONDS),
                        Take.tones(plan.responseHz(), EACH_OF_MANY_DB, RESPONSE_SECONDS)),
                String.format(
                        Locale.ROOT,
                        "Record %.0f Hz at the reference level for %.0f s, then the tones of the response together, each at %.0f dB, for %.0f s; rewind and replay.",
                        plan.referenceHz(),
                        LEVEL_SECONDS,
                        EACH_OF_MANY_DB,
                        RESPONSE_SECONDS));
    }

    @Override
    public List<Instruction> take(List<Measurement> takes) {
        List<Turn> next = new ArrayList<>();
        boolean curve = rounds == 0;
        rounds++;
        List<Instruction> said = new ArrayList<>();
        for (RecordChannel channel : channels) {
            if (curve) {
                said.add(channel.takeCurve(takes, BIAS_STEP_TURNS, next));
            } else {
                said.addAll(channel.takeRound(takes, rounds, next));
            }
        }
        if (!curve) {
            latest = List.copyOf(takes);
        }
        boolean unread = said.stream().anyMatch(says -> says.state() == State.NO_READING);
        over = rounds >= most || (!curve && next.isEmpty() && !unread);
        turns = next;
        return said;
    }

    @Override
    public void stopped(String trimmer) {
        // The first turn of the bias goes to the stop on purpose.
        if (rounds > 0) {
            channels.forEach(channel -> channel.stopped(trimmer));
        }
    }

    @Override
    public List<Outcome> outcomes() {
        List<Outcome> all = new ArrayList<>();
        channels.forEach(channel -> all.addAll(channel.outcomes(rounds)));
        if (!latest.isEmpty()) {
            all.addAll(new ResponseCheck(
                            ServiceStep.RECORD_RESPONSE, plan.tolerances().recordResponseDb(), 0)
                    .of(List.of(latest.get(1)), plan.channels(), rounds));
            for (int channel = 1; channel <= plan.channels(); channel++) {
                all.add(distortion(channel));
            }
        }
        return all;
    }

    private Outcome distortion(int channel) {
        String what = "third harmonic of channel " + channel;
        Reading reading = Readers.onChannel(0, Quantity.DISTORTION_THIRD_HARMONIC, channel)
                .of(latest);
        if (!reading.isValid()) {
            return new Outcome(
                    ServiceStep.DISTORTION,
                    what,
                    State.NO_READING,
                    Optional.of(reading),
                    rounds,
                    what + ": no valid reading");
        }
        double percent = reading.value().orElseThrow();
        boolean kept = percent <= plan.tolerances().thirdHarmonicPercent();
        return new Outcome(
                ServiceStep.DISTORTION,
                what,
                kept ? State.DONE : State.OUT_OF_REACH,
                Optional.of(reading),
                rounds,
                String.format(
                        Locale.ROOT,
                        "%s: %.2f %% at the reference level, %s %.1f %%",
                        what,
                        percent,
                        kept ? "within" : "beyond",
                        plan.tolerances().thirdHarmonicPercent()));
    }
}
