/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

import static org.tapemetrology.core.level.Decibels.requirePositive;

/**
 * Short-circuit flux per unit of track width, RMS, with the convention of its figure: two figures can be compared only
 * with it.
 *
 * @param nanowebersPerMetre stated fluxivity in nWb/m, above 0
 * @param convention how it was measured
 */
public record Fluxivity(double nanowebersPerMetre, FluxConvention convention) {
    /**
     * A fluxivity, checked.
     *
     * @param nanowebersPerMetre stated fluxivity in nWb/m
     * @param convention how it was measured
     * @throws IllegalArgumentException if the fluxivity is not finite and above 0
     */
    public Fluxivity {
        requirePositive("nanowebersPerMetre", nanowebersPerMetre);
    }

    /**
     * A fluxivity measured on alternating flux.
     *
     * @param nanowebersPerMetre fluxivity in nWb/m, above 0
     * @return the fluxivity
     */
    public static Fluxivity of(double nanowebersPerMetre) {
        return new Fluxivity(nanowebersPerMetre, FluxConvention.ALTERNATING);
    }

    /**
     * The same flux as another convention states it.
     *
     * @param other convention
     * @return the fluxivity stated that way
     */
    public Fluxivity statedBy(FluxConvention other) {
        return new Fluxivity(
                nanowebersPerMetre * convention.alternatingPerStated() / other.alternatingPerStated(), other);
    }

    /**
     * Level of this flux re another, {@code 20 lg} of the ratio of both by one convention.
     *
     * @param reference the other flux
     * @return level in dB
     */
    public double decibelsRe(Fluxivity reference) {
        return Decibels.ofRatio(statedBy(reference.convention).nanowebersPerMetre / reference.nanowebersPerMetre);
    }
}
