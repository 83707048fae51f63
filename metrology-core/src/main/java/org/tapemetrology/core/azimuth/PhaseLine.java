/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import java.util.Arrays;

/**
 * Phases over frequency that lie on a line through zero, whose negative slope is a delay. A delay t is judged by the
 * weighted sum of the cosines of what it leaves of the phases, {@code sum w cos(phase + omega t)}: near its peak this is
 * weighted least squares, and it needs no unfolding of phases. Delays are in seconds, omega in rad/s.
 */
final class PhaseLine {
    /** Points in a cycle of the highest frequency, of a scan that has to see every peak. */
    static final int POINTS_PER_CYCLE = 8;

    private static final int MOST_STEPS = 20;
    private static final double CONVERGED_SECONDS = 1e-14;

    private final double[] omega;
    private final double[] re;
    private final double[] im;
    private int count;
    private double weightSum;
    private double squareSum;
    private double highest;

    /** Slopes of the sum at the delay of {@link #differentiate}. */
    private double value;

    private double slope;
    private double curvature;

    PhaseLine(int most) {
        omega = new double[most];
        re = new double[most];
        im = new double[most];
    }

    void clear() {
        count = 0;
        weightSum = 0;
        squareSum = 0;
        highest = 0;
    }

    /** Adds the phase of a complex number, whose magnitude counts as part of the weight. */
    void add(double weight, double radPerSecond, double real, double imaginary) {
        omega[count] = radPerSecond;
        re[count] = weight * real;
        im[count] = weight * imaginary;
        count++;
        double size = weight * Math.sqrt(real * real + imaginary * imaginary);
        weightSum += size;
        squareSum += size * radPerSecond * radPerSecond;
        highest = Math.max(highest, radPerSecond);
    }

    boolean isEmpty() {
        return !(weightSum > 0);
    }

    double weightSum() {
        return weightSum;
    }

    /** Period in s of the frequency that counts: the weighted root mean square. */
    double period() {
        return 2 * Math.PI / Math.sqrt(squareSum / weightSum);
    }

    /** Step of a scan that sees every peak. */
    double step() {
        return 2 * Math.PI / (POINTS_PER_CYCLE * highest);
    }

    /** The sums at equidistant delays. */
    void scan(double from, double step, int points, double[] out) {
        Arrays.fill(out, 0, points, 0);
        for (int k = 0; k < count; k++) {
            double c = Math.cos(omega[k] * from);
            double s = Math.sin(omega[k] * from);
            double zr = re[k] * c - im[k] * s;
            double zi = re[k] * s + im[k] * c;
            double turnRe = Math.cos(omega[k] * step);
            double turnIm = Math.sin(omega[k] * step);
            for (int i = 0; i < points; i++) {
                out[i] += zr;
                double next = zr * turnRe - zi * turnIm;
                zi = zr * turnIm + zi * turnRe;
                zr = next;
            }
        }
    }

    /** Climbs from a delay to the peak of {@code sign} times the sum by Newton's method, one scan step at most each time. */
    double climb(double from, int sign) {
        double delay = from;
        for (int i = 0; i < MOST_STEPS; i++) {
            differentiate(delay);
            double step = sign * curvature < 0 ? -slope / curvature : Math.copySign(step(), sign * slope);
            step = Math.max(-step(), Math.min(step(), step));
            delay += step;
            if (Math.abs(step) < CONVERGED_SECONDS) {
                break;
            }
        }
        differentiate(delay);
        return delay;
    }

    /** Sum, slope and curvature at a delay. */
    void differentiate(double delay) {
        value = 0;
        slope = 0;
        curvature = 0;
        for (int k = 0; k < count; k++) {
            double w = omega[k];
            double c = Math.cos(w * delay);
            double s = Math.sin(w * delay);
            double zr = re[k] * c - im[k] * s;
            value += zr;
            slope -= w * (re[k] * s + im[k] * c);
            curvature -= w * w * zr;
        }
    }

    /** The sum at the last delay. */
    double value() {
        return value;
    }

    /** Information on the delay at the last peak, as far as the weights are reciprocal variances: the variance's inverse. */
    double information() {
        return Math.abs(curvature);
    }

    /** Variance of the delay in s^2 as the phases scatter about the line, if they do so independently. */
    double scatter(double delay) {
        double sum = 0;
        for (int k = 0; k < count; k++) {
            double w = omega[k];
            double off = w * (re[k] * Math.sin(w * delay) + im[k] * Math.cos(w * delay));
            sum += off * off;
        }
        return sum / (curvature * curvature);
    }
}
