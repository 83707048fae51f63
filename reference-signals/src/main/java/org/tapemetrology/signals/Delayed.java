/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * A signal later in time, by any part of a sample.
 *
 * @param source the signal
 * @param seconds delay in s, negative for earlier
 */
public record Delayed(Signal source, double seconds) implements ExactSignal {
    /**
     * Checks the delay.
     *
     * @param source the signal
     * @param seconds finite
     * @throws IllegalArgumentException if the delay is not finite
     */
    public Delayed {
        Require.finite("delay in s", seconds);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        return shifted(source, seconds, wholeSeconds, fraction);
    }

    static double shifted(Signal source, double seconds, long wholeSeconds, double fraction) {
        double wholeShift = Math.floor(seconds);
        long whole = wholeSeconds - (long) wholeShift;
        double rest = fraction - (seconds - wholeShift);
        return rest < 0 ? source.at(whole - 1, rest + 1) : source.at(whole, rest);
    }
}
