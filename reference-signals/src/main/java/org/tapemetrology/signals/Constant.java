/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * A constant: the DC offset of a converter, or silence.
 *
 * @param value the value; full scale is 1
 */
public record Constant(double value) implements Signal {
    /** Digital silence. */
    public static final Constant SILENCE = new Constant(0);

    /**
     * Checks the value.
     *
     * @param value finite
     * @throws IllegalArgumentException if the value is not finite
     */
    public Constant {
        Require.finite("constant value", value);
    }

    @Override
    public double at(double seconds) {
        return value;
    }
}
