/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.transport;

import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.internal.Require;

/**
 * Components of the flutter that belong together: one, or several whose frequencies are multiples of one fundamental.
 *
 * @param fundamentalHz the fundamental in Hz
 * @param standardUncertaintyHz its standard uncertainty in Hz
 * @param orders order of each component, rising; a component alone has order 1
 * @param trend how the frequency moves along the recording, where it is known
 */
public record ObservedFamily(
        double fundamentalHz, double standardUncertaintyHz, List<Integer> orders, Optional<Trend> trend) {
    /**
     * Movement of a frequency.
     *
     * @param perSecond relative change of the frequency in 1/s
     * @param standardUncertainty its standard uncertainty in 1/s
     */
    public record Trend(double perSecond, double standardUncertainty) {
        /**
         * A trend, checked.
         *
         * @param perSecond any finite value
         * @param standardUncertainty above 0
         * @throws IllegalArgumentException if the trend is not finite, or its uncertainty not finite and above 0
         */
        public Trend {
            Require.finite("perSecond", perSecond);
            Require.positive("standardUncertainty", standardUncertainty);
        }
    }

    /**
     * A family, checked; its list is copied.
     *
     * @param fundamentalHz above 0
     * @param standardUncertaintyHz above 0
     * @param orders at least one
     * @param trend how the frequency moves
     * @throws IllegalArgumentException if the frequency or its uncertainty is not finite and above 0, or there is no
     *     component
     */
    public ObservedFamily {
        Require.positive("fundamentalHz", fundamentalHz);
        Require.positive("standardUncertaintyHz", standardUncertaintyHz);
        orders = List.copyOf(orders);
        if (orders.isEmpty()) {
            throw new IllegalArgumentException("a family has no component");
        }
    }

    /**
     * A component alone.
     *
     * @param frequencyHz frequency in Hz
     * @param standardUncertaintyHz its standard uncertainty in Hz
     * @return the family of one
     */
    public static ObservedFamily alone(double frequencyHz, double standardUncertaintyHz) {
        return new ObservedFamily(frequencyHz, standardUncertaintyHz, List.of(1), Optional.empty());
    }

    /**
     * This family with the movement of its frequency.
     *
     * @param known the movement
     * @return the same family with it
     */
    public ObservedFamily withTrend(Trend known) {
        return new ObservedFamily(fundamentalHz, standardUncertaintyHz, orders, Optional.of(known));
    }
}
