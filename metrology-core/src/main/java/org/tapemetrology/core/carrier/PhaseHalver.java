/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import java.util.Arrays;

/**
 * Halves the sampling rate of samples that lie de-interleaved, p_r[c] = x[c D + r]: from D phases it makes D/2 of the
 * same number of columns a second.
 *
 * <p>With s the side taps of a half-band filter (those 1, 3, 5 ... steps from its middle) and H the farthest step,
 *
 * <pre>  y[n] = x[2n + H]/2 + sum over j of s_j (x[2n + H - 2j - 1] + x[2n + H + 2j + 1])</pre>
 *
 * A sample at distance k from 2n stands in phase (2e + k) mod D, q = (2e + k) div D columns on, where e is the phase of
 * the output. Phases are copied q columns back once, so that every loop works at the same index, the shape that the
 * compiler of Java 17 turns into vector instructions. A test compares it with the formula above. Thread-confined.
 */
final class PhaseHalver {
    private final int factor;
    private final float[] sides;
    private final int reach;
    private final int history;
    private final float[][] in;
    /** The input phases, q columns back, in the order of time: [q D + phase] is so many steps after the column's first. */
    private final float[][] steps;

    private final float[] sum;
    private int filled;

    /**
     * A halver at rest.
     *
     * @param sides taps of one side from the middle outwards, for a gain of 1
     * @param factor number of phases of the input, even
     * @param columns columns that are made at once at most
     */
    PhaseHalver(double[] sides, int factor, int columns) {
        this.factor = factor;
        this.sides = new float[sides.length + sides.length % 2];
        for (int j = 0; j < sides.length; j++) {
            this.sides[j] = (float) (sides[j] / 2);
        }
        this.reach = delaySamples(sides);
        this.history = (factor - 2 + 2 * reach) / factor;
        int length = history + columns + 1; // one more for the column that is not complete
        float[][] rows = MixingDecimator.rows((history + 1) * factor + 1, length);
        this.in = Arrays.copyOf(rows, factor);
        this.steps = Arrays.copyOf(rows, (history + 1) * factor);
        this.sum = rows[steps.length];
    }

    /** The same filter as taps in a row at the rate of the input. */
    static double[] taps(double[] sides) {
        int reach = delaySamples(sides);
        double[] taps = new double[2 * reach + 1];
        taps[reach] = 0.5;
        for (int j = 0; j < sides.length; j++) {
            taps[reach - 2 * j - 1] = sides[j] / 2;
            taps[reach + 2 * j + 1] = sides[j] / 2;
        }
        return taps;
    }

    /** How many samples of the input a sample of the output stands after the one of the same number. */
    static int delaySamples(double[] sides) {
        return 2 * sides.length - 1;
    }

    /** Columns that are needed beyond those that are made. */
    int history() {
        return history;
    }

    /** The phases of the input; columns from {@link #filled()} on are to be written. */
    float[][] input() {
        return in;
    }

    int filled() {
        return filled;
    }

    /** Takes columns that were written to the input, and writes as many to the output as whole filters fit. */
    int process(int added, float[][] out, int outColumn) {
        filled += added;
        int columns = filled - history;
        if (columns <= 0) {
            return 0;
        }
        for (int q = 1; q <= history; q++) {
            for (int r = 0; r < factor; r++) {
                if (isTaken(q * factor + r)) {
                    System.arraycopy(in[r], q, steps[q * factor + r], 0, columns);
                }
            }
        }
        for (int e = 0; e < factor / 2; e++) {
            filter(2 * e, out[e], outColumn, columns);
        }
        for (float[] phase : in) {
            System.arraycopy(phase, columns, phase, 0, history + 1);
        }
        filled = history;
        return columns;
    }

    private void filter(int first, float[] out, int outColumn, int columns) {
        setMiddle(sum, steps[first + reach], columns);
        for (int j = 0; j < sides.length; j += 2) {
            // An odd number of sides is filled up with a tap of zero, which may stand anywhere.
            int outer = 2 * j + 3 <= reach ? 2 * j + 3 : 2 * j + 1;
            addTwoPairs(
                    sum,
                    steps[first + reach - 2 * j - 1],
                    steps[first + reach + 2 * j + 1],
                    steps[first + reach - outer],
                    steps[first + reach + outer],
                    sides[j],
                    sides[j + 1],
                    columns);
        }
        System.arraycopy(sum, 0, out, outColumn, columns);
    }

    /** Whether any output takes the sample so many steps after its column's first: even ones are sides, odd ones middles. */
    private boolean isTaken(int step) {
        return step % 2 == 0 ? step <= factor - 2 + 2 * reach : step >= reach && step <= factor - 2 + reach;
    }

    private static void setMiddle(float[] y, float[] middle, int columns) {
        for (int m = 0; m < columns; m++) {
            y[m] = 0.5f * middle[m];
        }
    }

    private static void addTwoPairs(
            float[] y, float[] a, float[] b, float[] c, float[] d, float tapAb, float tapCd, int columns) {
        for (int m = 0; m < columns; m++) {
            y[m] += tapAb * (a[m] + b[m]) + tapCd * (c[m] + d[m]);
        }
    }
}
