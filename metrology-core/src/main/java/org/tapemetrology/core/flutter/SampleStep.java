/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/** The step of the whole numbers that samples were made from: 1/128 of full scale in a file of 8 bits, 1/32768 in one of 16. */
final class SampleStep {
    private static final int MOST_BITS = 24;

    private SampleStep() {}

    /**
     * The largest power of two that every sample is a multiple of.
     *
     * @return the step, where full scale is 1; 0 where there is none down to 24 bits, or no sample but 0
     */
    static double of(float[] samples, int offset, int length) {
        int bits = 0;
        double whole = 1L << (MOST_BITS - 1);
        for (int i = offset; i < offset + length; i++) {
            double scaled = whole * samples[i];
            if (scaled != Math.rint(scaled) || !(Math.abs(scaled) < Integer.MAX_VALUE)) {
                return 0;
            }
            bits |= (int) scaled;
        }
        return Integer.lowestOneBit(bits) / whole;
    }
}
