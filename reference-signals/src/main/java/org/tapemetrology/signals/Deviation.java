/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

/**
 * A relative speed deviation in closed form: (v - v0)/v0, where v0 is the steady speed of the machine, with its exact
 * integral, so that the phase of a tone is right at any moment. Immutable; may be shared between threads.
 *
 * <p>A moment is to be finite and is not checked: at NaN a sinusoidal or random deviation is NaN, and a pulsed one is
 * 0.
 */
public interface Deviation {
    /**
     * The relative deviation at a moment.
     *
     * @param wholeSeconds whole seconds from the start
     * @param fraction the rest, from 0 to below 1
     * @return the deviation, a ratio
     */
    double at(long wholeSeconds, double fraction);

    /**
     * The integral of the deviation from time 0 to a moment.
     *
     * @param wholeSeconds whole seconds from the start
     * @param fraction the rest, from 0 to below 1
     * @return the integral in seconds
     */
    double integralTo(long wholeSeconds, double fraction);

    /**
     * The relative deviation at a moment.
     *
     * @param seconds time from the start
     * @return the deviation, a ratio
     */
    default double at(double seconds) {
        double whole = Math.floor(seconds);
        return at((long) whole, seconds - whole);
    }

    /**
     * The integral of the deviation from time 0 to a moment.
     *
     * @param seconds time from the start
     * @return the integral in seconds
     */
    default double integralTo(double seconds) {
        double whole = Math.floor(seconds);
        return integralTo((long) whole, seconds - whole);
    }
}
