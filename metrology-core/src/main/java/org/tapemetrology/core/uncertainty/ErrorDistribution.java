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
        this.size = Math.sqrt(
                offset * offset + power / 2 + (first * first + second * second) / 3 + this.scale * this.scale);
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
        if (size == 0) {
            return 0;
        }
        return Quantile.solve(coverageProbability, size, this::within); // within the reach of any of them
    }

    /** Probability that the error lies between two bounds, either of which may be infinite. */
    double probabilityBetween(double lower, double upper) {
        Quantile.Value value = new Quantile.Value();
        below(upper, 1, value);
        below(lower, -1, value);
        return Math.min(1, Math.max(0, value.probability));
    }

    private void within(double bound, Quantile.Value into) {
        into.probability = 0;
        into.density = 0;
        if (offset == 0) { // symmetric: the lower half costs nothing
            below(bound, 2, into);
            into.probability -= 1;
        } else {
            below(bound, 1, into);
            into.density = -into.density;
            below(-bound, -1, into);
            into.density = -into.density;
        }
    }

    /** Distribution function and density, added to what is there. */
    private void below(double x, double weight, Quantile.Value into) {
        for (double swing : swings) {
            addSmooth(x - offset - swing, weight / swings.length, into);
        }
    }

    private void addSmooth(double x, double weight, Quantile.Value into) {
        if (Double.isInfinite(x)) {
            into.probability += x > 0 ? weight : 0;
        } else if (scale == 0) {
            addRectangles(x, weight, into);
        } else if (first == 0) {
            into.probability += weight * student.cumulative(x / scale);
            into.density += weight * student.density(x / scale) / scale;
        } else if (second == 0) {
            addCorner(x + first, weight * scale / (2 * first), into);
            addCorner(x - first, -weight * scale / (2 * first), into);
        } else {
            double corner = weight * scale * scale / (4 * first * second);
            addCorner(x + first + second, corner, into);
            addCorner(x + first - second, -corner, into);
            addCorner(x - first + second, -corner, into);
            addCorner(x - first - second, corner, into);
        }
    }

    /** What one end of a rectangle, or one pair of ends of two, adds. */
    private void addCorner(double x, double weight, Quantile.Value into) {
        double t = x / scale;
        double cumulative = student.cumulative(t);
        double density = student.density(t);
        double integral = student.integral(t, cumulative, density);
        if (second == 0) {
            into.probability += weight * integral;
            into.density += weight * cumulative / scale;
        } else {
            into.probability += weight * student.secondIntegral(t, cumulative, density);
            into.density += weight * integral / scale;
        }
    }

    /** Rectangles alone, of which the second may have no width. */
    private void addRectangles(double x, double weight, Quantile.Value into) {
        if (first == 0) {
            into.probability += x >= 0 ? weight : 0;
        } else if (second == 0) {
            into.probability += weight * Math.min(1, Math.max(0, (x + first) / (2 * first)));
            into.density += Math.abs(x) <= first ? weight / (2 * first) : 0;
        } else {
            double corner = weight / (4 * first * second);
            addRamp(x + first + second, corner, into);
            addRamp(x + first - second, -corner, into);
            addRamp(x - first + second, -corner, into);
            addRamp(x - first - second, corner, into);
        }
    }

    private static void addRamp(double x, double weight, Quantile.Value into) {
        double ramp = Math.max(0, x);
        into.probability += weight * ramp * ramp / 2;
        into.density += weight * ramp;
    }
}
