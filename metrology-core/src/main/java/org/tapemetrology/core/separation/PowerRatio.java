/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import java.util.Locale;
import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.TDistribution;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/**
 * Power of a residue over that of the recorded tone, freed of noise and therefore below 0 at times, and how well it is
 * known.
 *
 * @param ratio the ratio
 * @param halfWidth half-width of the interval that holds it with a probability of 95 %
 */
record PowerRatio(double ratio, double halfWidth) {
    private static final double COVERAGE = 0.95;
    /**
     * A figure is given where the half-width is no more than this part of it, some five standard errors: noise alone, even
     * where the strongest of several bands was picked, does not get there. At the bound the figure is known to 2.2 dB.
     */
    private static final double WIDEST = 0.4;

    /** A ratio of known standard error, which was found by so many degrees of freedom. */
    static PowerRatio of(double ratio, double standardError, double degreesOfFreedom) {
        double factor = new TDistribution(null, degreesOfFreedom).inverseCumulativeProbability((1 + COVERAGE) / 2);
        return new PowerRatio(ratio, factor * standardError);
    }

    boolean isKnown() {
        return ratio > 0 && halfWidth <= WIDEST * ratio;
    }

    /** The most that the ratio may be. */
    double most() {
        return Math.max(0, ratio) + halfWidth;
    }

    /** The figure in dB that is exceeded; empty where there is no residue at all, or nothing is known of it. */
    OptionalDouble leastDecibels() {
        double most = most();
        return most > 0 && most < Double.POSITIVE_INFINITY ? OptionalDouble.of(decibels(most)) : OptionalDouble.empty();
    }

    /** The reading: a value with its uncertainty where the residue is known, else the limit in words. */
    Reading reading(Quantity quantity, String method) {
        if (!isKnown()) {
            OptionalDouble least = leastDecibels();
            String limit = least.isPresent()
                    ? String.format(Locale.ROOT, "greater than %.1f dB", least.getAsDouble())
                    : "no residue at all";
            return Reading.without(quantity, Status.INSUFFICIENT_DATA, method + "; " + limit);
        }
        // The wider side of the interval, which is that of the weaker residue.
        double wide = decibels(ratio - halfWidth) - decibels(ratio);
        return Reading.valid(quantity, decibels(ratio), method).withTypeA(StandardUncertainty.ofHalfWidth(wide));
    }

    private static double decibels(double ratio) {
        return -10 * StrictMath.log10(ratio);
    }
}
