/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import org.tapemetrology.signals.internal.Require;

/**
 * What is true of one quantity of a damaged recording.
 *
 * @param kind whether there is a truth
 * @param low the least value that is true, in the unit of the quantity; 0 where there is none
 * @param high the greatest, in the same unit; above the least one where the definition of the quantity leaves room
 */
public record Truth(Kind kind, double low, double high) {
    /** Whether a quantity has a truth. */
    public enum Kind {
        /** It lies between the two values. */
        KNOWN,
        /** The damage has destroyed it: any number is wrong. */
        NOT_DEFINED,
        /** There is one, but not in closed form: no number is judged. */
        NOT_STATED
    }

    /** The damage has destroyed it. */
    public static final Truth NOT_DEFINED = new Truth(Kind.NOT_DEFINED, 0, 0);

    /** It is not known in closed form. */
    public static final Truth NOT_STATED = new Truth(Kind.NOT_STATED, 0, 0);

    /**
     * Checks the values.
     *
     * @param kind whether there is a truth
     * @param low the least value that is true
     * @param high the greatest
     * @throws IllegalArgumentException if a value is not finite or the two are not in order
     */
    public Truth {
        Require.finite("least true value", low);
        Require.finite("greatest true value", high);
        Require.that(low <= high, "true values from " + low + " to " + high + ", allowed: in rising order");
    }

    /**
     * A truth that is one value.
     *
     * @param value the value
     * @return the truth
     */
    public static Truth of(double value) {
        return new Truth(Kind.KNOWN, value, value);
    }

    /**
     * A truth to which the definition leaves some room.
     *
     * @param one an end of the room
     * @param other the other end
     * @return the truth
     */
    public static Truth between(double one, double other) {
        return new Truth(Kind.KNOWN, Math.min(one, other), Math.max(one, other));
    }

    /**
     * How far a value is from the truth.
     *
     * @param value a value
     * @return its distance, 0 between the ends; infinite where nothing is defined
     */
    public double distance(double value) {
        return switch (kind) {
            case KNOWN -> Math.max(0, Math.max(low - value, value - high));
            case NOT_DEFINED -> Double.POSITIVE_INFINITY;
            case NOT_STATED -> 0;
        };
    }
}
