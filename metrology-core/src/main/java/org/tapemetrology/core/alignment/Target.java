/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Unit;

/**
 * What a trimmer is to be set to.
 *
 * @param quantity what it moves
 * @param value the reading to reach, in the unit
 * @param tolerance how far from it the machine may be, in the unit, above 0
 * @param unit unit of value and tolerance
 */
public record Target(Quantity quantity, double value, double tolerance, Unit unit) {

    /**
     * A target, checked.
     *
     * @param quantity what is moved
     * @param value the reading to reach
     * @param tolerance how far from it the machine may be
     * @param unit unit of both
     * @throws IllegalArgumentException if the value is not finite or the tolerance is not finite and above 0
     */
    public Target {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(quantity.id() + ": target " + value + " is not finite");
        }
        Require.positive(quantity.id() + ": tolerance", tolerance);
    }

    /**
     * A target in the unit of its quantity.
     *
     * @param quantity what is moved
     * @param value the reading to reach
     * @param tolerance how far from it the machine may be
     * @return the target
     */
    public static Target of(Quantity quantity, double value, double tolerance) {
        return new Target(quantity, value, tolerance, quantity.unit());
    }
}
