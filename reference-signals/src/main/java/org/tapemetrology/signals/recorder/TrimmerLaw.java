/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import org.tapemetrology.signals.internal.Require;

/**
 * What a trimmer does: from its lowest to its highest effect over its travel, not in equal steps but with a taper, as a
 * potentiometer or a screw against a spring has it: effect = lowest + (highest - lowest) &times; (e^(cp) - 1)/(e^c - 1),
 * p from 0 to 1. The form is this project's own. Immutable; may be shared between threads.
 *
 * @param unit unit of the effect
 * @param lowest effect at the anticlockwise stop, in the unit
 * @param highest effect at the clockwise stop, in the unit; below the lowest where turning clockwise lowers
 * @param taper c, a plain number: the slope at the clockwise stop is e^c times that at the other; 0 for none
 * @param travelTurns turns from stop to stop
 * @param backlashTurns dead zone when the direction reverses, in turns
 */
public record TrimmerLaw(
        String unit, double lowest, double highest, double taper, double travelTurns, double backlashTurns) {
    /**
     * Checks the values.
     *
     * @param unit not empty
     * @param lowest finite
     * @param highest finite, not equal to the lowest
     * @param taper -5 to 5
     * @param travelTurns 0.1 to 100
     * @param backlashTurns 0 to a quarter of the travel
     * @throws IllegalArgumentException if the unit is blank, an effect is not finite, both are the same, or a number
     *     is outside its range; NaN is in none
     */
    public TrimmerLaw {
        Require.that(!unit.isBlank(), "unit of the trimmer is blank, allowed: any text");
        Require.finite("lowest effect of the trimmer", lowest);
        Require.finite("highest effect of the trimmer", highest);
        Require.that(lowest != highest, "highest effect of the trimmer is " + highest + ", allowed: not the lowest");
        Require.within("taper of the trimmer", taper, -5, 5);
        Require.within("travel of the trimmer in turns", travelTurns, 0.1, 100);
        Require.within("backlash of the trimmer in turns", backlashTurns, 0, travelTurns / 4);
    }

    /**
     * The effect at a place.
     *
     * @param turns turns from the anticlockwise stop
     * @return the effect in the law's unit
     */
    public double effectAt(double turns) {
        double place = turns / travelTurns;
        double share = taper == 0 ? place : StrictMath.expm1(taper * place) / StrictMath.expm1(taper);
        return lowest + (highest - lowest) * share;
    }

    /**
     * The place of an effect, or the nearest stop.
     *
     * @param effect effect in the law's unit
     * @return turns from the anticlockwise stop
     */
    public double turnsFor(double effect) {
        double share = Math.min(1, Math.max(0, (effect - lowest) / (highest - lowest)));
        double place = taper == 0 ? share : StrictMath.log1p(share * StrictMath.expm1(taper)) / taper;
        return Math.min(1, place) * travelTurns;
    }
}
