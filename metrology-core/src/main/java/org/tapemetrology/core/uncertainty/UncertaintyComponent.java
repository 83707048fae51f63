/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import org.tapemetrology.core.internal.Require;

/**
 * One line of an uncertainty budget (JCGM 100:2008, 4 and 5.1).
 *
 * @param name what is uncertain, unique within a budget
 * @param evaluation how its uncertainty was found
 * @param distribution distribution of the values that it could have
 * @param standardUncertainty standard uncertainty of the input, in its unit
 * @param inputUnit unit of the input, empty where it is that of the result
 * @param sensitivity change of the result per change of the input, of either sign, in the unit of the result over
 *     that of the input
 * @param degreesOfFreedom degrees of freedom with which the standard uncertainty is known, above 0, infinite where it
 *     is beyond doubt
 * @param source where the figure comes from
 * @param assumed whether the figure is an assumption and not a certificate, specification or observation
 */
public record UncertaintyComponent(
        String name,
        Evaluation evaluation,
        Distribution distribution,
        double standardUncertainty,
        String inputUnit,
        double sensitivity,
        double degreesOfFreedom,
        String source,
        boolean assumed) {

    /**
     * A component, checked.
     *
     * @param name what is uncertain
     * @param evaluation how its uncertainty was found
     * @param distribution distribution of its values
     * @param standardUncertainty standard uncertainty of the input
     * @param inputUnit unit of the input
     * @param sensitivity change of the result per change of the input
     * @param degreesOfFreedom how well the standard uncertainty is known
     * @param source where the figure comes from
     * @param assumed whether the figure is an assumption
     * @throws IllegalArgumentException if the name is blank, the standard uncertainty is not finite or below 0, the
     *     sensitivity is not finite, or the degrees of freedom are not above 0
     */
    public UncertaintyComponent {
        if (name.isBlank()) {
            throw new IllegalArgumentException("a component of uncertainty has no name");
        }
        Require.notNegative(name + ": standardUncertainty", standardUncertainty);
        if (!Double.isFinite(sensitivity)) {
            throw new IllegalArgumentException(name + ": sensitivity " + sensitivity + " is not finite");
        }
        if (!(degreesOfFreedom > 0)) {
            throw new IllegalArgumentException(
                    name + ": degreesOfFreedom " + degreesOfFreedom + " is not in (0, infinity]");
        }
    }

    /**
     * A component from the scatter of observations, in the unit of the result.
     *
     * @param name what is uncertain
     * @param standardUncertainty standard deviation of the mean
     * @param degreesOfFreedom degrees of freedom of that
     * @param source where it comes from
     * @return the component
     */
    public static UncertaintyComponent typeA(
            String name, double standardUncertainty, double degreesOfFreedom, String source) {
        return new UncertaintyComponent(
                name,
                Evaluation.TYPE_A,
                Distribution.NORMAL,
                standardUncertainty,
                "",
                1,
                degreesOfFreedom,
                source,
                false);
    }

    /**
     * A component from a certificate, specification or experience, in the unit of the result.
     *
     * @param name what is uncertain
     * @param distribution distribution of its values
     * @param halfWidth half-width of the distribution, for a normal one its standard uncertainty
     * @param source where it comes from
     * @return the component, its uncertainty beyond doubt
     */
    public static UncertaintyComponent typeB(String name, Distribution distribution, double halfWidth, String source) {
        return new UncertaintyComponent(
                name,
                Evaluation.TYPE_B,
                distribution,
                distribution.standardUncertainty(halfWidth),
                "",
                1,
                Double.POSITIVE_INFINITY,
                source,
                false);
    }

    /**
     * An effect that can raise the reading only, or lower it only, and is not corrected: the true value lies anywhere
     * between the reading and the reading minus the reach. Its standard uncertainty about the reading is the reach over the
     * square root of 3: the variance of the effect and the square of its mean together (after JCGM 100:2008, F.2.4.5).
     *
     * @param name the effect
     * @param reach the most by which it raises the reading; negative where it lowers it
     * @param source where it comes from
     * @return the component
     */
    public static UncertaintyComponent oneSided(String name, double reach, String source) {
        return typeB(name, Distribution.ONE_SIDED, Math.abs(reach), source).withSensitivity(reach < 0 ? -1 : 1, "");
    }

    /**
     * This component as that of an input in another unit.
     *
     * @param factor change of the result per change of the input
     * @param unit unit of the input
     * @return the same component with that sensitivity
     */
    public UncertaintyComponent withSensitivity(double factor, String unit) {
        return new UncertaintyComponent(
                name, evaluation, distribution, standardUncertainty, unit, factor, degreesOfFreedom, source, assumed);
    }

    /**
     * This component with another sensitivity.
     *
     * @param factor change of the result per change of the input
     * @return the same component with that sensitivity
     */
    public UncertaintyComponent withSensitivity(double factor) {
        return withSensitivity(factor, inputUnit);
    }

    /**
     * This component with other degrees of freedom, for example {@link Coverage#degreesOfFreedomOfDoubt}.
     *
     * @param number degrees of freedom, above 0
     * @return the same component with those
     */
    public UncertaintyComponent withDegreesOfFreedom(double number) {
        return new UncertaintyComponent(
                name, evaluation, distribution, standardUncertainty, inputUnit, sensitivity, number, source, assumed);
    }

    /**
     * This component as an assumption.
     *
     * @return the same component, marked
     */
    public UncertaintyComponent asAssumed() {
        return new UncertaintyComponent(
                name,
                evaluation,
                distribution,
                standardUncertainty,
                inputUnit,
                sensitivity,
                degreesOfFreedom,
                source,
                true);
    }

    /**
     * This component, larger or smaller.
     *
     * @param factor what its standard uncertainty is multiplied by, not negative
     * @return the same component with that uncertainty
     */
    public UncertaintyComponent scaled(double factor) {
        return new UncertaintyComponent(
                name,
                evaluation,
                distribution,
                standardUncertainty * Require.notNegative("factor", factor),
                inputUnit,
                sensitivity,
                degreesOfFreedom,
                source,
                assumed);
    }

    /**
     * What this component adds to the combined standard uncertainty.
     *
     * @return {@code |c| u} in the unit of the result
     */
    public double contribution() {
        return Math.abs(sensitivity) * standardUncertainty;
    }

    /** Half-width of the distribution in the unit of the result. */
    double reach() {
        return contribution() * distribution.divisor();
    }

    /** Mean of the error of the reading, in the unit of the result: zero but for an effect that goes one way. */
    double offset() {
        return distribution == Distribution.ONE_SIDED ? Math.copySign(reach() / 2, sensitivity) : 0;
    }
}
