/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

/**
 * Half-width of the interval that holds the quantity with a stated probability (JCGM 100:2008, 6.2).
 *
 * @param halfWidth half-width in the unit of the reading, finite and not negative
 * @param coverageProbability probability, between 0 and 1
 */
public record ExpandedUncertainty(double halfWidth, double coverageProbability) {

    /**
     * An expanded uncertainty, checked.
     *
     * @param halfWidth half-width
     * @param coverageProbability probability
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
