/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

/** Phases in cycles, reduced before rounding can reach them. */
final class Cycles {
    static final double TWO_PI = 2 * Math.PI;

    private Cycles() {}

    /** Frequency times time without its whole cycles; the error stays near 1e-16 cycles times the fraction's share. */
    static double of(double frequencyHz, long wholeSeconds, double fraction) {
        return reduce(product(frequencyHz, (double) wholeSeconds) + reduce(frequencyHz * fraction));
    }

    /** The product of two numbers without its whole part; the rounding of the product is put back from the fused one. */
    static double product(double a, double b) {
        double high = a * b;
        double low = Math.fma(a, b, -high);
        return reduce(high) + low;
    }

    /** What remains beside the nearest whole number, -0.5 to 0.5. */
    static double reduce(double cycles) {
        return cycles - Math.rint(cycles);
    }
}
