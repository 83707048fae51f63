/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import org.tapemetrology.signals.Signal;

/** A tone whose frequency rises exponentially; the phase in closed form, {@code 2 pi f0 T/ln(f1/f0) (f1/f0)^(t/T)}. */
record SweptTone(double fromHz, double toHz, double seconds, double amplitude) implements Signal {
    @Override
    public double at(double t) {
        double rise = StrictMath.log(toHz / fromHz) / seconds;
        return amplitude * Math.sin(2 * Math.PI * fromHz / rise * Math.expm1(rise * t));
    }
}
