/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

/**
 * Half-width of the interval that holds the quantity with a stated probability (JCGM 100:2008, 6.2).
 *
 * @param halfWidth half-width in the unit of the reading, finite and not negative
 * @param coverageProbability probability, between 0 and 1
 * @param assumed whether a part that counts rests on assumed values instead of a certificate
 */
public record ExpandedUncertainty(double halfWidth, double coverageProbability, boolean assumed) {

    /**
     * An expanded uncertainty that rests on nothing assumed.
     *
     * @param halfWidth half-width in the unit of the reading, finite and not negative
     * @param coverageProbability probability, between 0 and 1
     */
    public ExpandedUncertainty(double halfWidth, double coverageProbability) {
        this(halfWidth, coverageProbability, false);
    }

    /**
     * An expanded uncertainty, checked.
     *
     * @param halfWidth half-width
     * @param coverageProbability probability
     * @param assumed whether it rests on assumed values
     * @throws IllegalArgumentException if the half-width is not finite or below 0, or the probability is not between
     *     0 and 1
     */
    public ExpandedUncertainty {
        if (!(halfWidth >= 0 && halfWidth < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("halfWidth " + halfWidth + " is not in [0, infinity)");
        }
        if (!(coverageProbability > 0 && coverageProbability < 1)) {
            throw new IllegalArgumentException("coverageProbability " + coverageProbability + " is not in (0, 1)");
        }
    }
}
