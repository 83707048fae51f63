/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * A steady sine, amplitude &times; sin(2&pi; f t + phase).
 *
 * @param frequencyHz frequency in Hz
 * @param amplitude peak amplitude; full scale is 1
 * @param phase phase at time 0, rad
 */
public record Sine(double frequencyHz, double amplitude, double phase) implements ExactSignal {
    /**
     * Checks the values.
     *
     * @param frequencyHz finite and above 0
     * @param amplitude finite and not below 0
     * @param phase finite
     * @throws IllegalArgumentException if the frequency is not finite and above 0, the amplitude is not finite or
     *     below 0, or the phase is not finite
     */
    public Sine {
        Require.positive("frequency in Hz", frequencyHz);
        Require.notNegative("amplitude", amplitude);
        Require.finite("phase in rad", phase);
    }

    /**
     * A sine that passes zero upwards at time 0.
     *
     * @param frequencyHz frequency
     * @param amplitude peak amplitude; full scale is 1
     */
    public Sine(double frequencyHz, double amplitude) {
        this(frequencyHz, amplitude, 0);
    }

    /**
     * RMS level re the RMS level of a full-scale sine (AES17).
     *
     * @return the level in dBFS
     */
    public double levelDbfs() {
        return Decibels.ofRatio(amplitude);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        return amplitude * Math.sin(Cycles.TWO_PI * Cycles.of(frequencyHz, wholeSeconds, fraction) + phase);
    }
}
