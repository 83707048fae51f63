/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.List;

/**
 * Distribution of the error of a reading: a constant, up to two rectangles, a scaled Student's t and any number of sinusoids
 * at random moments added. The distribution function of t and rectangles is a difference of integrals of that of t, in
 * closed form; sinusoids are averaged over their phases. Immutable.
 */
final class ErrorDistribution {
    /** Phases of a sinusoid under half a period, evenly spaced: by symmetry the others add nothing. */
    private static final int PHASES = 64;

    /** Two sinusoids smooth each other. */
    private static final int PHASES_OF_EACH = 16;

    /** A sinusoid alone would leave steps between its phases; this smoothing widens the interval by less than 1 %. */
    private static final double LEAST_SMOOTHING = 0.01;

    private final double offset;
    /** Values of the sinusoids at every phase. */
    private final double[] swings;
    /** The wider rectangle. */
    private final double first;

    private final double second;
    private final double scale;
    private final StudentT student;
    /** Root sum square of all: the half-width at 95 % is 0.9 to 2 times as much. */
    private final double size;

    ErrorDistribution(
            double offset,
            List<Double> amplitudes,
            double first,
            double second,
            double scale,
            double degreesOfFreedom) {
        this.offset = offset;
        this.swings = swings(amplitudes);
        this.first = first;
        this.second = second;
        double power = amplitudes.stream().mapToDouble(a -> a * a).sum();
        this.scale = Math.max(scale, LEAST_SMOOTHING * Math.sqrt(power));
        this.student = StudentT.integrable(degreesOfFreedom);
        this.size = Math.sqrt(offset * offset + power + first * first + second * second + this.scale * this.scale);
    }

    private static double[] swings(List<Double> amplitudes) {
        double[] swings = {0};
        for (double amplitude : amplitudes) {
            int phases = amplitudes.size() == 1 ? PHASES : PHASES_OF_EACH;
            double[] more = new double[swings.length * phases];
            for (int i = 0; i < more.length; i++) {
                more[i] = swings[i / phases] + amplitude * Math.cos(Math.PI * (i % phases + 0.5) / phases);
            }
            swings = more;
        }
        return swings;
    }

    /** Half-width of the interval about no error that holds a probability. */
    double halfWidth(double coverageProbability) {
        return size == 0 ? 0 : Quantile.solve(coverageProbability, size, this::within);
    }

    /** Probability that the error lies between two bounds, either of which may be infinite. */
    double probabilityBetween(double lower, double upper) {
        return Math.min(1, Math.max(0, below(upper) - below(lower)));
    }

    private double within(double bound) {
        return offset == 0 ? 2 * below(bound) - 1 : below(bound) - below(-bound); // symmetric: half costs nothing
    }

    private double below(double x) {
        if (x == Double.POSITIVE_INFINITY) {
            return 1;
        }
        if (x == Double.NEGATIVE_INFINITY) {
            return 0;
        }
        double sum = 0;
        for (double swing : swings) {
            sum += belowWithout(x - offset - swing);
        }
        return sum / swings.length;
    }

    /** Distribution function without what is averaged. */
    private double belowWithout(double x) {
        if (scale == 0) {
            return ofRectangles(x);
        }
        double t = x / scale;
        double a = first / scale;
        double b = second / scale;
        if (a == 0) {
            return student.cumulative(t);
        }
        return b == 0
                ? (student.integral(t + a) - student.integral(t - a)) / (2 * a)
                : (student.secondIntegral(t + a + b)
                                - student.secondIntegral(t + a - b)
                                - student.secondIntegral(t - a + b)
                                + student.secondIntegral(t - a - b))
                        / (4 * a * b);
    }

    private double ofRectangles(double x) {
        if (first == 0) {
            return x >= 0 ? 1 : 0;
        }
        return second == 0
                ? (ramp(x + first) - ramp(x - first)) / (2 * first)
                : (square(ramp(x + first + second))
                                - square(ramp(x + first - second))
                                - square(ramp(x - first + second))
                                + square(ramp(x - first - second)))
                        / (8 * first * second);
    }

    private static double ramp(double x) {
        return Math.max(0, x);
    }

    private static double square(double x) {
        return x * x;
    }
}
