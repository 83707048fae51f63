/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

/**
 * The inner loops of the noise meter. Each works on equally long arrays at the same index and waits for nothing that it
 * has just computed, the form that the compiler turns into vector instructions; a recursive filter along one array would
 * wait for every output. So the samples of a frame lie crosswise ({@link LaneFrame}): an array holds one sample of each
 * lane, and time runs from array to array.
 */
final class Lanes {
    private Lanes() {}

    /** A second-order section in direct form I, one moment of every lane. */
    static void section(
            double[] y,
            double[] x0,
            double[] x1,
            double[] x2,
            double[] y1,
            double[] y2,
            double b0,
            double b1,
            double b2,
            double a1,
            double a2) {
        for (int p = 0; p < y.length; p++) {
            y[p] = b0 * x0[p] + b1 * x1[p] + b2 * x2[p] - a2 * y2[p] - a1 * y1[p];
        }
    }

    /** The same for a section of a band filter, {@code b1 = 0} and {@code b2 = -b0}. */
    static void bandSection(
            double[] y, double[] x0, double[] x2, double[] y1, double[] y2, double b0, double a1, double a2) {
        for (int p = 0; p < y.length; p++) {
            y[p] = b0 * (x0[p] - x2[p]) - a2 * y2[p] - a1 * y1[p];
        }
    }

    static void addTwo(double[] y, double[] a, double[] b, double ofA, double ofB) {
        for (int p = 0; p < y.length; p++) {
            y[p] += ofA * a[p] + ofB * b[p];
        }
    }

    static void scale(double[] y, double[] a, double factor) {
        for (int p = 0; p < y.length; p++) {
            y[p] = factor * a[p];
        }
    }

    /** A pair of equal taps. */
    static void addPair(double[] y, double[] a, double[] b, double tap) {
        for (int p = 0; p < y.length; p++) {
            y[p] += tap * (a[p] + b[p]);
        }
    }

    /** Two pairs of equal taps: half the traffic of one at a time. */
    static void addTwoPairs(double[] y, double[] a, double[] b, double[] c, double[] d, double tapAb, double tapCd) {
        for (int p = 0; p < y.length; p++) {
            y[p] += tapAb * (a[p] + b[p]) + tapCd * (c[p] + d[p]);
        }
    }

    static void addSquares(double[] sums, double[] a) {
        for (int p = 0; p < sums.length; p++) {
            sums[p] += a[p] * a[p];
        }
    }

    static void weighMagnitudes(
            double[] y, double[] a, double[] b, double[] c, double[] d, double wa, double wb, double wc, double wd) {
        for (int p = 0; p < y.length; p++) {
            y[p] = wa * Math.abs(a[p]) + wb * Math.abs(b[p]) + wc * Math.abs(c[p]) + wd * Math.abs(d[p]);
        }
    }

    /** The largest of four magnitudes, by {@code 2 max(u, v) = u + v + |u - v|}: right to rounding, and vector code. */
    static void largestMagnitude(double[] y, double[] a, double[] b, double[] c, double[] d) {
        for (int p = 0; p < y.length; p++) {
            double u = Math.abs(a[p]) + Math.abs(b[p]) + Math.abs(Math.abs(a[p]) - Math.abs(b[p]));
            double v = Math.abs(c[p]) + Math.abs(d[p]) + Math.abs(Math.abs(c[p]) - Math.abs(d[p]));
            y[p] = 0.25 * (u + v + Math.abs(u - v));
        }
    }
}
