/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Reading;

/** Trimmers that are set at the same time by readings of the same takes, until each is done. */
final class TrimmerRounds implements Procedure {
    private final Request asked;
    private final int most;
    private final List<Line> lines = new ArrayList<>();
    private final Map<String, Instruction> latest = new HashMap<>();
    private final Map<String, Reading> readings = new HashMap<>();
    private List<Turn> turns = List.of();
    private int rounds;
    private boolean over;

    /** Reads one figure out of the measurements of the takes. */
    @FunctionalInterface
    interface Reader {
        Reading of(List<Measurement> takes);
    }

    /** A trimmer with its loop and what it is set by. */
    private record Line(String trimmer, TrimmerLoop loop, Reader reader) {}

    /**
     * Rounds without a trimmer yet.
     *
     * @param asked the request of each round
     * @param most most rounds
     */
    TrimmerRounds(Request asked, int most) {
        this.asked = asked;
        this.most = most;
    }

    TrimmerRounds with(String trimmer, Target target, TrimmerLaw law, Reader reader) {
        lines.add(new Line(trimmer, new TrimmerLoop(trimmer, target, law), reader));
        return this;
    }

    @Override
    public Optional<Request> request() {
        return over
                ? Optional.empty()
                : Optional.of(new Request(
                        asked.step(), asked.source(), turns, asked.between(), asked.takes(), asked.sentence()));
    }

    @Override
    public List<Instruction> take(List<Measurement> takes) {
        rounds++;
        List<Turn> next = new ArrayList<>();
        List<Instruction> said = new ArrayList<>();
        boolean allFinal = true;
        for (Line line : lines) {
            @Nullable Instruction before = latest.get(line.trimmer());
            if (before != null && before.state() == State.OUT_OF_REACH) {
                continue;
            }
            Reading reading = line.reader().of(takes);
            Instruction instruction = line.loop().next(reading);
            latest.put(line.trimmer(), instruction);
            readings.put(line.trimmer(), reading);
            said.add(instruction);
            instruction.turns().ifPresent(t -> next.add(new Turn(line.trimmer(), t)));
            allFinal &= instruction.state().isFinal();
        }
        over = allFinal || rounds >= most;
        turns = over ? List.of() : next;
        return said;
    }

    @Override
    public void stopped(String trimmer) {
        lines.stream()
                .filter(line -> line.trimmer().equals(trimmer))
                .forEach(line -> line.loop().stopped());
    }

    @Override
    public List<Outcome> outcomes() {
        return lines.stream().flatMap(line -> outcome(line).stream()).toList();
    }

    private Optional<Outcome> outcome(Line line) {
        return Optional.ofNullable(latest.get(line.trimmer()))
                .map(last -> new Outcome(
                        asked.step(),
                        line.trimmer(),
                        last.state(),
                        Optional.ofNullable(readings.get(line.trimmer())),
                        line.loop().rounds(),
                        last.sentence()));
    }
}
