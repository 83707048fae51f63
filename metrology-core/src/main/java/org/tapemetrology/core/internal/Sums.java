/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

/** Sums over arrays as four sums side by side, so that one addition need not wait for the one before. */
public final class Sums {
    private Sums() {}

    /**
     * Sum of values.
     *
     * @param values the values
     * @param offset first of them
     * @param length number of them
     * @return their sum
     */
    public static double of(double[] values, int offset, int length) {
        double a = 0;
        double b = 0;
        double c = 0;
        double d = 0;
        int end = offset + length;
        int i = offset;
        for (; i < end - 3; i += 4) {
            a += values[i];
            b += values[i + 1];
            c += values[i + 2];
            d += values[i + 3];
        }
        for (; i < end; i++) {
            a += values[i];
        }
        return a + b + (c + d);
    }

    /**
     * Sum of the squares of values.
     *
     * @param values the values
     * @param offset first of them
     * @param length number of them
     * @return the sum of their squares
     */
    public static double ofSquares(double[] values, int offset, int length) {
        double a = 0;
        double b = 0;
        double c = 0;
        double d = 0;
        int end = offset + length;
        int i = offset;
        for (; i < end - 3; i += 4) {
            a += values[i] * values[i];
            b += values[i + 1] * values[i + 1];
            c += values[i + 2] * values[i + 2];
            d += values[i + 3] * values[i + 3];
        }
        for (; i < end; i++) {
            a += values[i] * values[i];
        }
        return a + b + (c + d);
    }
}
