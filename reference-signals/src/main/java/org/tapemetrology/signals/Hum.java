/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import java.util.List;
import org.tapemetrology.signals.internal.Require;

/**
 * Mains hum: a sine of the mains frequency and its harmonics.
 *
 * @param mainsHz mains frequency in Hz
 * @param amplitude peak amplitude of the mains frequency itself; full scale is 1
 * @param harmonics its harmonics, relative to it
 */
public record Hum(double mainsHz, double amplitude, List<Harmonic> harmonics) implements ExactSignal {
    /**
     * Checks the values.
     *
     * @param mainsHz finite and above 0
     * @param amplitude finite and not below 0
     * @param harmonics any number of them
     * @throws IllegalArgumentException if the frequency is not finite and above 0, or the amplitude is not finite or
     *     below 0
     */
    public Hum {
        Require.positive("mains frequency in Hz", mainsHz);
        Require.notNegative("amplitude of the hum", amplitude);
        harmonics = List.copyOf(harmonics);
    }

    /**
     * Hum of the mains frequency alone.
     *
     * @param mainsHz mains frequency
     * @param amplitude peak amplitude; full scale is 1
     * @return the hum
     */
    public static Hum pure(double mainsHz, double amplitude) {
        return new Hum(mainsHz, amplitude, List.of());
    }

    /**
     * Root sum square of the mains frequency and its harmonics, re a full-scale sine.
     *
     * @return the level in dBFS
     */
    public double levelDbfs() {
        double sum = 1;
        for (Harmonic harmonic : harmonics) {
            sum += harmonic.relativeAmplitude() * harmonic.relativeAmplitude();
        }
        return Decibels.ofRatio(amplitude * Math.sqrt(sum));
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        double angle = Cycles.TWO_PI * Cycles.of(mainsHz, wholeSeconds, fraction);
        double value = Math.sin(angle);
        for (Harmonic harmonic : harmonics) {
            value += harmonic.at(angle);
        }
        return amplitude * value;
    }
}
