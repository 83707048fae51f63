/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.internal.Sums;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * Mean deviation of a tone, its least-squares slope and the range of its means over consecutive 10 s, all in Hz.
 *
 * <p>The slope is fitted to means over 0.1 s, weighted by how many values stand in each. Bridged values and the second
 * after a gap are left out.
 */
final class SpeedMeter {
    private static final double GAP_SECONDS = 1;
    private static final double CELL_SECONDS = 0.1;
    private static final double RANGE_SECONDS = 10;
    private static final double WHOLE_SHARE = 0.99;

    private final double rateHz;
    private final Settling settling;
    private final long cellLength;
    private final long rangeLength;

    private long index;
    private double cellSum;
    private double cellTimes;
    private long cellCount;

    private long count;
    private double sum;
    private double sumTime;
    private double sumTimeTime;
    private double sumTimeDeviation;

    private final LongRunMean cells = new LongRunMean();

    private double rangeSum;
    private long rangeCount;
    private int ranges;
    private double lowest = Double.POSITIVE_INFINITY;
    private double highest = Double.NEGATIVE_INFINITY;

    SpeedMeter(double rateHz) {
        this.rateHz = rateHz;
        this.settling = new Settling(0, GAP_SECONDS, rateHz);
        this.cellLength = Math.round(CELL_SECONDS * rateHz);
        this.rangeLength = Math.round(RANGE_SECONDS * rateHz);
    }

    void accept(double[] deviationHz, int offset, int length, boolean bridged) {
        int skipped = settling.leaveOut(length, bridged);
        if (skipped > 0) {
            closeCell();
        }
        index += skipped;
        for (int done = skipped; done < length; ) {
            int part = (int) Math.min(length - done, Math.min(cellLength - cellCount, rangeLength - rangeCount));
            double partSum = Sums.of(deviationHz, offset + done, part);
            cellSum += partSum;
            rangeSum += partSum;
            cellTimes += part * (double) index + 0.5 * part * (part - 1.0);
            index += part;
            done += part;
            rangeCount += part;
            cellCount += part;
            if (rangeCount == rangeLength) {
                closeRange();
            }
            if (cellCount == cellLength) {
                closeCell();
            }
        }
    }

    private void closeCell() {
        if (cellCount == 0) {
            return;
        }
        if (cellCount == cellLength) {
            cells.add(cellSum / cellCount);
        }
        double time = cellTimes / cellCount / rateHz;
        count += cellCount;
        sum += cellSum;
        sumTime += cellCount * time;
        sumTimeTime += cellCount * time * time;
        sumTimeDeviation += cellSum * time;
        cellSum = 0;
        cellTimes = 0;
        cellCount = 0;
    }

    private void closeRange() {
        double mean = rangeSum / rangeLength;
        lowest = Math.min(lowest, mean);
        highest = Math.max(highest, mean);
        ranges++;
        rangeSum = 0;
        rangeCount = 0;
    }

    /** Time over which values were admitted. */
    double seconds() {
        return (count + cellCount) / rateHz;
    }

    OptionalDouble meanHz() {
        long all = count + cellCount;
        return all == 0 ? OptionalDouble.empty() : OptionalDouble.of((sum + cellSum) / all);
    }

    /** Sum of the deviations that were admitted. */
    double sumOfDeviations() {
        return sum + cellSum;
    }

    /** How many they are. */
    long admitted() {
        return count + cellCount;
    }

    /** Slope in Hz per second, over whole cells. */
    OptionalDouble slopeHzPerSecond() {
        double spread = count * sumTimeTime - sumTime * sumTime;
        return spread > 0
                ? OptionalDouble.of((count * sumTimeDeviation - sumTime * sum) / spread)
                : OptionalDouble.empty();
    }

    /** Largest minus smallest 10 s mean, from two of them on; the ends of a recording may take 0.1 s of the last one. */
    OptionalDouble rangeHz() {
        boolean lastCounts = rangeCount >= WHOLE_SHARE * rangeLength;
        if (ranges + (lastCounts ? 1 : 0) < 2) {
            return OptionalDouble.empty();
        }
        double last = lastCounts ? rangeSum / rangeCount : lowest;
        return OptionalDouble.of(Math.max(highest, last) - Math.min(lowest, last));
    }

    /** How well the mean in the long run is known, in Hz. */
    Optional<StandardUncertainty> meanUncertainty() {
        return cells.uncertainty();
    }

    /** How well the slope is known, in Hz per second. */
    Optional<StandardUncertainty> slopeUncertainty() {
        return cells.slopeUncertainty().map(perCell -> perCell.times(1 / CELL_SECONDS));
    }

    /** How well the range is known: as the difference of two means over 10 s each. */
    Optional<StandardUncertainty> rangeUncertainty() {
        double times = Math.sqrt(2 * seconds() / RANGE_SECONDS);
        return cells.uncertainty().map(mean -> mean.times(times));
    }
}
