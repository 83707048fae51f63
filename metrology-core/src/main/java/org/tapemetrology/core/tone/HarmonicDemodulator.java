/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import java.util.Arrays;
import org.tapemetrology.core.internal.Sums;

/**
 * Demodulates a fundamental and its harmonics with multiples of the fundamental's own phase p:
 * {@code z[k] = sum x exp(-i k p)}, k from 1 on. Samples stand side by side in blocks whose loops are vector code; each place
 * of the blocks has a sum of its own until the end. Thread-confined.
 */
final class HarmonicDemodulator {
    /** A power of two; the sums of ten harmonics then fit into the fastest cache. */
    static final int BLOCK = 128;

    private final double[][] sumsRe;
    private final double[][] sumsIm;
    private final double[] cosOfBlock = new double[BLOCK];
    private final double[] sinOfBlock = new double[BLOCK];
    private double[] re = new double[BLOCK];
    private double[] spare = new double[BLOCK];
    private final double[] im = new double[BLOCK];

    HarmonicDemodulator(int highest) {
        sumsRe = new double[highest + 1][BLOCK];
        sumsIm = new double[highest + 1][BLOCK];
    }

    /**
     * Writes the sums of harmonics 1 to {@code highest}.
     *
     * @param x samples, a whole number of blocks
     * @param cos cosines of the phase of each sample
     * @param sin sines of it
     * @param outRe where real parts go, by number of the harmonic
     * @param outIm where imaginary parts go
     */
    void demodulate(double[] x, double[] cos, double[] sin, int highest, double[] outRe, double[] outIm) {
        for (int k = 1; k <= highest; k++) {
            Arrays.fill(sumsRe[k], 0);
            Arrays.fill(sumsIm[k], 0);
        }
        for (int at = 0; at < cos.length; at += BLOCK) {
            System.arraycopy(x, at, re, 0, BLOCK);
            System.arraycopy(cos, at, cosOfBlock, 0, BLOCK);
            System.arraycopy(sin, at, sinOfBlock, 0, BLOCK);
            Arrays.fill(im, 0);
            for (int k = 1; k <= highest; k++) {
                turnBack();
                add(re, sumsRe[k]);
                add(im, sumsIm[k]);
            }
        }
        for (int k = 1; k <= highest; k++) {
            outRe[k] = Sums.of(sumsRe[k], 0, BLOCK);
            outIm[k] = Sums.of(sumsIm[k], 0, BLOCK);
        }
    }

    /** Turns every number of the block back by the phase of its sample. */
    private void turnBack() {
        turnedRe(re, im, cosOfBlock, sinOfBlock, spare);
        turnedIm(re, im, cosOfBlock, sinOfBlock);
        double[] turned = spare;
        spare = re;
        re = turned;
    }

    private static void turnedRe(double[] re, double[] im, double[] cos, double[] sin, double[] out) {
        for (int i = 0; i < BLOCK; i++) {
            out[i] = re[i] * cos[i] + im[i] * sin[i];
        }
    }

    private static void turnedIm(double[] re, double[] im, double[] cos, double[] sin) {
        for (int i = 0; i < BLOCK; i++) {
            im[i] = im[i] * cos[i] - re[i] * sin[i];
        }
    }

    private static void add(double[] values, double[] sums) {
        for (int i = 0; i < BLOCK; i++) {
            sums[i] += values[i];
        }
    }
}
