/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import java.util.List;

/**
 * A signal with losses of level; where two overlap their attenuations add.
 *
 * @param source the signal
 * @param dropouts the losses
 */
public record Dropouts(Signal source, List<Dropout> dropouts) implements ExactSignal {
    /**
     * Copies the list.
     *
     * @param source the signal
     * @param dropouts the losses
     */
    public Dropouts {
        dropouts = List.copyOf(dropouts);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        double value = source.at(wholeSeconds, fraction);
        for (Dropout dropout : dropouts) {
            value *= dropout.gainAt(wholeSeconds + fraction);
        }
        return value;
    }
}
