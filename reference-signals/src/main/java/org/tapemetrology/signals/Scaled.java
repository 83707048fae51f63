/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * A signal at another level.
 *
 * @param source the signal
 * @param gain factor, negative to invert the polarity
 */
public record Scaled(Signal source, double gain) implements ExactSignal {
    /**
     * Checks the gain.
     *
     * @param source the signal
     * @param gain finite
     * @throws IllegalArgumentException if the gain is not finite
     */
    public Scaled {
        Require.finite("gain", gain);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        return gain * source.at(wholeSeconds, fraction);
    }
}
