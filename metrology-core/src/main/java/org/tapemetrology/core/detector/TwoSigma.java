/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * The magnitude that is exceeded for a stated share of the time: over all values, and the highest of consecutive periods.
 * For a share of 5 % a sine of amplitude A reads 0.997 A, Gaussian noise 1.96 times its RMS.
 *
 * <p>The magnitude is taken once per sample, at moments that never lock to the signal ({@link MovingMoment}).
 * Thread-confined.
 *
 * <p>It is in the unit of the values (by definition). Cost: some counters a value; memory is that of two {@link
 * MagnitudeHistogram}s and of one period. NaN counts among the largest magnitudes.
 *
 * <p>Not for fewer values than some times the inverse of the share.
 */
public final class TwoSigma {
    private static final double WHOLE_SHARE = 0.98;

    private final double exceeded;
    private final MagnitudeHistogram all = new MagnitudeHistogram();
    /** The bins of the values of the last period, which are in the histogram {@link #latest}. */
    private final char[] bins;

    private final MagnitudeHistogram latest = new MagnitudeHistogram();
    private int next;
    private int inPeriod;
    private double highestOfPeriods;
    private boolean wholePeriod;
    private final MovingMoment moment = new MovingMoment();
    private double[] moved = new double[0];
    private final ExceedanceScatter scatter;

    /**
     * Nothing added yet.
     *
     * @param exceeded share of the time for which the value is exceeded, above 0 and below 1
     * @param periodLength number of values in a period, at least 1
     * @param rateHz rate of the values in Hz, 10 to 1e9
     */
    public TwoSigma(double exceeded, int periodLength, double rateHz) {
        if (!(exceeded > 0 && exceeded < 1)) {
            throw new IllegalArgumentException("exceeded " + exceeded + " is not in (0, 1)");
        }
        if (periodLength < 1) {
            throw new IllegalArgumentException("periodLength " + periodLength + " is below 1");
        }
        this.exceeded = exceeded;
        this.bins = new char[periodLength];
        this.scatter = new ExceedanceScatter(all, exceeded, rateHz);
    }

    /**
     * Adds values.
     *
     * @param values the values
     * @param offset first of them
     * @param length number of them
     */
    public void add(double[] values, int offset, int length) {
        if (moved.length < length) {
            moved = new double[length];
        }
        moment.process(values, offset, moved, 0, length);
        addMoved(moved, 0, length);
    }

    /**
     * Adds values that a {@link MovingMoment} has read already.
     *
     * @param values the values
     * @param offset first of them
     * @param length number of them
     */
    public void addMoved(double[] values, int offset, int length) {
        for (int done = 0; done < length; ) {
            long left = Math.min(bins.length - inPeriod, scatter.untilBlock());
            int part = (int) Math.min(left, length - done);
            slide(values, offset + done, part);
            scatter.add(values, offset + done, part);
            done += part;
            inPeriod += part;
            if (inPeriod == bins.length) {
                highestOfPeriods = Math.max(highestOfPeriods, latest.quantileOfSome(1 - exceeded));
                wholePeriod = true;
                inPeriod = 0;
            }
        }
    }

    private void slide(double[] values, int offset, int length) {
        for (int i = offset; i < offset + length; i++) {
            char bin = MagnitudeHistogram.binOf(values[i]);
            all.addTo(bin);
            if (latest.total() == bins.length) {
                latest.removeFrom(bins[next]);
            }
            latest.addTo(bin);
            bins[next] = bin;
            next = next + 1 == bins.length ? 0 : next + 1;
        }
    }

    /**
     * The value over the last period, wherever it began.
     *
     * @return the value, 0 before the first whole period
     */
    public double latest() {
        return wholePeriod ? latest.quantileOfSome(1 - exceeded) : 0;
    }

    /**
     * The value over everything added.
     *
     * @return the value, empty where nothing was added
     */
    public OptionalDouble value() {
        return all.quantile(1 - exceeded);
    }

    /**
     * The highest value of consecutive whole periods; the last one counts where at most a fiftieth of it is missing.
     *
     * @return the value, empty before the first whole period
     */
    public OptionalDouble highestOfPeriods() {
        boolean lastCounts = inPeriod >= WHOLE_SHARE * bins.length;
        if (!wholePeriod && !lastCounts) {
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(Math.max(highestOfPeriods, lastCounts ? ofUnfinishedPeriod() : 0));
    }

    private double ofUnfinishedPeriod() {
        MagnitudeHistogram unfinished = new MagnitudeHistogram();
        for (int i = 1; i <= inPeriod; i++) {
            unfinished.addTo(bins[Math.floorMod(next - i, bins.length)]);
        }
        return unfinished.quantileOfSome(1 - exceeded);
    }

    /**
     * How well {@link #value()} in the long run is known.
     *
     * @return its standard uncertainty, empty for less than 0.75 s
     */
    public Optional<StandardUncertainty> uncertainty() {
        return scatter.uncertainty();
    }

    /**
     * How well the highest value of consecutive periods is known: as that of one period.
     *
     * @return its standard uncertainty, empty for less than 0.75 s
     */
    public Optional<StandardUncertainty> highestUncertainty() {
        double periods = Math.max(1, (double) all.total() / bins.length);
        return uncertainty().map(one -> one.times(Math.sqrt(periods)));
    }
}
