/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import org.tapemetrology.signals.internal.Require;

/**
 * Saturation of a tape: y = x / sqrt(1 + 2ax&sup2;) = x - ax&sup3; + ... An odd-order law, so the third harmonic of a
 * moderate level is aA&sup2;/4 and rises with the level squared (odd-order model; IEC 60094-3 reads maximum output level
 * at 3 % of it), and the output ends at 1/sqrt(2a). The form is this project's own. Immutable; may be shared between
 * threads.
 *
 * @param cubic coefficient a re the reference flux
 */
record Saturation(double cubic) {
    Saturation {
        Require.notNegative("coefficient of the saturation", cubic);
    }

    /** The law whose third harmonic at the reference flux is nearly the given ratio. */
    static Saturation ofThirdHarmonic(double ratio) {
        return new Saturation(4 * ratio);
    }

    double apply(double flux) {
        return flux / Math.sqrt(1 + 2 * cubic * flux * flux);
    }

    /** The same for the first of an array, in place. */
    void apply(double[] fluxes, int count) {
        apply(fluxes, 2 * cubic, count);
    }

    private static void apply(double[] fluxes, double twice, int count) {
        for (int i = 0; i < count; i++) {
            double flux = fluxes[i];
            fluxes[i] = flux / Math.sqrt(1 + twice * flux * flux);
        }
    }
}
