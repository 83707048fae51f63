/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * A signal times 1 + depth &times; sin(2&pi; rate t + phase).
 *
 * @param source what is modulated
 * @param depth peak relative change of the amplitude
 * @param rateHz rate of the modulation in Hz
 * @param phase phase of the modulation at time 0, rad
 */
public record AmplitudeModulated(Signal source, double depth, double rateHz, double phase) implements ExactSignal {
    /**
     * Checks the values.
     *
     * @param source what is modulated
     * @param depth 0 to 1
     * @param rateHz finite and above 0
     * @param phase finite
     * @throws IllegalArgumentException if the depth is not in 0 to 1, the rate is not finite and above 0, or the
     *     phase is not finite
     */
    public AmplitudeModulated {
        Require.within("depth of the amplitude modulation", depth, 0, 1);
        Require.positive("rate of the amplitude modulation in Hz", rateHz);
        Require.finite("phase of the amplitude modulation in rad", phase);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        double angle = Cycles.TWO_PI * Cycles.of(rateHz, wholeSeconds, fraction) + phase;
        return source.at(wholeSeconds, fraction) * (1 + depth * Math.sin(angle));
    }
}
