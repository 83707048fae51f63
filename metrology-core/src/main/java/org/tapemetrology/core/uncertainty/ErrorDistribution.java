/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

/**
 * Distribution of the error of a reading: a constant, a sinusoid at a random moment, a rectangle and a scaled Student's t
 * added. The distribution function of rectangle and t is a difference of integrals of that of t, in closed form; the
 * sinusoid is averaged over its phase. Immutable.
 */
final class ErrorDistribution {
    /** Phases of a sinusoid under half a period, evenly spaced: by symmetry the others add nothing. */
    private static final int PHASES = 64;

    /** A sinusoid alone would leave steps between its phases; this smoothing widens the interval by less than 1 %. */
    private static final double LEAST_SMOOTHING = 0.01;

    private final double offset;
    private final double amplitude;
    private final double halfWidth;
    private final double scale;
    private final StudentT student;

    ErrorDistribution(double offset, double amplitude, double halfWidth, double scale, double degreesOfFreedom) {
        this.offset = offset;
        this.amplitude = amplitude;
        this.halfWidth = halfWidth;
        this.scale = Math.max(scale, LEAST_SMOOTHING * amplitude);
        this.student = new StudentT(degreesOfFreedom);
    }

    /** Half-width of the interval about no error that holds a probability. */
    double halfWidth(double coverageProbability) {
        double size =
                Math.sqrt(offset * offset + amplitude * amplitude / 2 + halfWidth * halfWidth / 3 + scale * scale);
        if (size == 0) {
            return 0;
        }
        double start = halfWidth * halfWidth / 3 > size * size / 2
                ? halfWidth * coverageProbability + scale
                : Quantile.NORMAL_95 * size;
        return Quantile.solve(coverageProbability, start, this::within);
    }

    /** Probability that the error lies between two bounds, either of which may be infinite. */
    double probabilityBetween(double lower, double upper) {
        Quantile.Value below = new Quantile.Value();
        Quantile.Value above = new Quantile.Value();
        below(lower, below);
        below(upper, above);
        return Math.min(1, Math.max(0, above.probability - below.probability));
    }

    private void within(double bound, Quantile.Value into) {
        into.probability = 0;
        into.density = 0;
        below(bound, into);
        if (offset == 0) { // symmetric: the lower half costs nothing
            into.probability = 2 * into.probability - 1;
            into.density *= 2;
            return;
        }
        Quantile.Value lower = new Quantile.Value();
        below(-bound, lower);
        into.probability -= lower.probability;
        into.density += lower.density;
    }

    /** Distribution function and density, added to what is there. */
    private void below(double x, Quantile.Value into) {
        if (amplitude == 0) {
            addSmooth(x - offset, 1, into);
            return;
        }
        for (int i = 0; i < PHASES; i++) {
            addSmooth(x - offset - amplitude * Math.cos(Math.PI * (i + 0.5) / PHASES), 1.0 / PHASES, into);
        }
    }

    private void addSmooth(double x, double weight, Quantile.Value into) {
        if (Double.isInfinite(x)) {
            into.probability += x > 0 ? weight : 0;
        } else if (scale == 0 && halfWidth == 0) {
            into.probability += x >= 0 ? weight : 0;
        } else if (scale == 0) {
            into.probability += weight * Math.min(1, Math.max(0, (x + halfWidth) / (2 * halfWidth)));
            into.density += Math.abs(x) <= halfWidth ? weight / (2 * halfWidth) : 0;
        } else if (halfWidth == 0) {
            into.probability += weight * student.cumulative(x / scale);
            into.density += weight * student.density(x / scale) / scale;
        } else {
            double high = (x + halfWidth) / scale;
            double low = (x - halfWidth) / scale;
            double belowHigh = student.cumulative(high);
            double belowLow = student.cumulative(low);
            double integral = student.cumulativeIntegral(high, belowHigh, student.density(high))
                    - student.cumulativeIntegral(low, belowLow, student.density(low));
            into.probability += weight * scale * integral / (2 * halfWidth);
            into.density += weight * (belowHigh - belowLow) / (2 * halfWidth);
        }
    }
}
