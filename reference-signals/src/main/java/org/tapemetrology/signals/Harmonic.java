/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * A harmonic of a tone: relative amplitude &times; sin(order &times; phase of the fundamental + phase).
 *
 * @param order multiple of the fundamental frequency
 * @param relativeAmplitude amplitude as a ratio to that of the fundamental
 * @param phase phase against the fundamental, rad
 */
public record Harmonic(int order, double relativeAmplitude, double phase) {
    /**
     * Checks the values.
     *
     * @param order 2 to 1000
     * @param relativeAmplitude finite and not below 0
     * @param phase finite
     * @throws IllegalArgumentException if the order is not in 2 to 1000, the amplitude is not finite or below 0, or
     *     the phase is not finite
     */
    public Harmonic {
        Require.within("order of the harmonic", order, 2, 1000);
        Require.notNegative("relative amplitude of the harmonic", relativeAmplitude);
        Require.finite("phase of the harmonic in rad", phase);
    }

    /**
     * A harmonic in phase with the fundamental.
     *
     * @param order multiple of the fundamental frequency
     * @param relativeAmplitude amplitude as a ratio to that of the fundamental
     */
    public Harmonic(int order, double relativeAmplitude) {
        this(order, relativeAmplitude, 0);
    }

    double at(double fundamentalAngle) {
        return relativeAmplitude * Math.sin(order * fundamentalAngle + phase);
    }
}
