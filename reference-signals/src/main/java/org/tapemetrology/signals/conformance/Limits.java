/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import org.tapemetrology.signals.internal.Require;

/**
 * Between which values a figure must lie.
 *
 * @param lower lower limit in the unit of the figure, itself allowed; minus infinity for none
 * @param upper upper limit in the unit of the figure, itself allowed; infinity for none
 * @param origin who set them
 */
public record Limits(double lower, double upper, Origin origin) {
    /** Who set limits. */
    public enum Origin {
        /** The document. */
        DOCUMENT,
        /** This project, where the document sets none that could be read, or wider ones than needed. */
        OWN
    }

    /**
     * Checks the limits.
     *
     * @param lower below the upper limit
     * @param upper above the lower limit
     * @param origin who set them
     * @throws IllegalArgumentException if the lower limit is not below the upper one, or neither is finite
     */
    public Limits {
        Require.that(lower < upper, "limits are " + lower + " and " + upper + ", allowed: the lower below the upper");
        Require.that(
                Double.isFinite(lower) || Double.isFinite(upper),
                "neither limit is finite, allowed: one of them at most");
    }

    /**
     * Whether a value lies between the limits.
     *
     * @param value the value
     * @return true between them and on them; false for no number
     */
    public boolean accepts(double value) {
        return value >= lower && value <= upper;
    }

    /**
     * Whether other limits lie between these.
     *
     * @param other the other limits
     * @return true where nothing is accepted by the others alone
     */
    public boolean contains(Limits other) {
        return lower <= other.lower && upper >= other.upper;
    }

    /**
     * How much of the room from the expected value to the limit on the value's side is used.
     *
     * @param expected expected value
     * @param value the value
     * @return the share, 1 at a limit; 0 where that side has no limit
     */
    public double share(double expected, double value) {
        double room = value >= expected ? upper - expected : expected - lower;
        return value == expected ? 0 : Math.abs(value - expected) / room;
    }
}
