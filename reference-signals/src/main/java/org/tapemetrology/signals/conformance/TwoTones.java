/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/** What the detectors make of two tones of equal amplitude whose frequencies have no small common period. */
final class TwoTones {
    /**
     * A full-wave average, scaled to the RMS of a sine, reads less than the RMS of the pair: the mean magnitude of sin u +
     * sin v = 2 sin a cos b is 2 (2/pi)^2 amplitudes, times pi / (2 sqrt 2), over an RMS of one amplitude.
     */
    static final double AVERAGE_OVER_RMS = 2 * Math.sqrt(2) / Math.PI;

    private static final int STEPS = 20_000;

    private TwoTones() {}

    /** The magnitude that is exceeded for a share of the time, where each tone has an amplitude of 1. */
    static double exceededFor(double share) {
        double low = 0;
        double high = 2;
        while (high - low > 1e-9) {
            double middle = (low + high) / 2;
            if (shareAbove(middle) > share) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }

    /** Share of the time with |2 sin a cos b| above a level, for a and b spread evenly over all angles. */
    private static double shareAbove(double level) {
        double sum = 0;
        for (int i = 0; i < STEPS; i++) {
            double needed = level / (2 * StrictMath.sin(Math.PI / 2 * (i + 0.5) / STEPS));
            sum += needed < 1 ? StrictMath.acos(needed) : 0;
        }
        return sum / STEPS * 2 / Math.PI;
    }
}
