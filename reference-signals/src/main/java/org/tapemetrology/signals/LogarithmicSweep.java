/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * A sine whose frequency grows by equal ratios in equal times, {@code f(t) = start (end/start)^(t/seconds)}, from time 0
 * on; before and after it is silence. The phase is the closed-form integral, {@code 2 pi (f(t) - start) / growth} with
 * {@code growth = ln(end/start)/seconds}; its rounding is near 1e-15 of the cycles so far, 1e-10 rad for 20 s up to 20 kHz.
 *
 * @param startHz frequency at time 0 in Hz
 * @param endHz frequency at the end in Hz
 * @param seconds duration in s
 * @param amplitude peak amplitude; full scale is 1
 */
public record LogarithmicSweep(double startHz, double endHz, double seconds, double amplitude) implements ExactSignal {
    /**
     * Checks the values.
     *
     * @param startHz finite and above 0
     * @param endHz finite and above the start
     * @param seconds finite and above 0
     * @param amplitude finite and not below 0
     * @throws IllegalArgumentException if a frequency or the duration is not finite and above 0, the end is not above
     *     the start, or the amplitude is not finite or below 0
     */
    public LogarithmicSweep {
        Require.positive("frequency at the start in Hz", startHz);
        Require.positive("frequency at the end in Hz", endHz);
        Require.that(
                startHz < endHz,
                "frequency at the end is " + endHz + " Hz, allowed: above that at the start, " + startHz + " Hz");
        Require.positive("duration in s", seconds);
        Require.notNegative("amplitude", amplitude);
    }

    /**
     * Growth of the logarithm of the frequency.
     *
     * @return the growth per second
     */
    public double growthPerSecond() {
        return Math.log(endHz / startHz) / seconds;
    }

    /**
     * The instantaneous frequency.
     *
     * @param time time from the start of the sweep in s
     * @return the frequency in Hz
     */
    public double frequencyAt(double time) {
        return startHz * Math.exp(growthPerSecond() * time);
    }

    /**
     * When the sweep passes a frequency.
     *
     * @param frequencyHz the frequency in Hz
     * @return time from the start of the sweep in s
     */
    public double secondsAt(double frequencyHz) {
        return Math.log(frequencyHz / startHz) / growthPerSecond();
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        double time = wholeSeconds + fraction;
        if (time < 0 || time >= seconds) {
            return 0;
        }
        double growth = growthPerSecond();
        double cycles = startHz / growth * Math.expm1(growth * time);
        return amplitude * Math.sin(Cycles.TWO_PI * Cycles.reduce(cycles));
    }
}
