/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import org.tapemetrology.core.internal.Require;

/**
 * Coverage factors and degrees of freedom (JCGM 100:2008, G.3 and G.4).
 *
 * <p>Factors are plain numbers. Cost: some evaluations of the incomplete beta function. Probabilities and degrees of
 * freedom that are NaN or out of range are refused; the probability below NaN is NaN. It has no state: any number of
 * threads may use it.
 *
 * <p>Not for a budget in which a component with bounds prevails: that is {@link Budget#expanded}.
 */
public final class Coverage {
    private Coverage() {}

    /**
     * Coverage factor from Student's t: {@code -k} to {@code k} holds the probability.
     *
     * @param coverageProbability probability, between 0 and 1
     * @param degreesOfFreedom degrees of freedom, above 0, infinite for the normal distribution
     * @return the factor k
     */
    public static double factor(double coverageProbability, double degreesOfFreedom) {
        return new StudentT(degreesOfFreedom(degreesOfFreedom)).factor(probability(coverageProbability));
    }

    /**
     * Probability that Student's t lies below a value.
     *
     * @param t the value
     * @param degreesOfFreedom degrees of freedom, above 0, infinite for the normal distribution
     * @return the probability
     */
    public static double probabilityBelow(double t, double degreesOfFreedom) {
        return new StudentT(degreesOfFreedom(degreesOfFreedom)).cumulative(t);
    }

    /**
     * Degrees of freedom of a standard uncertainty that is itself doubtful: {@code nu = 1/2 (doubt)^-2} (JCGM 100:2008,
     * G.4.2). A doubt of 25 % gives 8.
     *
     * @param relativeDoubt relative uncertainty of the standard uncertainty, not negative
     * @return the degrees of freedom, infinite without doubt
     */
    public static double degreesOfFreedomOfDoubt(double relativeDoubt) {
        double doubt = Require.notNegative("relativeDoubt", relativeDoubt);
        return 0.5 / (doubt * doubt);
    }

    static double probability(double coverageProbability) {
        if (!(coverageProbability > 0 && coverageProbability < 1)) {
            throw new IllegalArgumentException("coverageProbability " + coverageProbability + " is not in (0, 1)");
        }
        return coverageProbability;
    }

    static double degreesOfFreedom(double degreesOfFreedom) {
        if (!(degreesOfFreedom > 0)) {
            throw new IllegalArgumentException("degreesOfFreedom " + degreesOfFreedom + " is not in (0, infinity]");
        }
        return degreesOfFreedom;
    }
}
