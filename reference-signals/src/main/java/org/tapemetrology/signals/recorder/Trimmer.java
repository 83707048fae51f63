/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.SplittableRandom;
import org.tapemetrology.signals.internal.Require;

/**
 * A trimmer of a machine, turned by hand: the hand misses the turn asked by 10 % of it (standard deviation, at most 30 %),
 * the spindle has a dead zone when the direction reverses, and it ends at stops. The person feels the stop and nothing
 * else; what the trimmer did is heard in the next recording. Thread-confined.
 *
 * <p>Turns are positive clockwise; a turn that is not finite is refused with an {@link IllegalArgumentException}.
 * Errors of the hand follow from the seed of the machine.
 */
public final class Trimmer {
    private static final double HAND_ERROR = 0.10;
    private static final double WORST_HAND = 3;

    private final String id;
    private final TrimmerLaw law;
    private final double componentError;
    private final GaussianNoise hand;
    /** Place of the wiper or screw, turns from the anticlockwise stop. */
    private double place;
    /** How far the spindle is ahead of it within its play: 0 to the backlash. */
    private double play;

    private boolean atStop;
    private int changes;

    /** At first as near as the travel allows to the given error of what it sets. */
    Trimmer(String id, TrimmerLaw law, double componentError, double error, SplittableRandom random) {
        this.id = id;
        this.law = law;
        this.componentError = componentError;
        hand = new GaussianNoise(random.split());
        place = law.turnsFor(error - componentError);
        play = law.backlashTurns() * random.nextDouble();
    }

    /**
     * What it is called, for example {@code replay-level-1}.
     *
     * @return the id
     */
    public String id() {
        return id;
    }

    /**
     * Turns it.
     *
     * @param turns turns asked, clockwise positive
     */
    public void turn(double turns) {
        Require.finite("turn of " + id, turns);
        double error = Math.max(-WORST_HAND, Math.min(WORST_HAND, hand.next())) * HAND_ERROR;
        double spindle = play + turns * (1 + error);
        double backlash = law.backlashTurns();
        double moved = spindle > backlash ? spindle - backlash : Math.min(spindle, 0);
        play = Math.max(0, Math.min(backlash, spindle));
        double wanted = place + moved;
        place = Math.max(0, Math.min(law.travelTurns(), wanted));
        atStop = place != wanted;
        changes++;
    }

    /**
     * Whether the last turn ended at a stop.
     *
     * @return true if it could not be turned as far as the hand went
     */
    public boolean atStop() {
        return atStop;
    }

    /**
     * Turns from stop to stop, as anyone can count them.
     *
     * @return the travel in turns
     */
    public double travelTurns() {
        return law.travelTurns();
    }

    /**
     * The truth, for those who check.
     *
     * @return where it stands and what it does
     */
    public Truth truth() {
        return new Truth(law, place, error(), componentError + law.lowest(), componentError + law.highest());
    }

    /** Error of what it sets: that of the components plus its own effect. */
    double error() {
        return componentError + law.effectAt(place);
    }

    int changes() {
        return changes;
    }

    /**
     * Truth of a trimmer.
     *
     * <p>Made by the trimmer; its numbers are not checked.
     *
     * @param law its law
     * @param placeTurns where it stands, turns from the anticlockwise stop
     * @param error error of what it sets, 0 when aligned, in the law's unit
     * @param errorAtAnticlockwiseStop the error that is left at that stop, in the unit of the effect
     * @param errorAtClockwiseStop the error that is left at that stop, in the unit of the effect
     */
    public record Truth(
            TrimmerLaw law,
            double placeTurns,
            double error,
            double errorAtAnticlockwiseStop,
            double errorAtClockwiseStop) {
        /**
         * Whether the trimmer can bring the error to 0.
         *
         * @return true if 0 lies between what is left at the stops
         */
        public boolean reachable() {
            return errorAtAnticlockwiseStop * errorAtClockwiseStop <= 0;
        }
    }
}
