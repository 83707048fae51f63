/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import java.util.Arrays;

/**
 * Mixes real samples down by a tone frequency, low-passes and decimates them, in one go: the mixer is folded into
 * complex taps.
 *
 * <p>With D the factor, h the taps and w the tone in radians per sample, column m of the output is
 *
 * <pre>  z[m] = 2 e^(-j w D m) sum over k of x[m D + k] h[k] e^(-j w (k - half))</pre>
 *
 * so that a tone of amplitude A gives |z| = A. The inner sum is the hot loop of the library. It runs over blocks of
 * {@value #COLUMNS} columns of de-interleaved phases p_r[c] = x[c D + r], as sums of up to four phases at the same index:
 * the shape of loop that the compiler of Java 17 turns into vector instructions. It works in single precision; its
 * rounding lies some 140 dB below the tone. A test compares it with the plain formula above in double precision.
 *
 * <p>Output comes in whole blocks, whatever blocks the input comes in. Thread-confined.
 */
final class MixingDecimator {
    static final int COLUMNS = 256;

    private final int factor;
    private final int shifts;
    private final double radiansPerColumn;
    private final double turnsPerColumn;
    /** Real and imaginary taps, [shift q][phase r] of tap q D + r; taps beyond the last are 0. */
    private final float[][] tapsRe;

    private final float[][] tapsIm;
    private final float[][] phases;
    private final float[] sum;
    private final float[] shifted = new float[COLUMNS];
    private final float[] columnRe = new float[COLUMNS];
    private final float[] columnIm = new float[COLUMNS];

    private int filledColumns;
    private int filledPhase;
    private double turns;

    /**
     * A decimator at rest.
     *
     * @param taps symmetric low-pass taps, an odd number
     * @param factor decimation factor
     * @param turnsPerSample tone frequency over sampling rate
     */
    MixingDecimator(double[] taps, int factor, double turnsPerSample) {
        this.factor = factor;
        this.shifts = (taps.length + factor - 1) / factor;
        this.radiansPerColumn = 2 * StrictMath.PI * fraction(turnsPerSample * factor);
        this.turnsPerColumn = fraction(turnsPerSample * factor);
        this.tapsRe = new float[shifts][factor];
        this.tapsIm = new float[shifts][factor];
        int half = taps.length / 2;
        for (int k = 0; k < taps.length; k++) {
            double angle = -2 * StrictMath.PI * fraction(turnsPerSample * (k - half));
            tapsRe[k / factor][k % factor] = (float) (2 * taps[k] * StrictMath.cos(angle));
            tapsIm[k / factor][k % factor] = (float) (2 * taps[k] * StrictMath.sin(angle));
        }
        int length = COLUMNS + shifts - 1;
        this.phases = new float[factor][length];
        this.sum = new float[length];
    }

    private static double fraction(double turns) {
        return turns - StrictMath.floor(turns);
    }

    /** Most outputs that one call can give for so many input samples. */
    int mostOutputs(int inputs) {
        return (inputs / (factor * COLUMNS) + 1) * COLUMNS;
    }

    /** Takes samples and writes whole blocks of columns; returns the number of columns written. */
    int process(float[] in, int offset, int length, double[] outRe, double[] outIm) {
        int produced = 0;
        int at = offset;
        int end = offset + length;
        int lastColumn = COLUMNS + shifts - 1;
        while (at < end) {
            while (filledPhase != 0 && at < end) {
                takeOne(in[at++]);
            }
            int wholeColumns = Math.min((end - at) / factor, lastColumn - filledColumns);
            deinterleave(in, at, wholeColumns);
            at += wholeColumns * factor;
            filledColumns += wholeColumns;
            if (filledColumns < lastColumn && at < end && end - at < factor) {
                takeOne(in[at++]);
            }
            if (filledColumns == lastColumn) {
                filter();
                rotate(outRe, outIm, produced);
                produced += COLUMNS;
                keepHistory();
            }
        }
        return produced;
    }

    private void takeOne(float sample) {
        phases[filledPhase++][filledColumns] = sample;
        if (filledPhase == factor) {
            filledPhase = 0;
            filledColumns++;
        }
    }

    private void deinterleave(float[] in, int offset, int columns) {
        for (int r = 0; r < factor; r++) {
            float[] phase = phases[r];
            int from = offset + r;
            for (int c = 0; c < columns; c++) {
                phase[filledColumns + c] = in[from];
                from += factor;
            }
        }
    }

    private void filter() {
        Arrays.fill(columnRe, 0);
        Arrays.fill(columnIm, 0);
        for (int q = 0; q < shifts; q++) {
            addShift(q, tapsRe[q], columnRe);
            addShift(q, tapsIm[q], columnIm);
        }
    }

    /** Adds the part of the taps with one shift: at shift q column m takes the phases at m + q. */
    private void addShift(int q, float[] taps, float[] columns) {
        int r = 0;
        if (factor >= 4) {
            setFour(sum, q, phases[0], phases[1], phases[2], phases[3], taps[0], taps[1], taps[2], taps[3]);
            r = 4;
        } else {
            Arrays.fill(sum, q, q + COLUMNS, 0);
        }
        for (; r + 4 <= factor; r += 4) {
            addFour(
                    sum,
                    q,
                    phases[r],
                    phases[r + 1],
                    phases[r + 2],
                    phases[r + 3],
                    taps[r],
                    taps[r + 1],
                    taps[r + 2],
                    taps[r + 3]);
        }
        if (r + 2 <= factor) {
            addTwo(sum, q, phases[r], phases[r + 1], taps[r], taps[r + 1]);
            r += 2;
        }
        if (r < factor) {
            addOne(sum, q, phases[r], taps[r]);
        }
        System.arraycopy(sum, q, shifted, 0, COLUMNS);
        add(columns, shifted);
    }

    private static void setFour(
            float[] sum,
            int from,
            float[] a,
            float[] b,
            float[] c,
            float[] d,
            float tapA,
            float tapB,
            float tapC,
            float tapD) {
        for (int m = from; m < from + COLUMNS; m++) {
            sum[m] = tapA * a[m] + tapB * b[m] + tapC * c[m] + tapD * d[m];
        }
    }

    /** Four inputs at the same index: the largest body that Java 17 turned into vector code on every machine tried. */
    private static void addFour(
            float[] sum,
            int from,
            float[] a,
            float[] b,
            float[] c,
            float[] d,
            float tapA,
            float tapB,
            float tapC,
            float tapD) {
        for (int m = from; m < from + COLUMNS; m++) {
            sum[m] += tapA * a[m] + tapB * b[m] + tapC * c[m] + tapD * d[m];
        }
    }

    private static void addTwo(float[] sum, int from, float[] a, float[] b, float tapA, float tapB) {
        for (int m = from; m < from + COLUMNS; m++) {
            sum[m] += tapA * a[m] + tapB * b[m];
        }
    }

    private static void addOne(float[] sum, int from, float[] a, float tap) {
        for (int m = from; m < from + COLUMNS; m++) {
            sum[m] += tap * a[m];
        }
    }

    private static void add(float[] sum, float[] part) {
        for (int m = 0; m < COLUMNS; m++) {
            sum[m] += part[m];
        }
    }

    /** Takes the rotation e^(-j w D m) out; the phase is set anew for each block, so no error builds up within one. */
    private void rotate(double[] outRe, double[] outIm, int offset) {
        double angle = -2 * Math.PI * turns;
        double re = Math.cos(angle);
        double im = Math.sin(angle);
        double stepRe = Math.cos(radiansPerColumn);
        double stepIm = -Math.sin(radiansPerColumn);
        for (int m = 0; m < COLUMNS; m++) {
            double x = columnRe[m];
            double y = columnIm[m];
            outRe[offset + m] = x * re - y * im;
            outIm[offset + m] = x * im + y * re;
            double next = re * stepRe - im * stepIm;
            im = re * stepIm + im * stepRe;
            re = next;
        }
        turns = fraction(turns + COLUMNS * turnsPerColumn);
    }

    private void keepHistory() {
        for (float[] phase : phases) {
            System.arraycopy(phase, COLUMNS, phase, 0, shifts - 1);
        }
        filledColumns = shifts - 1;
    }
}
