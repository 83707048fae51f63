/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import java.util.Arrays;
import java.util.List;

/**
 * Mixes real samples down by a tone frequency, low-passes and decimates them, in one go: the mixer is folded into
 * complex taps.
 *
 * <p>With D the factor, h the taps and w the tone in radians per sample, column m of the output is
 *
 * <pre>  z[m] = 2 e^(j w half) sum over k of x[m D + k] h[k] e^(-j w k)</pre>
 *
 * so that a tone of amplitude A gives |z| = A; it still turns by {@link #radiansPerColumn()} from column to column. The sum
 * is the hot loop of the library. It runs over blocks of {@value #COLUMNS} columns of de-interleaved phases
 * p_r[c] = x[c D + r], as sums of up to four phases at the same index: the shape of loop that the compiler of Java 17
 * turns into vector instructions. Where the tone leaves room, the rate of the phases is halved first ({@link
 * PhaseHalver}), which takes fewer taps. It works in single precision; its rounding lies some 140 dB below the tone. A
 * test compares it with the plain formula above in double precision.
 *
 * <p>Output comes in whole blocks, whatever blocks the input comes in. Thread-confined.
 */
final class MixingDecimator {
    /** 32 ms at 4 kHz: longer blocks take a little less time, but their last one, unfinished, is missing in a reading. */
    static final int COLUMNS = 128;

    private final int factor;
    private final List<PhaseHalver> halvers;
    /** Decimation factor behind the halvers. */
    private final int left;

    private final int shifts;
    private final double turnsPerColumn;
    /** Real and imaginary taps, [q/2][k] of tap q D + k for even shifts q; taps beyond the last are 0. */
    private final float[][] tapsRe;

    private final float[][] tapsIm;
    private final float[][] phases;
    /** The phases, and after them the same one column back. */
    private final float[][] phasesOfTwoShifts;

    private int filled;
    private final float[] sum;
    private final float[][] shifted = new float[4][COLUMNS];
    private final float[] columnRe = new float[COLUMNS];
    private final float[] columnIm = new float[COLUMNS];

    /** Where samples are de-interleaved to: the phases of the first halver, or those of the taps. */
    private final float[][] entry;

    private int entryColumn;
    private int entryPhase;
    /** Column of the entry at which a block is complete. The first one is the history of all stages alone. */
    private int entryEnd;

    /**
     * A decimator at rest.
     *
     * @param halvings side taps of half-band filters that halve the rate first, each from the middle outwards
     * @param taps symmetric low-pass taps behind them, an odd number
     * @param factor decimation factor, divisible by two for each halving
     * @param turnsPerSample tone frequency over sampling rate
     */
    MixingDecimator(List<double[]> halvings, double[] taps, int factor, double turnsPerSample) {
        this.factor = factor;
        int stageFactor = factor;
        int history = 0;
        PhaseHalver[] stages = new PhaseHalver[halvings.size()];
        for (int i = 0; i < stages.length; i++) {
            stages[i] = new PhaseHalver(halvings.get(i), stageFactor, COLUMNS);
            history += stages[i].history();
            stageFactor /= 2;
        }
        this.halvers = List.of(stages);
        this.left = stageFactor;
        this.shifts = (taps.length + 2 * left - 1) / (2 * left) * 2;
        this.turnsPerColumn = fraction(turnsPerSample * factor);
        this.tapsRe = new float[shifts / 2][2 * left];
        this.tapsIm = new float[shifts / 2][2 * left];
        int half = taps.length / 2;
        int step = factor / left;
        for (int k = 0; k < taps.length; k++) {
            double angle = -2 * StrictMath.PI * fraction(turnsPerSample * step * (k - half));
            tapsRe[k / (2 * left)][k % (2 * left)] = (float) (2 * taps[k] * StrictMath.cos(angle));
            tapsIm[k / (2 * left)][k % (2 * left)] = (float) (2 * taps[k] * StrictMath.sin(angle));
        }
        int length = COLUMNS + shifts - 1;
        this.phases = new float[left][length];
        this.phasesOfTwoShifts = new float[2 * left][];
        for (int r = 0; r < left; r++) {
            phasesOfTwoShifts[r] = phases[r];
            phasesOfTwoShifts[left + r] = new float[length];
        }
        this.sum = new float[length];
        this.entry = stages.length > 0 ? stages[0].input() : phases;
        this.entryEnd = history + shifts - 1;
        if (stages.length == 0) {
            this.entryEnd += COLUMNS;
        }
    }

    private static double fraction(double turns) {
        return turns - StrictMath.floor(turns);
    }

    /** How far the output turns from column to column. */
    double radiansPerColumn() {
        return 2 * StrictMath.PI * turnsPerColumn;
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
        while (at < end) {
            while (entryPhase != 0 && at < end) {
                takeOne(in[at++]);
            }
            int wholeColumns = Math.min((end - at) / factor, entryEnd - entryColumn);
            deinterleave(in, at, wholeColumns);
            at += wholeColumns * factor;
            entryColumn += wholeColumns;
            if (entryColumn < entryEnd && at < end && end - at < factor) {
                takeOne(in[at++]);
            }
            if (entryColumn == entryEnd && halve()) {
                filter();
                for (int m = 0; m < COLUMNS; m++) {
                    outRe[produced + m] = columnRe[m];
                    outIm[produced + m] = columnIm[m];
                }
                produced += COLUMNS;
                keepHistory();
            }
        }
        return produced;
    }

    private void takeOne(float sample) {
        entry[entryPhase++][entryColumn] = sample;
        if (entryPhase == factor) {
            entryPhase = 0;
            entryColumn++;
        }
    }

    private void deinterleave(float[] in, int offset, int columns) {
        for (int r = 0; r < factor; r++) {
            deinterleave(in, offset + r, factor, entry[r], entryColumn, columns);
        }
    }

    private static void deinterleave(float[] in, int offset, int stride, float[] phase, int column, int columns) {
        int from = offset;
        for (int c = column; c < column + columns; c++) {
            phase[c] = in[from];
            from += stride;
        }
    }

    /** Passes the entry on through the halvers; tells whether the phases of the taps hold a whole block. */
    private boolean halve() {
        if (halvers.isEmpty()) {
            return true;
        }
        int added = entryColumn - halvers.get(0).filled();
        for (int i = 0; i < halvers.size(); i++) {
            boolean last = i + 1 == halvers.size();
            float[][] out = last ? phases : halvers.get(i + 1).input();
            added = halvers.get(i)
                    .process(added, out, last ? filled : halvers.get(i + 1).filled());
        }
        filled += added;
        entryColumn = halvers.get(0).filled();
        entryEnd = entryColumn + COLUMNS;
        return filled == COLUMNS + shifts - 1;
    }

    private void filter() {
        for (int r = 0; r < left; r++) {
            System.arraycopy(phases[r], 1, phasesOfTwoShifts[left + r], 0, phases[r].length - 1);
        }
        Arrays.fill(columnRe, 0);
        Arrays.fill(columnIm, 0);
        filter(tapsRe, columnRe);
        filter(tapsIm, columnIm);
    }

    /**
     * At shift q column m takes the phases at m + q. Two shifts at a time are summed up, the second from phases that are
     * kept one column back beside the first; four such sums at a time are put in place and added.
     */
    private void filter(float[][] taps, float[] columns) {
        int parts = 0;
        for (int q = 0; q < shifts; q += 2) {
            part(q, taps[q / 2], shifted[parts++]);
            if (parts == 4) {
                add(columns, shifted[0], shifted[1], shifted[2], shifted[3]);
                parts = 0;
            }
        }
        for (int i = 0; i < parts; i++) {
            add(columns, shifted[i]);
        }
    }

    /** The part of the taps with two shifts, q and q + 1. */
    private void part(int q, float[] taps, float[] inPlace) {
        float[][] p = phasesOfTwoShifts;
        int r = 0;
        if (p.length >= 4) {
            setFour(sum, q, p[0], p[1], p[2], p[3], taps[0], taps[1], taps[2], taps[3]);
            r = 4;
        } else {
            Arrays.fill(sum, q, q + COLUMNS, 0);
        }
        for (; r + 4 <= p.length; r += 4) {
            addFour(sum, q, p[r], p[r + 1], p[r + 2], p[r + 3], taps[r], taps[r + 1], taps[r + 2], taps[r + 3]);
        }
        if (r < p.length) {
            addTwo(sum, q, p[r], p[r + 1], taps[r], taps[r + 1]);
        }
        System.arraycopy(sum, q, inPlace, 0, COLUMNS);
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

    private static void add(float[] sum, float[] part) {
        for (int m = 0; m < COLUMNS; m++) {
            sum[m] += part[m];
        }
    }

    private static void add(float[] sum, float[] a, float[] b, float[] c, float[] d) {
        for (int m = 0; m < COLUMNS; m++) {
            sum[m] += a[m] + b[m] + c[m] + d[m];
        }
    }

    private void keepHistory() {
        for (float[] phase : phases) {
            System.arraycopy(phase, COLUMNS, phase, 0, shifts - 1);
        }
        filled = shifts - 1;
        if (halvers.isEmpty()) {
            entryColumn = filled;
        }
    }
}
