/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.Optional;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** What the scatter of a mean power or a mean magnitude is in decibels. */
final class DecibelScatter {
    private static final double OF_POWER = 10 / StrictMath.log(10);

    /** Decibels of a small relative change of a magnitude. */
    static final double OF_MAGNITUDE = 2 * OF_POWER;

    private DecibelScatter() {}

    static Optional<StandardUncertainty> ofPower(LongRunMean power) {
        return of(power, OF_POWER);
    }

    static Optional<StandardUncertainty> ofMagnitude(LongRunMean magnitude) {
        return of(magnitude, OF_MAGNITUDE);
    }

    private static Optional<StandardUncertainty> of(LongRunMean values, double scale) {
        double mean = values.mean();
        return mean > 0 ? values.uncertainty().map(u -> u.times(scale / mean)) : Optional.empty();
    }
}
