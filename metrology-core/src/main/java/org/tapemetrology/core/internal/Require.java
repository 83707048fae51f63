/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

/** Checks of settings: the message names the setting, its value and the range that it may have. */
public final class Require {
    /** 220 Hz are 1.1 times 200 Hz, though not by the last bit. */
    private static final double ROUNDED = 1 - 1e-12;

    private Require() {}

    /**
     * A value between two bounds, both allowed.
     *
     * @param name name of the setting
     * @param value its value
     * @param least least allowed value
     * @param greatest greatest allowed value
     * @return the value
     */
    public static double inRange(String name, double value, double least, double greatest) {
        if (!(value >= least && value <= greatest)) {
            throw new IllegalArgumentException(name + " " + value + " is not in [" + least + ", " + greatest + "]");
        }
        return value;
    }

    /**
     * A finite value above zero.
     *
     * @param name name of the setting
     * @param value its value
     * @return the value
     */
    public static double positive(String name, double value) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(name + " " + value + " is not in (0, infinity)");
        }
        return value;
    }

    /**
     * A finite value, zero or above.
     *
     * @param name name of the setting
     * @param value its value
     * @return the value
     */
    public static double notNegative(String name, double value) {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(name + " " + value + " is not in [0, infinity)");
        }
        return value;
    }

    /**
     * A finite value.
     *
     * @param name name of the setting
     * @param value its value
     * @return the value
     */
    public static double finite(String name, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(name + " " + value + " is not finite");
        }
        return value;
    }

    /**
     * A frequency at least so many times the one below it in a list.
     *
     * @param name name of the frequency
     * @param hz the frequency in Hz
     * @param ratio least ratio, but for rounding
     * @param belowHz the frequency below it in Hz
     */
    public static void timesTheOneBelow(String name, double hz, double ratio, double belowHz) {
        if (hz < ratio * belowHz * ROUNDED) {
            throw new IllegalArgumentException(
                    name + " of " + hz + " Hz is not at least " + ratio + " times the one below, " + belowHz + " Hz");
        }
    }
}
