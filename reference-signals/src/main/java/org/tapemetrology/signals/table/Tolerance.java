/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import org.tapemetrology.signals.internal.Require;

/**
 * How far a value may lie below and above the nominal one, in the unit of the value.
 *
 * @param minus allowed below, in the unit of the value; infinite where there is no lower limit
 * @param plus allowed above, in the unit of the value; infinite where there is no upper limit
 */
public record Tolerance(double minus, double plus) {
    /**
     * Checks the values.
     *
     * @param minus not below 0
     * @param plus not below 0
     * @throws IllegalArgumentException if one is NaN or below 0
     */
    public Tolerance {
        Require.within("tolerance below", minus, 0, Double.POSITIVE_INFINITY);
        Require.within("tolerance above", plus, 0, Double.POSITIVE_INFINITY);
    }

    /**
     * Whether a difference from the nominal value is allowed.
     *
     * @param difference value minus nominal
     * @return true within the tolerance, limits included
     */
    public boolean accepts(double difference) {
        return difference >= -minus && difference <= plus;
    }
}
