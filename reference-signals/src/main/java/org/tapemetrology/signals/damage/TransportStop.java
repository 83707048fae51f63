/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import org.tapemetrology.signals.Deviation;
import org.tapemetrology.signals.internal.Require;

/**
 * A transport that slows down to a standstill, waits and starts again, by straight lines: a deviation of 0 before and
 * after, of -1 while it stands.
 *
 * @param startSeconds where it begins to slow down
 * @param slowingSeconds how long that takes, above 0
 * @param standingSeconds how long it stands
 * @param startingSeconds how long it takes to come up to speed, above 0
 */
record TransportStop(double startSeconds, double slowingSeconds, double standingSeconds, double startingSeconds)
        implements Deviation {
    TransportStop {
        Require.finite("beginning in s", startSeconds);
        Require.positive("time to slow down in s", slowingSeconds);
        Require.notNegative("time at rest in s", standingSeconds);
        Require.positive("time to start in s", startingSeconds);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        double t = wholeSeconds + fraction - startSeconds;
        double falling = Math.min(1, Math.max(0, t / slowingSeconds));
        double rising = Math.min(1, Math.max(0, (t - slowingSeconds - standingSeconds) / startingSeconds));
        return rising - falling;
    }

    @Override
    public double integralTo(long wholeSeconds, double fraction) {
        double t = wholeSeconds + fraction;
        return integral(t) - integral(0);
    }

    private double integral(double seconds) {
        double t = seconds - startSeconds;
        return ramp(t - slowingSeconds - standingSeconds, startingSeconds) - ramp(t, slowingSeconds);
    }

    /** Integral of what rises from 0 at 0 to 1 at a length and stays there. */
    private static double ramp(double t, double length) {
        if (t <= 0) {
            return 0;
        }
        return t < length ? t * t / (2 * length) : t - length / 2;
    }
}
