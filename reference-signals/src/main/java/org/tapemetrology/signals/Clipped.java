/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * A signal through hard, symmetrical clipping.
 *
 * @param source the signal
 * @param level magnitude that no value exceeds; full scale is 1
 */
public record Clipped(Signal source, double level) implements ExactSignal {
    /**
     * Checks the level.
     *
     * @param source the signal
     * @param level finite and above 0
     * @throws IllegalArgumentException if the level is not finite and above 0
     */
    public Clipped {
        Require.positive("clipping level", level);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        return Math.max(-level, Math.min(level, source.at(wholeSeconds, fraction)));
    }
}
