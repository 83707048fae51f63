/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import java.util.List;

/**
 * The integral of many sinusoidal deviations as power series, each during a short time (a cell). What belongs to a line alone
 * is computed once. Immutable.
 */
final class LineSeries {
    private final double[] rates;
    private final double[] phases;
    /** Of each line in turn, what its sine and cosine weigh in each power. */
    private final double[] weights;

    private final double half;

    /** As many cells as {@link #cellsPerSecond} of the fastest line, or more. */
    LineSeries(List<SinusoidalDeviation> lines, int cellsPerSecond) {
        int count = lines.size();
        rates = new double[count];
        phases = new double[count];
        weights = new double[count * (PowerSeries.DEGREE + 1)];
        half = 0.5 / cellsPerSecond;
        for (int i = 0; i < count; i++) {
            SinusoidalDeviation line = lines.get(i);
            rates[i] = line.rateHz();
            phases[i] = line.phase();
            double angular = Cycles.TWO_PI * line.rateHz();
            double step = angular * half;
            double scale = line.peak() / angular;
            // Derivatives of -cos: sin, cos, -sin, -cos, and round again.
            int sign = -1;
            for (int power = 0; power <= PowerSeries.DEGREE; power += 2) {
                int at = i * (PowerSeries.DEGREE + 1) + power;
                weights[at] = sign * scale;
                scale *= step / (power + 1);
                weights[at + 1] = -sign * scale;
                scale *= step / (power + 2);
                sign = -sign;
            }
        }
    }

    /** Four or more per period, and a power of two, so that the place within a cell is exact. */
    static int cellsPerSecond(double highestHz) {
        return Integer.highestOneBit((int) Math.ceil(4 * highestHz)) << 1;
    }

    PowerSeries integral(long wholeSeconds, int cell) {
        double middle = (2.0 * cell + 1) * half;
        double[] sum = new double[PowerSeries.DEGREE + 1];
        for (int i = 0; i < rates.length; i++) {
            double angle = Cycles.TWO_PI * Cycles.of(rates[i], wholeSeconds, middle) + phases[i];
            add(sum, weights, i * sum.length, Math.cos(angle), Math.sin(angle));
        }
        return new PowerSeries(sum);
    }

    private static void add(double[] sum, double[] weights, int from, double even, double odd) {
        for (int power = 0; power < sum.length; power += 2) {
            sum[power] += even * weights[from + power];
            sum[power + 1] += odd * weights[from + power + 1];
        }
    }
}
