/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.ArrayList;
import java.util.List;

/**
 * Finds moments at which the phase of a tone jumps, as where samples were lost or repeated or a tape was joined. No transport
 * does that: the deviation has a spike as short as the demodulator allows, and is the same before and after it.
 *
 * <p>Means over cells of about a millisecond are compared with those two cells before and after. A jump stands out by
 * itself and makes half of it, upside down, at two cells' distance; a step of speed makes as much of either sign, and
 * noise or flutter is told by its running RMS value. The level may step at a jump, as where two recordings are joined.
 */
final class JumpWatch implements CellMeans.Sink {
    private static final double LEAST_CELL_SECONDS = 0.001;
    /** Length of a cell re the period of the fastest rate that the demodulator passes. */
    private static final double CELL_PERIODS = 1.2;

    private static final int LAG = 2;
    private static final int CELLS = 4 * LAG + 1;
    private static final int LEAST_SEEN = 100;
    /** Of a normal distribution one value in 10^15 is so far out. */
    private static final double STANDS_OUT = 8;
    /** What a value may count in the running RMS value, re it: the jump itself must not hide the next. */
    private static final double CAP = 9;

    private static final double LEAST_HALF = 0.2;
    private static final double MOST_HALF = 0.8;
    /** Cycles: a jump of so much makes less than 0.002 % of weighted flutter at 3 kHz. */
    private static final double LEAST_CYCLES = 0.002;
    /**
     * Where the power changes by more than 10 dB within four cells the tone comes or goes, as the tracker tells it, and noise
     * makes the rest. Most smaller steps make a gap of their own, but not where they fall between two of its windows.
     */
    private static final double LEAST_POWER = 0.1;

    private static final double MEMORY_SECONDS = 60;
    private static final int LISTED = 20;

    private final double rateHz;
    /** Cells that come before the latest ones are moved back to the beginning of their arrays. */
    private static final int ROOM = 16 * CELLS;

    private final CellMeans cellMeans;
    private final double cellSeconds;
    private final double[] means = new double[ROOM];
    private final double[] powers = new double[ROOM];
    private int filled;
    private long index;
    private int cells;
    private double meanSquare;
    private long seen;
    private int quietFor;
    private int count;
    private final List<Double> moments = new ArrayList<>();

    /**
     * A watch at rest.
     *
     * @param rateHz rate of the deviation
     * @param flatDeviationHz up to which rate the demodulator passes it
     */
    JumpWatch(double rateHz, double flatDeviationHz) {
        this.rateHz = rateHz;
        double seconds = Math.max(LEAST_CELL_SECONDS, CELL_PERIODS / flatDeviationHz);
        this.cellMeans = new CellMeans(seconds, rateHz);
        this.cellSeconds = cellMeans.cellLength() / rateHz;
    }

    void accept(double[] deviationHz, double[] power, int offset, int length, boolean bridged) {
        if (bridged) {
            index += cellMeans.filled() + length;
            cellMeans.drop();
            cells = 0;
            return;
        }
        cellMeans.accept(deviationHz, power, offset, length, this);
    }

    @Override
    public void cell(double deviationHz, double power) {
        if (filled == ROOM) {
            filled = CELLS - 1;
            System.arraycopy(means, ROOM - filled, means, 0, filled);
            System.arraycopy(powers, ROOM - filled, powers, 0, filled);
        }
        means[filled] = deviationHz;
        powers[filled] = power;
        filled++;
        index += cellMeans.cellLength();
        if (++cells >= CELLS) {
            judge(filled - 1 - CELLS / 2);
        }
    }

    private double standsOut(int at) {
        return means[at] - 0.5 * (means[at - LAG] + means[at + LAG]);
    }

    private void judge(int middle) {
        double here = standsOut(middle);
        double square = here * here;
        boolean known = seen >= LEAST_SEEN;
        boolean far = known && square > STANDS_OUT * STANDS_OUT * meanSquare;
        quietFor++;
        if (far
                && quietFor > CELLS
                && Math.abs(here) * cellSeconds > LEAST_CYCLES
                && isHalfOf(here, standsOut(middle - LAG))
                && isHalfOf(here, standsOut(middle + LAG))
                && powers[middle + LAG] > LEAST_POWER * powers[middle - LAG]
                && powers[middle - LAG] > LEAST_POWER * powers[middle + LAG]) {
            quietFor = 0;
            count++;
            if (moments.size() < LISTED) {
                moments.add((index - 0.5 * CELLS * cellMeans.cellLength()) / rateHz);
            }
        }
        seen++;
        double counted = known ? Math.min(square, CAP * meanSquare) : square;
        // All that was seen so far, up to a minute.
        meanSquare += (counted - meanSquare) / Math.min((double) seen, MEMORY_SECONDS / cellSeconds);
    }

    /** What stands two cells from a jump is half of it, upside down. */
    private static boolean isHalfOf(double jump, double other) {
        double ratio = -other / jump;
        return ratio > LEAST_HALF && ratio < MOST_HALF;
    }

    /** How many jumps there were. */
    int count() {
        return count;
    }

    /** When the first of them were, in seconds from the first value. */
    List<Double> moments() {
        return List.copyOf(moments);
    }
}
