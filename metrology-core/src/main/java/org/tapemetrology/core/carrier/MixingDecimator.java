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
 * is the hot loop of the library. It runs over up to {@value #MOST_COLUMNS} columns of de-interleaved phases
 * p_r[c] = x[c D + r], as sums of up to four phases at the same index: the shape of loop that the compiler of Java 17
 * turns into vector instructions. Where the tone leaves room, the rate of the phases is halved first ({@link
 * PhaseHalver}), which takes fewer taps. It works in single precision; its rounding lies some 140 dB below the tone. A
 * test compares it with the plain formula above in double precision.
 *
 * <p>Every column that is complete is given at once, and is the same in whatever blocks the input comes; it takes least time
 * in blocks of some hundred columns. Thread-confined.
 */
final class MixingDecimator {
    /** Columns that are made together: what they need stays in the first two caches. */
    static final int MOST_COLUMNS = 384;
    /** Numbers in a line of the cache, and those that the head of an array takes the place of in its first one. */
    private static final int LINE = 16;

    private static final int HEAD = 4;

    private final int factor;
    private final List<PhaseHalver> halvers;
    /** Decimation factor behind the halvers. */
    private final int left;

    private final int shifts;
    /** How many columns of samples go before the first one of the output. */
    private final int columnsBefore;

    private final double turnsPerColumn;
    /** Real and imaginary taps, [q/2][k] of tap q D + k for even shifts q; taps beyond the last are 0. */
    private final float[][] tapsRe;

    private final float[][] tapsIm;
    private final float[][] phases;
    /** The phases, and after them the same one column back. */
    private final float[][] phasesOfTwoShifts;

    private int filled;
    private final float[] sum;
    private final float[][] shifted;
    private final float[] columnRe = new float[MOST_COLUMNS];
    private final float[] columnIm = new float[MOST_COLUMNS];

    /** Where samples are de-interleaved to: the phases of the first halver, or those of the taps. */
    private final float[][] entry;

    /** Columns that it has room for. */
    private final int entryEnd;

    private int entryColumn;
    private int entryPhase;

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
        PhaseHalver[] stages = new PhaseHalver[halvings.size()];
        for (int i = 0; i < stages.length; i++) {
            stages[i] = new PhaseHalver(halvings.get(i), stageFactor, MOST_COLUMNS);
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
        int length = MOST_COLUMNS + shifts; // one more for the column that is not complete
        float[][] rows = rows(2 * left + 5, length); // all in one, so that they begin at the same place within a line
        this.phases = Arrays.copyOf(rows, left);
        this.phasesOfTwoShifts = Arrays.copyOf(rows, 2 * left);
        this.sum = rows[2 * left];
        this.shifted = Arrays.copyOfRange(rows, 2 * left + 1, 2 * left + 5);
        this.entry = stages.length > 0 ? stages[0].input() : phases;
        int before = shifts - 1;
        for (PhaseHalver stage : stages) {
            before += stage.history();
        }
        this.columnsBefore = before;
        this.entryEnd = MOST_COLUMNS + (stages.length > 0 ? stages[0].history() : shifts - 1);
    }

    /**
     * Rows of at least a length, so long that one made right after the other begins at the same place within a line of the
     * cache: loops over several of them then cross lines together.
     */
    static float[][] rows(int count, int leastLength) {
        int lines = (leastLength + HEAD + LINE - 1) / LINE;
        return new float[count][lines * LINE - HEAD];
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
        return inputs / factor + 1;
    }

    /** How many columns a number of samples give, however they are cut into calls. */
    long columnsOf(long inputs) {
        return Math.max(0, inputs / factor - columnsBefore);
    }

    /** Takes samples and writes the columns that they complete; returns the number of columns written. */
    int process(float[] in, int offset, int length, double[] outRe, double[] outIm) {
        int produced = 0;
        for (int at = offset; at < offset + length; ) {
            at += take(in, at, offset + length - at);
            halve();
            int columns = filled - shifts + 1;
            if (columns > 0) {
                filter(columns);
                for (int m = 0; m < columns; m++) {
                    outRe[produced + m] = columnRe[m];
                    outIm[produced + m] = columnIm[m];
                }
                produced += columns;
                keepHistory(columns);
            }
        }
        return produced;
    }

    /** De-interleaves as many samples as fit; returns their number. */
    private int take(float[] in, int offset, int length) {
        int taken = 0;
        while (entryPhase != 0 && taken < length) {
            takeOne(in[offset + taken++]);
        }
        int room = entryEnd - entryColumn;
        int columns = Math.min((length - taken) / factor, room);
        for (int r = 0; r < factor; r++) {
            deinterleave(in, offset + taken + r, factor, entry[r], entryColumn, columns);
        }
        entryColumn += columns;
        taken += columns * factor;
        if (columns < room) {
            while (taken < length) {
                takeOne(in[offset + taken++]);
            }
        }
        return taken;
    }

    private void takeOne(float sample) {
        entry[entryPhase++][entryColumn] = sample;
        if (entryPhase == factor) {
            entryPhase = 0;
            entryColumn++;
        }
    }

    private static void deinterleave(float[] in, int offset, int stride, float[] phase, int column, int columns) {
        int from = offset;
        for (int c = column; c < column + columns; c++) {
            phase[c] = in[from];
            from += stride;
        }
    }

    /** Passes the entry on through the halvers. */
    private void halve() {
        if (halvers.isEmpty()) {
            filled = entryColumn;
            return;
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
    }

    private void filter(int columns) {
        for (int r = 0; r < left; r++) {
            System.arraycopy(phases[r], 1, phasesOfTwoShifts[left + r], 0, columns + shifts - 2);
        }
        filter(tapsRe, columnRe, columns);
        filter(tapsIm, columnIm, columns);
    }

    /**
     * At shift q column m takes the phases at m + q. Two shifts at a time are summed up, the second from phases that are
     * kept one column back beside the first; four such sums at a time are put in place and added.
     */
    private void filter(float[][] taps, float[] out, int columns) {
        Arrays.fill(out, 0, columns, 0);
        int parts = 0;
        for (int q = 0; q < shifts; q += 2) {
            part(q, taps[q / 2], shifted[parts++], columns);
            if (parts == 4) {
                add(out, shifted[0], shifted[1], shifted[2], shifted[3], columns);
                parts = 0;
            }
        }
        for (int i = 0; i < parts; i++) {
            add(out, shifted[i], columns);
        }
    }

    /** The part of the taps with two shifts, q and q + 1. */
    private void part(int q, float[] taps, float[] inPlace, int columns) {
        int to = q + columns;
        float[][] p = phasesOfTwoShifts;
        int r = 0;
        if (p.length >= 4) {
            setFour(sum, q, to, p[0], p[1], p[2], p[3], taps[0], taps[1], taps[2], taps[3]);
            r = 4;
        } else {
            Arrays.fill(sum, q, to, 0);
        }
        for (; r + 4 <= p.length; r += 4) {
            addFour(sum, q, to, p[r], p[r + 1], p[r + 2], p[r + 3], taps[r], taps[r + 1], taps[r + 2], taps[r + 3]);
        }
        if (r < p.length) {
            addTwo(sum, q, to, p[r], p[r + 1], taps[r], taps[r + 1]);
        }
        System.arraycopy(sum, q, inPlace, 0, columns);
    }

    private static void setFour(
            float[] sum,
            int from,
            int to,
            float[] a,
            float[] b,
            float[] c,
            float[] d,
            float tapA,
            float tapB,
            float tapC,
            float tapD) {
        for (int m = from; m < to; m++) {
            sum[m] = tapA * a[m] + tapB * b[m] + tapC * c[m] + tapD * d[m];
        }
    }

    /** Four inputs at the same index: the largest body that Java 17 turned into vector code on every machine tried. */
    private static void addFour(
            float[] sum,
            int from,
            int to,
            float[] a,
            float[] b,
            float[] c,
            float[] d,
            float tapA,
            float tapB,
            float tapC,
            float tapD) {
        for (int m = from; m < to; m++) {
            sum[m] += tapA * a[m] + tapB * b[m] + tapC * c[m] + tapD * d[m];
        }
    }

    private static void addTwo(float[] sum, int from, int to, float[] a, float[] b, float tapA, float tapB) {
        for (int m = from; m < to; m++) {
            sum[m] += tapA * a[m] + tapB * b[m];
        }
    }

    private static void add(float[] sum, float[] part, int columns) {
        for (int m = 0; m < columns; m++) {
            sum[m] += part[m];
        }
    }

    private static void add(float[] sum, float[] a, float[] b, float[] c, float[] d, int columns) {
        for (int m = 0; m < columns; m++) {
            sum[m] += a[m] + b[m] + c[m] + d[m];
        }
    }

    /** Keeps what the next columns need, and what has come of the column that is not complete. */
    private void keepHistory(int columns) {
        for (float[] phase : phases) {
            System.arraycopy(phase, columns, phase, 0, shifts);
        }
        filled = shifts - 1;
        if (halvers.isEmpty()) {
            entryColumn = filled;
        }
    }
}
