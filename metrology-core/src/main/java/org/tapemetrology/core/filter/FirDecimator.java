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
            int outputs = filled < taps ? 0 : (filled - taps) / factor + 1;
            if (factor == 1) {
                allDots(outputs, out, outOffset + produced);
            } else {
                for (int i = 0; i < outputs; i++) {
                    out[outOffset + produced + i] = dot(i * factor);
                }
            }
            produced += outputs;
            int start = outputs * factor;
            System.arraycopy(line, start, line, 0, filled - start);
            filled -= start;
        }
        return produced;
    }

    /** Every dot product, tap by tap over all of them, which the compiler makes vector instructions of. */
    private void allDots(int outputs, double[] out, int outOffset) {
        int middle = taps / 2;
        for (int j = 0; j < outputs; j++) {
            out[outOffset + j] = half[middle] * line[j + middle];
        }
        for (int k = 0; k < middle; k++) {
            HalfBand.addPairs(half[k], line, k, taps - 1 - k, out, outOffset, outputs);
        }
    }

    private double dot(int start) {
        int end = start + taps - 1;
        int middle = taps / 2;
        double even = half[middle] * line[start + middle];
        double odd = 0;
        int i = 0;
        for (; i + 1 < middle; i += 2) {
            even += half[i] * (line[start + i] + line[end - i]);
            odd += half[i + 1] * (line[start + i + 1] + line[end - i - 1]);
        }
        if (i < middle) {
            odd += half[i] * (line[start + i] + line[end - i]);
        }
        return even + odd;
    }

    /** Puts the filter to rest: the next output again waits for a whole filter of input. */
    public void reset() {
        filled = 0;
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
