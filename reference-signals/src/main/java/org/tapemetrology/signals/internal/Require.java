/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.internal;

/** Checks of arguments whose messages name the argument, its value and the allowed range. */
public final class Require {
    private Require() {}

    /**
     * A value within closed limits.
     *
     * @param name what the value is
     * @param value the value
     * @param lowest least allowed
     * @param highest greatest allowed
     * @return the value
     */
    public static double within(String name, double value, double lowest, double highest) {
        if (!(value >= lowest && value <= highest)) {
            throw new IllegalArgumentException(name + " is " + value + ", allowed: " + lowest + " to " + highest);
        }
        return value;
    }

    /**
     * A whole value within closed limits.
     *
     * @param name what the value is
     * @param value the value
     * @param lowest least allowed
     * @param highest greatest allowed
     * @return the value
     */
    public static int within(String name, int value, int lowest, int highest) {
        if (value < lowest || value > highest) {
            throw new IllegalArgumentException(name + " is " + value + ", allowed: " + lowest + " to " + highest);
        }
        return value;
    }

    /**
     * A finite value above zero.
     *
     * @param name what the value is
     * @param value the value
     * @return the value
     */
    public static double positive(String name, double value) {
        if (!(value > 0 && Double.isFinite(value))) {
            throw new IllegalArgumentException(name + " is " + value + ", allowed: finite and above 0");
        }
        return value;
    }

    /**
     * A finite value not below zero.
     *
     * @param name what the value is
     * @param value the value
     * @return the value
     */
    public static double notNegative(String name, double value) {
        if (!(value >= 0 && Double.isFinite(value))) {
            throw new IllegalArgumentException(name + " is " + value + ", allowed: finite and not below 0");
        }
        return value;
    }

    /**
     * A finite value.
     *
     * @param name what the value is
     * @param value the value
     * @return the value
     */
    public static double finite(String name, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(name + " is " + value + ", allowed: finite");
        }
        return value;
    }

    /**
     * A condition.
     *
     * @param holds whether it holds
     * @param message what is wrong otherwise, with value and allowed range
     */
    public static void that(boolean holds, String message) {
        if (!holds) {
            throw new IllegalArgumentException(message);
        }
    }
}
