/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * Unidirectional rectangular speed deviations, the test signal for the dynamics of a quasi-peak flutter meter (IEC
 * 60386: pulses of 10 to 100 ms, one per second). They raise the mean speed by {@link #mean()}.
 *
 * @param height relative deviation during a pulse, a ratio; negative for slower
 * @param widthSeconds duration of a pulse in s
 * @param periodSeconds time from one pulse to the next, in s
 * @param startSeconds where the first pulse begins, in s; none is before it
 */
public record PulsedDeviation(double height, double widthSeconds, double periodSeconds, double startSeconds)
        implements Deviation {
    /**
     * Checks the values.
     *
     * @param height -1 to 1
     * @param widthSeconds finite and above 0, not above the period
     * @param periodSeconds finite and above 0
     * @param startSeconds finite and not below 0
     * @throws IllegalArgumentException if the height is not in -1 to 1, the period is not finite and above 0, the
     *     width is not above 0 and at most the period, or the start is not finite or below 0
     */
    public PulsedDeviation {
        Require.within("relative height of the pulses", height, -1, 1);
        Require.positive("repetition period of the pulses in s", periodSeconds);
        Require.within("width of the pulses in s", widthSeconds, Double.MIN_VALUE, periodSeconds);
        Require.notNegative("start of the pulses in s", startSeconds);
    }

    /**
     * The mean deviation once the pulses run.
     *
     * @return height &times; width / period
     */
    public double mean() {
        return height * widthSeconds / periodSeconds;
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        double number = number(wholeSeconds, fraction);
        return number >= 0 && sincePulse(number, wholeSeconds, fraction) < widthSeconds ? height : 0;
    }

    @Override
    public double integralTo(long wholeSeconds, double fraction) {
        double number = number(wholeSeconds, fraction);
        if (number < 0) {
            return 0;
        }
        return height * (number * widthSeconds + Math.min(sincePulse(number, wholeSeconds, fraction), widthSeconds));
    }

    /** How many pulses began before the latest one; negative before the first. */
    private double number(long wholeSeconds, double fraction) {
        double number = Math.floor((wholeSeconds - startSeconds + fraction) / periodSeconds);
        // The quotient may round up to a whole number that the time has not reached.
        return sincePulse(number, wholeSeconds, fraction) < 0 ? number - 1 : number;
    }

    private double sincePulse(double number, long wholeSeconds, double fraction) {
        return Math.fma(-number, periodSeconds, wholeSeconds - startSeconds) + fraction;
    }
}
