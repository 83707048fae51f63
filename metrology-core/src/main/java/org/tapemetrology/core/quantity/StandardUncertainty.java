/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

import org.apache.commons.math3.distribution.TDistribution;

/**
 * Standard deviation by which a figure is known, and how well that is known itself (JCGM 100:2008, 4.2 and G.3).
 *
 * @param value standard uncertainty in the unit of the figure, finite and not negative
 * @param degreesOfFreedom its degrees of freedom, above 0; infinite where it is known exactly
 */
public record StandardUncertainty(double value, double degreesOfFreedom) {
    /** Coverage probability of the interval that a reading states. */
    public static final double COVERAGE = 0.95;

    /** Beyond these Student's t is the normal distribution within 0.1 %. */
    private static final double MANY = 2000;

    private static final double NORMAL_FACTOR = 1.959963984540054;

    /**
     * A standard uncertainty, checked.
     *
     * @param value standard uncertainty
     * @param degreesOfFreedom degrees of freedom
     * @throws IllegalArgumentException if the value is not finite or below 0, or the degrees of freedom are not above
     *     0
     */
    public StandardUncertainty {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("standard uncertainty " + value + " is not in [0, infinity)");
        }
        if (!(degreesOfFreedom > 0)) {
            throw new IllegalArgumentException("degreesOfFreedom " + degreesOfFreedom + " is not above 0");
        }
    }

    /**
     * One that is known exactly.
     *
     * @param value standard uncertainty
     * @return it, with infinite degrees of freedom
     */
    public static StandardUncertainty of(double value) {
        return new StandardUncertainty(value, Double.POSITIVE_INFINITY);
    }

    /**
     * That of an interval of 95 % which was not made from a standard deviation.
     *
     * @param halfWidth half-width of the interval
     * @return the standard deviation of the normal distribution with that interval
     */
    public static StandardUncertainty ofHalfWidth(double halfWidth) {
        return of(halfWidth / NORMAL_FACTOR);
    }

    /**
     * The interval of 95 % by Student's t (JCGM 100:2008, G.3).
     *
     * @return the expanded uncertainty
     */
    public ExpandedUncertainty expanded() {
        double factor = degreesOfFreedom > MANY
                ? NORMAL_FACTOR
                : new TDistribution(null, degreesOfFreedom).inverseCumulativeProbability((1 + COVERAGE) / 2);
        return new ExpandedUncertainty(factor * value, COVERAGE);
    }

    /**
     * That of the figure times a constant.
     *
     * @param factor the constant; its sign does not matter
     * @return the uncertainty times the magnitude of the factor
     */
    public StandardUncertainty times(double factor) {
        return new StandardUncertainty(Math.abs(factor) * value, degreesOfFreedom);
    }

    /**
     * That of a sum or difference with an independent figure: {@code u^2 = u1^2 + u2^2}, with the effective degrees of freedom
     * of Welch and Satterthwaite, {@code u^4/nu = u1^4/nu1 + u2^4/nu2} (JCGM 100:2008, G.4.1).
     *
     * @param other uncertainty of the other figure, in the same unit
     * @return the uncertainty of both together
     */
    public StandardUncertainty and(StandardUncertainty other) {
        double variance = value * value + other.value * other.value;
        double doubt =
                StrictMath.pow(value, 4) / degreesOfFreedom + StrictMath.pow(other.value, 4) / other.degreesOfFreedom;
        return new StandardUncertainty(
                Math.sqrt(variance), doubt == 0 ? Double.POSITIVE_INFINITY : variance * variance / doubt);
    }
}
