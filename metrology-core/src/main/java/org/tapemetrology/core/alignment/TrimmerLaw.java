/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import org.tapemetrology.core.internal.Require;

/**
 * What a trimmer does, learnt from turning it: the change of the reading per turn, and the dead travel that is lost where
 * the direction reverses.
 *
 * <p>A turn of t changes the reading by {@code g t}, less {@code h} in the direction of the turn where it goes the other way
 * than the turn before. Slope g and loss h are estimated by Bayes' rule for normal distributions (recursive least squares)
 * from a first guess. A turn by hand is a tenth off what was asked (common practice, no source), and the slope of a tapered
 * track changes from turn to turn, so older turns count less. Not linear laws are followed piece by piece.
 *
 * <p>Never NaN for finite input. Thread-confined.
 *
 * <p>The slope is in the unit of the reading per turn, the loss in that unit, dead travel in turns. Cost: a few
 * operations a turn. Turns and changes that are not finite are refused.
 *
 * <p>Not for two trimmers that move one reading together.
 */
public final class TrimmerLaw {
    /** How far a hand is off the turn that was asked for. */
    static final double HAND = 0.1;
    /** By how much of itself the slope may change over a whole turn. */
    private static final double TAPER = 0.3;
    /** Dead travel of a trimmer that nobody knows, in turns. */
    static final double DEAD_TRAVEL = 0.05;

    private double slope;
    private double loss;
    private double slopeVariance;
    private double lossVariance;
    private double covariance;
    private double lastTurn;
    private int observed;

    /**
     * A law that is guessed.
     *
     * @param perTurn expected change of the reading per turn, positive where it rises clockwise; not 0
     * @param doubt standard deviation of that guess re itself, above 0: 1 where hardly the sign is known
     */
    public TrimmerLaw(double perTurn, double doubt) {
        if (perTurn == 0 || !Double.isFinite(perTurn)) {
            throw new IllegalArgumentException("perTurn " + perTurn + " is no change");
        }
        Require.positive("doubt", doubt);
        slope = perTurn;
        slopeVariance = square(doubt * perTurn);
        lossVariance = square(DEAD_TRAVEL * perTurn);
    }

    /**
     * Takes what a turn did.
     *
     * @param turns turn that was asked for, positive clockwise; not 0
     * @param change by how much the reading changed
     * @param standardUncertainty standard uncertainty of that change, not negative
     */
    public void observe(double turns, double change, double standardUncertainty) {
        Require.notNegative("standardUncertainty", standardUncertainty);
        if (turns == 0 || !Double.isFinite(turns) || !Double.isFinite(change)) {
            throw new IllegalArgumentException("a turn of " + turns + " with a change of " + change + " tells nothing");
        }
        slopeVariance += square(TAPER * slope * Math.min(1, Math.abs(turns)));
        double ofLoss = reverses(turns) ? -Math.signum(turns) : 0;
        // Which way the trimmer was turned last nobody knows: dead travel may swallow much of a first small turn.
        double lost = isSenseKnown() ? 0 : slope * DEAD_TRAVEL;
        double noise = square(standardUncertainty) + square(HAND * slope * turns) + square(lost);
        double expected = slope * turns + loss * ofLoss;
        double alongSlope = slopeVariance * turns + covariance * ofLoss;
        double alongLoss = covariance * turns + lossVariance * ofLoss;
        double variance = turns * alongSlope + ofLoss * alongLoss + noise;
        double surprise = (change - expected) / variance;
        slope += alongSlope * surprise;
        loss += alongLoss * surprise;
        slopeVariance -= square(alongSlope) / variance;
        lossVariance -= square(alongLoss) / variance;
        covariance -= alongSlope * alongLoss / variance;
        lastTurn = turns;
        observed++;
    }

    private boolean reverses(double turns) {
        return lastTurn * turns < 0;
    }

    /**
     * The turn that changes the reading by an amount, the dead travel included.
     *
     * @param change wanted change
     * @return turns, positive clockwise; 0 for no change
     */
    public double turnsFor(double change) {
        double turns = change / slope;
        return reverses(turns) ? turns + Math.signum(turns) * Math.max(0, loss / slope) : turns;
    }

    /**
     * By how much the reading will still be off after a turn for a change: the hand, and what is not known of the law.
     *
     * @param change wanted change
     * @return standard deviation in the unit of the reading
     */
    public double deviationAfter(double change) {
        double turns = turnsFor(change);
        return Math.sqrt(
                square(HAND * slope * turns) + slopeVariance * square(turns) + (reverses(turns) ? lossVariance : 0));
    }

    /**
     * The change of the reading per turn.
     *
     * @return the slope by now
     */
    public double perTurn() {
        return slope;
    }

    /**
     * How well that is known.
     *
     * @return its standard deviation
     */
    public double perTurnDeviation() {
        return Math.sqrt(slopeVariance);
    }

    /**
     * Whether it is known which way the reading goes when the trimmer is turned clockwise.
     *
     * @return true where the slope is larger than its doubt
     */
    public boolean isSenseKnown() {
        return perTurnDeviation() < Math.abs(slope);
    }

    /**
     * The travel that is lost where the direction reverses.
     *
     * @return turns, not negative
     */
    public double deadTravel() {
        return Math.max(0, loss / slope);
    }

    /**
     * How many turns were observed.
     *
     * @return their number
     */
    public int observed() {
        return observed;
    }

    private static double square(double x) {
        return x * x;
    }
}
