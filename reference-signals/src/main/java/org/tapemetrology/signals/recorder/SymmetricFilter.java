/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.function.DoubleUnaryOperator;

/**
 * A filter of linear phase with any given response, made by frequency sampling and a Kaiser window. Its output belongs to
 * the input of {@code half} samples ago. The losses of a head have no phase, which such a filter has neither.
 */
final class SymmetricFilter {
    private static final int GRID = 2048;

    /** Inputs that are filtered at a time. */
    private static final int BLOCK = 1024;

    /** Neighbouring inputs stand in as many rows, so that the same tap of all outputs of a row is one loop. */
    private static final int ROWS = 8;

    private final int half;
    private final double rate;
    private final double kaiser;
    private final int step;
    private final double[] taps;
    /** The last 2 half inputs and then those of the present block. */
    private final double[] inputs;
    /** Every eighth input from the first on, from the second on and so on. */
    private final double[][] phases;

    /** Every eighth input from each of the first on: parts of the phases, so that all begin at the same place. */
    private final double[][] rows;

    private final double[][] sums;

    /**
     * The response is filled in by {@link #design}. The window smooths it: parameter 4 for curves with bends, 0 (none) for
     * those whose impulse response ends within the filter. There is an output for every step-th input; the step divides 8.
     */
    SymmetricFilter(int half, double rate, double kaiser, int step) {
        this.kaiser = kaiser;
        this.half = half;
        this.rate = rate;
        this.step = step;
        taps = new double[half + 1];
        inputs = new double[2 * half + BLOCK + ROWS];
        phases = new double[ROWS][BLOCK / ROWS + 2 * half / ROWS + 1];
        rows = new double[2 * half + ROWS][BLOCK / ROWS];
        sums = new double[ROWS / step][BLOCK / ROWS];
    }

    /** Sets the response, which may be done at any moment: amplitude ratio as a function of frequency in Hz. */
    void design(DoubleUnaryOperator ratioAtHz) {
        double[] response = new double[GRID / 2 + 1];
        double[] cosine = new double[GRID];
        for (int k = 0; k < GRID; k++) {
            cosine[k] = StrictMath.cos(2 * Math.PI * k / GRID);
        }
        for (int k = 0; k <= GRID / 2; k++) {
            response[k] = ratioAtHz.applyAsDouble(k * rate / GRID);
        }
        double peak = Kernels.besselI0(kaiser);
        for (int n = 0; n <= half; n++) {
            double sum = response[0] + ((n & 1) == 0 ? 1 : -1) * response[GRID / 2];
            for (int k = 1; k < GRID / 2; k++) {
                sum += 2 * response[k] * cosine[n * k % GRID];
            }
            double x = (double) n / (half + 1);
            taps[n] = sum / GRID * Kernels.besselI0(kaiser * Math.sqrt(1 - x * x)) / peak;
        }
    }

    /** Weight of the inputs n places to either side of the one that an output belongs to. */
    double tap(int n) {
        return taps[n];
    }

    /**
     * Filters the next values. What comes out doesn't depend on the division into blocks.
     *
     * @param from step values for each output
     * @param to outputs from its beginning on; may be the same array
     * @param outputs how many
     */
    void filter(double[] from, double[] to, int outputs) {
        int most = BLOCK / step;
        for (int done = 0; done < outputs; done += most) {
            int part = Math.min(most, outputs - done);
            System.arraycopy(from, done * step, inputs, 2 * half, part * step);
            int columns = (part * step + ROWS - 1) / ROWS;
            arrange(columns);
            sum(columns);
            for (int i = 0; i < sums.length; i++) {
                for (int at = i, column = 0; at < part; at += sums.length, column++) {
                    to[done + at] = sums[i][column];
                }
            }
            System.arraycopy(inputs, part * step, inputs, 0, 2 * half);
        }
    }

    private void arrange(int columns) {
        for (int n = 0; n < ROWS; n++) {
            double[] phase = phases[n];
            int count = columns + 2 * half / ROWS + 1;
            for (int i = 0, at = n; i < count; i++, at += ROWS) {
                phase[i] = inputs[at];
            }
        }
        for (int n = 0; n < rows.length; n++) {
            System.arraycopy(phases[n % ROWS], n / ROWS, rows[n], 0, columns);
        }
    }

    /** Two pairs of taps at a time; the loops inside are what the compiler of Java 17 makes vector code of. */
    private void sum(int columns) {
        for (int i = 0; i < sums.length; i++) {
            middle(sums[i], taps[0], rows[i * step + half], columns);
        }
        int n = 1;
        for (; n < half; n += 2) {
            for (int i = 0; i < sums.length; i++) {
                int centre = i * step + half;
                twoPairs(
                        sums[i],
                        taps[n],
                        rows[centre - n],
                        rows[centre + n],
                        taps[n + 1],
                        rows[centre - n - 1],
                        rows[centre + n + 1],
                        columns);
            }
        }
        if (n == half) {
            for (int i = 0; i < sums.length; i++) {
                int centre = i * step + half;
                pair(sums[i], taps[n], rows[centre - n], rows[centre + n], columns);
            }
        }
    }

    private static void middle(double[] sum, double tap, double[] values, int count) {
        for (int i = 0; i < count; i++) {
            sum[i] = tap * values[i];
        }
    }

    private static void pair(double[] sum, double tap, double[] before, double[] after, int count) {
        for (int i = 0; i < count; i++) {
            sum[i] += tap * (before[i] + after[i]);
        }
    }

    private static void twoPairs(
            double[] sum,
            double near,
            double[] nearBefore,
            double[] nearAfter,
            double far,
            double[] farBefore,
            double[] farAfter,
            int count) {
        for (int i = 0; i < count; i++) {
            sum[i] += near * (nearBefore[i] + nearAfter[i]) + far * (farBefore[i] + farAfter[i]);
        }
    }
}
