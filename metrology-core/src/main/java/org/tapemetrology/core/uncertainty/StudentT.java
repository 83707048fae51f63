/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.RealDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/** Student's t distribution for any degrees of freedom, the normal one where they are infinite. */
final class StudentT {
    /** Here both differ by a part in a million of the coverage factor. */
    static final double NORMAL_ABOVE = 1e6;

    /** Nearer to 1 or 2 degrees of freedom, the closed forms of the integrals lose their digits; this changes them by as little. */
    private static final double LEAST_DISTANCE = 1e-5;

    private final double degreesOfFreedom;
    private final boolean normal;
    private final RealDistribution distribution;

    StudentT(double degreesOfFreedom) {
        this.degreesOfFreedom = degreesOfFreedom;
        this.normal = degreesOfFreedom > NORMAL_ABOVE;
        // Without a generator of random numbers, which would cost more than all the rest.
        this.distribution = normal ? new NormalDistribution(null, 0, 1) : new TDistribution(null, degreesOfFreedom);
    }

    /**
     * One with the integrals: where they have a pole, that of degrees of freedom a little beside it. Density, distribution
     * function and integrals must be those of the same number, for the integrals are differences of large terms.
     */
    static StudentT integrable(double degreesOfFreedom) {
        return new StudentT(apart(apart(degreesOfFreedom, 1), 2));
    }

    private static double apart(double degreesOfFreedom, double pole) {
        return Math.abs(degreesOfFreedom - pole) < LEAST_DISTANCE ? pole + LEAST_DISTANCE : degreesOfFreedom;
    }

    double cumulative(double x) {
        return distribution.cumulativeProbability(x);
    }

    /** Integral of the distribution function up to a constant: {@code x F + (nu + x^2)/(nu - 1) f}. */
    double integral(double x) {
        double density = distribution.density(x);
        return x * cumulative(x) + (normal ? density : (degreesOfFreedom + x * x) / (degreesOfFreedom - 1) * density);
    }

    /** Integral of the integral up to a linear function, by parts once more. */
    double secondIntegral(double x) {
        double nu = degreesOfFreedom;
        double cumulative = cumulative(x);
        double density = distribution.density(x);
        return normal
                ? ((x * x + 1) * cumulative + x * density) / 2
                : (x * x + nu / (nu - 2)) / 2 * cumulative
                        + (nu - 3) / (2 * (nu - 1) * (nu - 2)) * x * (nu + x * x) * density;
    }

    /** The positive t that holds a probability between -t and t. */
    double factor(double coverageProbability) {
        return Quantile.solve(coverageProbability, 1, x -> 2 * cumulative(x) - 1);
    }
}
