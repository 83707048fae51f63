/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/**
 * Azimuth of a mono machine: the highest level, first of a tone of longer wavelength, whose peak is broad and without lower
 * ones beside it, then of the azimuth tone. Each place is come to clockwise, so that the dead travel of the screw does not
 * count.
 */
final class HeadPeak implements Procedure {
    private static final double COARSE_TURNS = 0.3;
    private static final double FINE_TURNS = 0.1;
    private static final double TAKE_UP_TURNS = 0.15;
    private static final int MOST = 12;
    /** In all: each turn by hand is a tenth off, so after many the places are no longer known and the search begins anew. */
    private static final int MOST_OF_ALL = 30;

    private static final double SECONDS = 10;

    private final ServiceStep step;
    private final Request.Source source;
    private final String trimmer;
    private final double coarseHz;
    private final double fineHz;
    private final double coarseDb;
    private final double fineDb;
    private final double toleranceDb;

    private PeakSearch search = new PeakSearch(COARSE_TURNS, MOST);
    private boolean fine;
    private boolean highestKnown;
    private boolean over;
    private double place;
    private double wanted;
    private double highest = Double.NEGATIVE_INFINITY;
    private int rounds;
    private boolean atStop;
    private State state = State.NO_READING;
    private Optional<Reading> last = Optional.empty();

    HeadPeak(
            ServiceStep step, Request.Source source, String trimmer, SentTone coarse, SentTone fine, double tolerance) {
        this.step = step;
        this.source = source;
        this.trimmer = trimmer;
        this.coarseHz = coarse.frequencyHz();
        this.coarseDb = coarse.levelDb();
        this.fineHz = fine.frequencyHz();
        this.fineDb = fine.levelDb();
        this.toleranceDb = tolerance;
    }

    @Override
    public Optional<Request> request() {
        if (over) {
            return Optional.empty();
        }
        Take take = fine ? Take.tone(fineHz, fineDb, SECONDS) : Take.tone(coarseHz, coarseDb, SECONDS);
        double move = wanted - place;
        List<Turn> turns = move == 0
                ? List.of()
                : move > 0
                        ? List.of(new Turn(trimmer, move))
                        : List.of(new Turn(trimmer, move - TAKE_UP_TURNS), new Turn(trimmer, TAKE_UP_TURNS));
        return Optional.of(new Request(step, source, turns, List.of(), List.of(take), step.instruction()));
    }

    @Override
    public List<Instruction> take(List<Measurement> takes) {
        rounds++;
        place = wanted;
        Reading reading = Readers.onChannel(0, Quantity.LEVEL, 1).of(takes);
        last = Optional.of(reading);
        if (!reading.isValid()) {
            over = rounds >= MOST_OF_ALL;
            return List.of(say(State.NO_READING, "there is no valid reading, measure again"));
        }
        double level = reading.value().orElseThrow();
        if (highestKnown && level >= highest - toleranceDb / 2) {
            over = true;
            return List.of(say(State.DONE, "at its highest level"));
        }
        if (rounds >= MOST_OF_ALL) {
            over = true;
            return List.of(say(State.OUT_OF_REACH, "the highest level did not come back"));
        }
        highest = fine ? Math.max(highest, level) : highest;
        search.found(place, level);
        OptionalDouble next = atStop ? OptionalDouble.empty() : search.next();
        atStop = false;
        if (next.isPresent()) {
            wanted = next.getAsDouble();
        } else if (search.peak().isEmpty()) {
            over = true;
            return List.of(say(State.OUT_OF_REACH, "no highest level within reach of the screw"));
        } else {
            wanted = search.peak().getAsDouble();
            highestKnown = fine;
            fine = true;
            search = new PeakSearch(FINE_TURNS, MOST);
        }
        return List.of(say(
                State.TURN,
                String.format(
                        Locale.ROOT,
                        "turn %s by about %.2f of a turn and read the level again",
                        wanted > place ? "clockwise" : "counter-clockwise",
                        Math.abs(wanted - place))));
    }

    private Instruction say(State now, String what) {
        state = now;
        double move = wanted - place;
        return new Instruction(
                trimmer,
                now,
                0,
                now == State.TURN ? OptionalDouble.of(move) : OptionalDouble.empty(),
                trimmer + ": " + what);
    }

    @Override
    public void stopped(String id) {
        atStop |= id.equals(trimmer);
    }

    @Override
    public List<Outcome> outcomes() {
        return rounds == 0
                ? List.of()
                : List.of(new Outcome(
                        step,
                        trimmer,
                        state,
                        last,
                        rounds,
                        trimmer
                                + (state == State.DONE
                                        ? ": at its highest level"
                                        : ": the highest level was not found")));
    }
}
