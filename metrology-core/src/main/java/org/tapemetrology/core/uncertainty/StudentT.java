/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import org.apache.commons.math3.special.Beta;
import org.apache.commons.math3.special.Erf;
import org.apache.commons.math3.special.Gamma;

/** Student's t distribution for any degrees of freedom, the normal one where they are infinite. */
final class StudentT {
    /** Here both differ by a part in a million of the coverage factor. */
    static final double NORMAL_ABOVE = 1e6;

    /** Nearer to 1 degree of freedom, the general form of the integral of the distribution function loses its digits. */
    private static final double CAUCHY = 1e-6;

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
    double cumulativeIntegral(double x, double cumulative, double density) {
        if (normal) {
            return x * cumulative + density;
        }
        if (Math.abs(degreesOfFreedom - 1) < CAUCHY) {
            return x * cumulative - Math.log1p(x * x) / (2 * Math.PI);
        }
        return x * cumulative + (degreesOfFreedom + x * x) / (degreesOfFreedom - 1) * density;
    }

    /** The positive t that holds a probability between -t and t. */
    double factor(double coverageProbability) {
        return Quantile.solve(coverageProbability, Quantile.NORMAL_95, (x, value) -> {
            value.probability = 2 * cumulative(x) - 1;
            value.density = 2 * density(x);
        });
    }
}
