/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * A sinusoidal speed deviation, peak &times; sin(2&pi; rate t + phase), as an eccentric rotating part makes it.
 *
 * @param rateHz rate of the deviation in Hz
 * @param peak peak relative deviation, a ratio
 * @param phase phase at time 0, rad
 */
public record SinusoidalDeviation(double rateHz, double peak, double phase) implements Deviation {
    /**
     * Checks the values.
     *
     * @param rateHz finite and above 0
     * @param peak 0 to 1
     * @param phase finite
     * @throws IllegalArgumentException if the rate is not finite and above 0, the peak is not in 0 to 1, or the phase
     *     is not finite
     */
    public SinusoidalDeviation {
        Require.positive("rate of the deviation in Hz", rateHz);
        Require.within("peak relative deviation", peak, 0, 1);
        Require.finite("phase of the deviation in rad", phase);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        return peak * Math.sin(angle(wholeSeconds, fraction));
    }

    @Override
    public double integralTo(long wholeSeconds, double fraction) {
        return peak / (Cycles.TWO_PI * rateHz) * (Math.cos(phase) - Math.cos(angle(wholeSeconds, fraction)));
    }

    private double angle(long wholeSeconds, double fraction) {
        return Cycles.TWO_PI * Cycles.of(rateHz, wholeSeconds, fraction) + phase;
    }
}
