/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import java.util.Arrays;

/**
 * A symmetric FIR filter that keeps every n-th output; with a factor of 1 it is a plain filter.
 *
 * <p>The first output stands for the first input sample at which the whole filter lies inside the input: nothing is
 * padded. Output k is therefore centred on input {@link #delaySamples()} {@code + k factor}. A non-finite sample leaves
 * the output non-finite for the length of the filter. Thread-confined.
 */
public final class FirDecimator {
    private final double[] half;
    private final int taps;
    private final int factor;
    private final double[] line;
    private int filled;

    /**
     * A filter at rest.
     *
     * @param taps symmetric taps, an odd number of them
     * @param factor every how many input samples there is an output, from 1 to the number of taps
     */
    public FirDecimator(double[] taps, int factor) {
        if (taps.length % 2 == 0) {
            throw new IllegalArgumentException(taps.length + " taps: an odd number is needed");
        }
        if (factor < 1 || factor > taps.length) {
            throw new IllegalArgumentException("factor " + factor + " is not in 1 to " + taps.length + ", the taps");
        }
        for (int i = 0; i < taps.length / 2; i++) {
            if (taps[i] != taps[taps.length - 1 - i]) {
                throw new IllegalArgumentException("taps " + i + " and " + (taps.length - 1 - i) + " are not equal");
            }
        }
        this.taps = taps.length;
        this.factor = factor;
        this.half = Arrays.copyOf(taps, taps.length / 2 + 1);
        this.line = new double[taps.length + 1024];
    }

    /**
     * Filters a block.
     *
     * @param in input samples
     * @param inOffset first input sample
     * @param length number of input samples
     * @param out where outputs go, with room for {@code length / factor + 1} of them
     * @param outOffset first output sample
     * @return number of outputs written
     */
    public int process(double[] in, int inOffset, int length, double[] out, int outOffset) {
        int produced = 0;
        int taken = 0;
        while (taken < length) {
            int part = Math.min(length - taken, line.length - filled);
            System.arraycopy(in, inOffset + taken, line, filled, part);
            taken += part;
            filled += part;
            int start = 0;
            for (; start + 3 * factor + taps <= filled; start += 4 * factor) {
                fourDots(start, out, outOffset + produced);
                produced += 4;
            }
            for (; start + taps <= filled; start += factor) {
                out[outOffset + produced++] = dot(start);
            }
            System.arraycopy(line, start, line, 0, filled - start);
            filled -= start;
        }
        return produced;
    }

    /**
     * How many outputs a number of samples give, however they are cut into calls.
     *
     * @param inputs number of input samples since it was at rest
     * @return number of outputs
     */
    public long outputsOf(long inputs) {
        return inputs < taps ? 0 : (inputs - taps) / factor + 1;
    }

    private double dot(int start) {
        int last = start + taps - 1;
        int middle = taps / 2;
        double sum = half[middle] * line[start + middle];
        for (int i = 0; i < middle; i++) {
            sum += half[i] * (line[start + i] + line[last - i]);
        }
        return sum;
    }

    /** Four outputs side by side, so that four sums grow at once; each is formed exactly as {@link #dot} forms it. */
    private void fourDots(int start, double[] out, int to) {
        double[] x = line;
        int last = start + taps - 1;
        int middle = taps / 2;
        int f1 = factor;
        int f2 = 2 * factor;
        int f3 = 3 * factor;
        int m = start + middle;
        double c = half[middle];
        double sum0 = c * x[m];
        double sum1 = c * x[m + f1];
        double sum2 = c * x[m + f2];
        double sum3 = c * x[m + f3];
        for (int i = 0; i < middle; i++) {
            double h = half[i];
            int p = start + i;
            int q = last - i;
            sum0 += h * (x[p] + x[q]);
            sum1 += h * (x[p + f1] + x[q + f1]);
            sum2 += h * (x[p + f2] + x[q + f2]);
            sum3 += h * (x[p + f3] + x[q + f3]);
        }
        out[to] = sum0;
        out[to + 1] = sum1;
        out[to + 2] = sum2;
        out[to + 3] = sum3;
    }

    /** Puts the filter to rest: the next output again waits for a whole filter of input. */
    public void reset() {
        filled = 0;
    }

    /**
     * Puts the filter into the state after an endless constant input, so that a start at that value makes no transient
     * and the first input sample gives an output at once. That output is centred {@link #delaySamples()} before it.
     *
     * @param constant the constant input
     */
    public void presetTo(double constant) {
        filled = taps - 1;
        Arrays.fill(line, 0, filled, constant);
    }

    /**
     * Half the length of the filter: how many input samples an output lags behind its input.
     *
     * @return samples at the input rate
     */
    public int delaySamples() {
        return taps / 2;
    }
}
