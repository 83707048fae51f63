/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import org.apache.commons.math3.special.Beta;
import org.apache.commons.math3.special.Erf;
import org.apache.commons.math3.special.Gamma;

/** Student's t distribution for any degrees of freedom, the normal one where they are infinite. */
final class StudentT {
    /** Here both differ by a part in a million of the coverage factor. */
    static final double NORMAL_ABOVE = 1e6;

    /** Nearer to 1 or 2 degrees of freedom, the closed forms of the integrals lose their digits; this changes them by as little. */
    private static final double LEAST_DISTANCE = 1e-5;

    private final double degreesOfFreedom;
    private final boolean normal;
    /** Density at zero. */
    private final double peak;

    StudentT(double degreesOfFreedom) {
        this.degreesOfFreedom = degreesOfFreedom;
        this.normal = degreesOfFreedom > NORMAL_ABOVE;
        this.peak = normal
                ? 1 / Math.sqrt(2 * Math.PI)
                : Math.exp(Gamma.logGamma((degreesOfFreedom + 1) / 2) - Gamma.logGamma(degreesOfFreedom / 2))
                        / Math.sqrt(degreesOfFreedom * Math.PI);
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

    double density(double x) {
        return normal
                ? peak * Math.exp(-x * x / 2)
                : peak * Math.exp(-(degreesOfFreedom + 1) / 2 * Math.log1p(x * x / degreesOfFreedom));
    }

    double cumulative(double x) {
        if (normal) {
            return Erf.erfc(-x / Math.sqrt(2)) / 2;
        }
        double square = x * x;
        if (square == Double.POSITIVE_INFINITY) {
            return x > 0 ? 1 : 0;
        }
        double tail =
                Beta.regularizedBeta(degreesOfFreedom / (degreesOfFreedom + square), degreesOfFreedom / 2, 0.5) / 2;
        return x > 0 ? 1 - tail : tail;
    }

    /** Integral of the distribution function up to a constant: {@code x F + (nu + x^2)/(nu - 1) f}. */
    double integral(double x, double cumulative, double density) {
        return normal
                ? x * cumulative + density
                : x * cumulative + (degreesOfFreedom + x * x) / (degreesOfFreedom - 1) * density;
    }

    /** Integral of the integral up to a linear function, by parts once more. */
    double secondIntegral(double x, double cumulative, double density) {
        double nu = degreesOfFreedom;
        return normal
                ? ((x * x + 1) * cumulative + x * density) / 2
                : (x * x + nu / (nu - 2)) / 2 * cumulative
                        + (nu - 3) / (2 * (nu - 1) * (nu - 2)) * x * (nu + x * x) * density;
    }

    /** The positive t that holds a probability between -t and t. */
    double factor(double coverageProbability) {
        return Quantile.solve(coverageProbability, Quantile.NORMAL_95, (x, value) -> {
            value.probability = 2 * cumulative(x) - 1;
            value.density = 2 * density(x);
        });
    }
}
