/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import org.tapemetrology.core.internal.Sums;

/**
 * Tells whether the speed at the beginning or end of a tone is that of the rest: a machine that is still starting, or
 * already stopping, glides. Means over 50 ms of the first and the last 0.4 s are compared with mean and standard deviation
 * of all others.
 */
final class EndsWatch {
    private static final double CELL_SECONDS = 0.05;

    /** How much of either end is looked at. */
    static final double END_SECONDS = 0.4;

    /** A glide of 10 %, beyond which the tone is lost, takes 0.3 s where the machine takes 3 s to stop. */
    private static final int CELLS = 8;

    /** The last one counts from 5 ms on: a machine that stops at once takes the tone away before it is full. */
    private static final double LEAST_OF_A_CELL = 0.1;

    private static final double STANDS_OUT = 5;
    /** A tone of 0.9 s leaves so many means between its ends; what they differ by says little, so more has to stand out. */
    private static final int LEAST_BETWEEN = 2;

    /** How fast that grows with fewer means than an end has: 8 times at two of them. */
    private static final double PER_FEWER = 1.5;

    /** 0.2 %: at the end of a glide of 10 % in 1 s it lasts for 20 ms. */
    private static final double LEAST_SHARE = 0.002;

    private final int cellLength;
    private final double toneHz;
    private final double[] first = new double[CELLS];
    private final double[] last = new double[CELLS];
    private long cells;
    private double sum;
    private int filled;
    private double mean;
    private double squares;
    private long between;

    EndsWatch(double rateHz, double toneHz) {
        this.cellLength = (int) Math.max(1, Math.round(CELL_SECONDS * rateHz));
        this.toneHz = toneHz;
    }

    void accept(double[] deviationHz, int offset, int length, boolean bridged) {
        if (bridged) {
            sum = 0;
            filled = 0;
            return;
        }
        for (int done = 0; done < length; ) {
            int part = Math.min(length - done, cellLength - filled);
            sum += Sums.of(deviationHz, offset + done, part);
            filled += part;
            done += part;
            if (filled == cellLength) {
                close(sum / cellLength);
                sum = 0;
                filled = 0;
            }
        }
    }

    private void close(double value) {
        if (cells < CELLS) {
            first[(int) cells] = value;
        } else {
            int at = (int) (cells % CELLS);
            if (cells >= 2 * CELLS) {
                between++;
                double away = last[at] - mean;
                mean += away / between;
                squares += away * (last[at] - mean);
            }
            last[at] = value;
        }
        cells++;
    }

    /** Whether the first 0.4 s glide. */
    boolean glidesAtFirst() {
        return between >= LEAST_BETWEEN && isAway(first);
    }

    /** Whether the last 0.4 s glide. */
    boolean glidesAtLast() {
        boolean unfinished = filled > LEAST_OF_A_CELL * cellLength && isAway(sum / filled);
        return between >= LEAST_BETWEEN && (unfinished || isAway(last));
    }

    private boolean isAway(double[] values) {
        for (double value : values) {
            if (isAway(value)) {
                return true;
            }
        }
        return false;
    }

    private boolean isAway(double value) {
        double fewer = StrictMath.pow(Math.max(1, (double) CELLS / between), PER_FEWER);
        return Math.abs(value - mean)
                > Math.max(STANDS_OUT * fewer * Math.sqrt(squares / between), LEAST_SHARE * toneHz);
    }
}
