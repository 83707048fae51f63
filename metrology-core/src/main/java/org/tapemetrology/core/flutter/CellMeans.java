/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/**
 * Means of deviation and power over cells of about a millisecond, as values come in, for what looks at both side by side.
 */
final class CellMeans {
    /** Takes the means of a cell. */
    interface Sink {
        /** Means of the next cell. */
        void cell(double deviationHz, double power);
    }

    private final int cellLength;
    private final double perValue;
    private double deviationSum;
    private double powerSum;
    private int filled;

    /**
     * Means of nothing yet.
     *
     * @param seconds length of a cell
     * @param rateHz rate of the values
     */
    CellMeans(double seconds, double rateHz) {
        this.cellLength = (int) Math.max(1, Math.round(seconds * rateHz));
        this.perValue = 1.0 / cellLength;
    }

    /** Number of values in a cell. */
    int cellLength() {
        return cellLength;
    }

    /** How many values of the next cell have come. */
    int filled() {
        return filled;
    }

    /** Takes values and passes on each cell that they fill. */
    void accept(double[] deviationHz, double[] power, int offset, int length, Sink sink) {
        int end = offset + length;
        for (int i = offset; i < end; ) {
            int part = Math.min(end - i, cellLength - filled);
            double deviations = deviationSum;
            double powers = powerSum;
            for (int to = i + part; i < to; i++) {
                deviations += deviationHz[i];
                powers += power[i];
            }
            filled += part;
            if (filled == cellLength) {
                drop();
                sink.cell(deviations * perValue, powers * perValue);
            } else {
                deviationSum = deviations;
                powerSum = powers;
            }
        }
    }

    /** Forgets what came of the next cell. */
    void drop() {
        filled = 0;
        deviationSum = 0;
        powerSum = 0;
    }
}
