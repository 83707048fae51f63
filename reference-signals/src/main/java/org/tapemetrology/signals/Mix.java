/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import java.util.List;

/**
 * The sum of signals.
 *
 * @param parts what is added, in this order
 */
public record Mix(List<Signal> parts) implements ExactSignal {
    /**
     * Copies the list.
     *
     * @param parts what is added
     */
    public Mix {
        parts = List.copyOf(parts);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        double sum = 0;
        // By number: an iterator for each sample would cost more than what it goes through.
        for (int i = 0; i < parts.size(); i++) {
            sum += parts.get(i).at(wholeSeconds, fraction);
        }
        return sum;
    }
}
