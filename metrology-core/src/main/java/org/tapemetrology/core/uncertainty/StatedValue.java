/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

/**
 * What a certificate, a specification or an assumption says of an error of test tape or converter: by how much it is off,
 * and how well that is known.
 *
 * @param value known error in the unit of what it is stated of, which readings are corrected for, 0 where none is
 *     known
 * @param distribution distribution of what it could be beside that
 * @param halfWidth half-width of the distribution in the same unit; the standard uncertainty of a normal one; the
 *     reach of a one-sided one
 * @param source where it stands
 * @param assumed whether it is an assumption
 */
public record StatedValue(double value, Distribution distribution, double halfWidth, String source, boolean assumed) {

    /**
     * A stated value, checked.
     *
     * @param value known error
     * @param distribution distribution beside that
     * @param halfWidth half-width of the distribution
     * @param source where it stands
     * @param assumed whether it is an assumption
     * @throws IllegalArgumentException if the value is not finite, the half-width is not finite or below 0, or a
     *     one-sided error has a known value
     */
    public StatedValue {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("value " + value + " is not finite");
        }
        if (!(halfWidth >= 0 && halfWidth < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("halfWidth " + halfWidth + " is not in [0, infinity)");
        }
        if (distribution == Distribution.ONE_SIDED && value != 0) {
            throw new IllegalArgumentException(
                    "a known error of " + value + " is not one that is known to a limit alone");
        }
    }

    /**
     * A value of a certificate.
     *
     * @param value the known error
     * @param expandedUncertainty its expanded uncertainty
     * @param coverageFactor coverage factor k of that, above 0
     * @param source the certificate
     * @return the value, normally distributed
     */
    public static StatedValue certified(
            double value, double expandedUncertainty, double coverageFactor, String source) {
        if (!(coverageFactor > 0)) {
            throw new IllegalArgumentException("coverageFactor " + coverageFactor + " is not above 0");
        }
        return new StatedValue(value, Distribution.NORMAL, expandedUncertainty / coverageFactor, source, false);
    }

    /**
     * An error within limits to both sides.
     *
     * @param halfWidth the limit
     * @param source where it stands
     * @return no known error, rectangularly distributed
     */
    public static StatedValue within(double halfWidth, String source) {
        return new StatedValue(0, Distribution.RECTANGULAR, halfWidth, source, false);
    }

    /**
     * An effect that can only add to a reading.
     *
     * @param reach the most that it can be
     * @param source where it stands
     * @return an effect from nothing to the reach
     */
    public static StatedValue atMost(double reach, String source) {
        return new StatedValue(0, Distribution.ONE_SIDED, reach, source, false);
    }

    /**
     * This value as an assumption.
     *
     * @return the same, marked
     */
    public StatedValue asAssumed() {
        return new StatedValue(value, distribution, halfWidth, source, true);
    }

    /** The line that it makes in a budget. */
    UncertaintyComponent component(String name, double sensitivity, String unit) {
        UncertaintyComponent component = UncertaintyComponent.typeB(name, distribution, halfWidth, source)
                .withSensitivity(sensitivity, unit);
        return assumed ? component.asAssumed() : component;
    }

    /** The most that an effect adds by this, where it is known to a limit or by value. */
    double most() {
        return distribution == Distribution.ONE_SIDED ? halfWidth : value;
    }
}
