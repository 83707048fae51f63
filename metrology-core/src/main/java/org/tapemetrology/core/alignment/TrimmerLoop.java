/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.Locale;
import java.util.OptionalDouble;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * Sets a trimmer by repeated measurement: read, turn as told, read again. On a machine of two heads each reading is a round
 * of record, rewind and replay; every round improves the estimate of what the trimmer does.
 *
 * <p>Where not even the sense of the trimmer is known, the first turn is a small one. It is done where the reading keeps the tolerance with its expanded uncertainty, and as near as can be known where it
 * lies closer to the target than half of that. It is out of reach where the trimmer is at its {@link #stopped() stop}, or two turns
 * that should have been seen plainly did not move the reading. The scatter of a reading ({@link Reading#typeA()}) counts for the steps; what is wrong with tape and
 * converter stays the same from round to round and counts for the tolerance alone.
 *
 * <p>Thread-confined.
 *
 * <p>Everything is in the unit of the target; the limits are common practice, no source. Cost: a few operations a
 * reading. Never NaN: a reading without a value asks for another one.
 *
 * <p>Not for a reading that drifts by itself: the drift is taken for what the turn did.
 */
public final class TrimmerLoop {
    /** A turn that should have moved the reading by so many standard deviations and did not by a quarter is no good. */
    private static final double PLAIN = 4;

    private static final double MOVED = 0.25;
    private static final int IDLE_TURNS = 2;
    /** Part of the turn that is made first where not even the sense of the trimmer is known. */
    private static final double PROBE = 0.25;
    /** In turns. */
    private static final double LEAST_PROBE = 3 * TrimmerLaw.DEAD_TRAVEL;

    private final String trimmer;
    private final Target target;
    private final TrimmerLaw law;

    private OptionalDouble asked = OptionalDouble.empty();
    private double lastValue;
    private double lastScatter;
    private double lastTurn;
    private double lastExpected;
    private int idle;
    private int rounds;
    private boolean stopped;

    /**
     * A loop that has read nothing yet.
     *
     * @param trimmer what the trimmer is called
     * @param target what it is to be set to
     * @param law what is known of it
     */
    public TrimmerLoop(String trimmer, Target target, TrimmerLaw law) {
        this.trimmer = trimmer;
        this.target = target;
        this.law = law;
    }

    /**
     * Takes a reading and says what to do next. Where a turn was asked for before, it is taken to have been made.
     *
     * @param reading a reading of the quantity of the target
     * @return what to do
     */
    public Instruction next(Reading reading) {
        if (reading.quantity() != target.quantity() || reading.unit() != target.unit()) {
            throw new IllegalArgumentException(trimmer + ": a reading of "
                    + reading.quantity().id() + " in " + reading.unit().symbol() + " is none of "
                    + target.quantity().id() + " in " + target.unit().symbol());
        }
        if (!reading.isValid()) {
            return new Instruction(
                    trimmer,
                    State.NO_READING,
                    0,
                    OptionalDouble.empty(),
                    trimmer + ": there is no valid reading (" + reading.status().id() + "), measure again");
        }
        rounds++;
        double value = reading.value().orElseThrow();
        double scatter = reading.typeA().map(StandardUncertainty::value).orElse(0.0);
        learn(value, scatter);
        double change = target.value() - value;
        double halfWidth = reading.uncertainty().map(u -> u.halfWidth()).orElse(0.0);
        if (Math.abs(change) + halfWidth <= target.tolerance()) {
            return still(State.DONE, value, "within the tolerance");
        }
        if (Math.abs(change) <= halfWidth / 2) {
            return still(State.AS_NEAR_AS_KNOWN, value, "as near as it can be known");
        }
        if (idle >= IDLE_TURNS) {
            return still(State.OUT_OF_REACH, value, "out of reach: the reading does not follow the trimmer");
        }
        if (stopped && asked.isEmpty() && law.turnsFor(change) * lastTurn > 0) {
            return still(State.OUT_OF_REACH, value, "out of reach: the trimmer is at its stop");
        }
        stopped = false;
        double turns = law.isSenseKnown() ? law.turnsFor(change) : probe(law.turnsFor(change));
        lastTurn = turns;
        lastExpected = law.isSenseKnown() ? change : law.perTurn() * turns;
        asked = OptionalDouble.of(turns);
        lastValue = value;
        lastScatter = scatter;
        return new Instruction(
                trimmer,
                State.TURN,
                change,
                asked,
                String.format(
                        Locale.ROOT,
                        "%s: turn %s by about %.2f of a turn: the reading of %.4g %s is to %s by %.3g %s",
                        trimmer,
                        turns > 0 ? "clockwise" : "counter-clockwise",
                        Math.abs(turns),
                        value,
                        target.unit().symbol(),
                        change > 0 ? "rise" : "fall",
                        Math.abs(change),
                        target.unit().symbol()));
    }

    /** A small turn that tells the sense, but one that dead travel does not swallow. */
    private static double probe(double turns) {
        return Math.copySign(Math.max(PROBE * Math.abs(turns), LEAST_PROBE), turns);
    }

    private void learn(double value, double scatter) {
        if (asked.isEmpty()) {
            return;
        }
        if (stopped) {
            asked = OptionalDouble.empty(); // how far it went is not known
            return;
        }
        double turns = asked.getAsDouble();
        double moved = value - lastValue;
        double uncertainty = Math.hypot(scatter, lastScatter);
        boolean plain = Math.abs(lastExpected) > PLAIN * Math.max(uncertainty, Double.MIN_NORMAL);
        double followed = law.isSenseKnown() ? moved / lastExpected : Math.abs(moved / lastExpected);
        idle = plain && followed < MOVED ? idle + 1 : 0;
        if (idle < IDLE_TURNS) {
            law.observe(turns, moved, uncertainty);
        }
        asked = OptionalDouble.empty();
    }

    /** Tells that the turn which was asked for last ended at the stop of the trimmer. */
    public void stopped() {
        stopped = true;
    }

    private Instruction still(State state, double value, String why) {
        return new Instruction(
                trimmer,
                state,
                0,
                OptionalDouble.empty(),
                String.format(
                        Locale.ROOT,
                        "%s: %.4g %s, %s",
                        trimmer,
                        value,
                        target.unit().symbol(),
                        why));
    }

    /**
     * The least expanded uncertainty with which the tolerance can still be kept.
     *
     * @param halfWidth expanded uncertainty of a reading
     * @return whether a reading with it can ever be done
     */
    public boolean canBeDone(double halfWidth) {
        return Require.notNegative("halfWidth", halfWidth) < target.tolerance();
    }

    /**
     * What is known of the trimmer by now.
     *
     * @return its law
     */
    public TrimmerLaw law() {
        return law;
    }

    /**
     * How many readings were taken.
     *
     * @return their number
     */
    public int rounds() {
        return rounds;
    }
}
