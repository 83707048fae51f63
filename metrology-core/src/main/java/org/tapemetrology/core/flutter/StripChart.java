/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.tapemetrology.core.internal.Sums;

/**
 * Recorder of deviation, weighted deviation and running quasi-peak indication over time, in constant memory: when its
 * cells are full, every two of them become one, so the chart always covers the whole stretch.
 */
final class StripChart {
    private static final int CELLS = 2048;
    private static final double FIRST_CELL_SECONDS = 0.1;

    private final double rateHz;
    private long cellLength;
    private final Cell[] cells = new Cell[CELLS];
    private Cell current;
    private long currentEnd;

    StripChart(double rateHz) {
        this.rateHz = rateHz;
        this.cellLength = Math.round(FIRST_CELL_SECONDS * rateHz);
        Arrays.setAll(cells, i -> new Cell());
        this.current = cells[0];
    }

    /** Adds values that stand in a row from an index on. */
    void add(long index, double[] deviationHz, double[] weightedHz, double[] indicationHz, int offset, int length) {
        for (int done = 0; done < length; ) {
            if (index + done >= currentEnd) {
                moveTo(index + done);
            }
            int part = (int) Math.min(length - done, currentEnd - (index + done));
            current.add(deviationHz, weightedHz, indicationHz, offset + done, part);
            done += part;
        }
    }

    private void moveTo(long index) {
        while (index / cellLength >= CELLS) {
            halve();
        }
        long cell = index / cellLength;
        current = cells[(int) cell];
        currentEnd = (cell + 1) * cellLength;
    }

    private void halve() {
        for (int i = 0; i < CELLS / 2; i++) {
            Cell into = cells[i];
            if (i > 0) {
                into.clear();
                into.addAll(cells[2 * i]);
            }
            into.addAll(cells[2 * i + 1]);
        }
        for (int i = CELLS / 2; i < CELLS; i++) {
            cells[i].clear();
        }
        cellLength *= 2;
    }

    /** The chart in per cent of the mean frequency; cells without a value are left out. */
    FlutterSeries series(double startSeconds, double tunedHz, double meanHz) {
        int[] used = IntStream.range(0, CELLS).filter(i -> cells[i].count > 0).toArray();
        double offset = meanHz - tunedHz;
        double toPercent = 100 / meanHz;
        double[] seconds = new double[used.length];
        double[] mean = new double[used.length];
        double[] low = new double[used.length];
        double[] high = new double[used.length];
        double[] weightedLow = new double[used.length];
        double[] weightedHigh = new double[used.length];
        double[] indication = new double[used.length];
        for (int i = 0; i < used.length; i++) {
            Cell cell = cells[used[i]];
            seconds[i] = startSeconds + (used[i] + 0.5) * cellLength / rateHz;
            mean[i] = (cell.deviationSum / cell.count - offset) * toPercent;
            low[i] = (cell.deviationLow - offset) * toPercent;
            high[i] = (cell.deviationHigh - offset) * toPercent;
            weightedLow[i] = cell.weightedLow * toPercent;
            weightedHigh[i] = cell.weightedHigh * toPercent;
            indication[i] = cell.indicationHigh * toPercent;
        }
        return new FlutterSeries(cellLength / rateHz, seconds, mean, low, high, weightedLow, weightedHigh, indication);
    }

    /** What happened within one interval. */
    private static final class Cell {
        private long count;
        private double deviationSum;
        private double deviationLow = Double.POSITIVE_INFINITY;
        private double deviationHigh = Double.NEGATIVE_INFINITY;
        private double weightedLow = Double.POSITIVE_INFINITY;
        private double weightedHigh = Double.NEGATIVE_INFINITY;
        private double indicationHigh;

        void add(double[] deviation, double[] weighted, double[] indication, int offset, int length) {
            count += length;
            deviationSum += Sums.of(deviation, offset, length);
            // Branches, which hardly ever are taken, are quicker here than the library's minimum and maximum.
            double low = deviationLow;
            double high = deviationHigh;
            double lowWeighted = weightedLow;
            double highWeighted = weightedHigh;
            double highest = indicationHigh;
            for (int i = offset; i < offset + length; i++) {
                double d = deviation[i];
                double w = weighted[i];
                double n = indication[i];
                if (d < low) {
                    low = d;
                }
                if (d > high) {
                    high = d;
                }
                if (w < lowWeighted) {
                    lowWeighted = w;
                }
                if (w > highWeighted) {
                    highWeighted = w;
                }
                if (n > highest) {
                    highest = n;
                }
            }
            deviationLow = low;
            deviationHigh = high;
            weightedLow = lowWeighted;
            weightedHigh = highWeighted;
            indicationHigh = highest;
        }

        void addAll(Cell other) {
            count += other.count;
            deviationSum += other.deviationSum;
            deviationLow = Math.min(deviationLow, other.deviationLow);
            deviationHigh = Math.max(deviationHigh, other.deviationHigh);
            weightedLow = Math.min(weightedLow, other.weightedLow);
            weightedHigh = Math.max(weightedHigh, other.weightedHigh);
            indicationHigh = Math.max(indicationHigh, other.indicationHigh);
        }

        void clear() {
            count = 0;
            deviationSum = 0;
            deviationLow = Double.POSITIVE_INFINITY;
            deviationHigh = Double.NEGATIVE_INFINITY;
            weightedLow = Double.POSITIVE_INFINITY;
            weightedHigh = Double.NEGATIVE_INFINITY;
            indicationHigh = 0;
        }
    }
}
