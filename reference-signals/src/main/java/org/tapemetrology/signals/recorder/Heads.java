/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import org.tapemetrology.signals.internal.Require;

/**
 * The replay head as it is and the losses that the replay amplifier was designed to make good. Wear shows as the
 * difference of the two, which no trimmer reaches. Angles are set by the trimmers.
 *
 * @param losses losses of the head as it is
 * @param compensated losses that the amplifier makes good
 * @param wanderArcmin peak wander of the azimuth as the tape weaves, in minutes of arc
 * @param wanderHz rate of the wander in Hz
 */
public record Heads(ReplayLosses losses, ReplayLosses compensated, double wanderArcmin, double wanderHz) {
    /**
     * Checks the values.
     *
     * @param losses any
     * @param compensated any
     * @param wanderArcmin 0 to 60
     * @param wanderHz 0.01 to 100
     * @throws IllegalArgumentException if the wander is not in 0 to 60 minutes of arc or its rate not in 0.01 Hz to
     *     100 Hz
     */
    public Heads {
        Require.within("wander of the azimuth in arcmin", wanderArcmin, 0, 60);
        Require.within("rate of the wander in Hz", wanderHz, 0.01, 100);
    }

    /**
     * Heads without losses and wander.
     *
     * @return the heads
     */
    public static Heads perfect() {
        return new Heads(ReplayLosses.NONE, ReplayLosses.NONE, 0, 1);
    }

    /**
     * Cassette heads in good order; common practice, no source.
     *
     * @return the heads
     */
    public static Heads cassette() {
        ReplayLosses asNew = new ReplayLosses(0.2, 1.2, 0);
        return new Heads(asNew, asNew, 0.4, 0.37);
    }

    /**
     * Open-reel heads in good order; common practice, no source.
     *
     * @return the heads
     */
    public static Heads openReel() {
        ReplayLosses asNew = new ReplayLosses(0.4, 3, 0);
        return new Heads(asNew, asNew, 0.3, 0.45);
    }

    /**
     * These heads after long use.
     *
     * @param addedSpacingMicrometres further from the coating by this much
     * @param gapFactor how much longer the gap has become, 1 or above
     * @return the worn heads, with the compensation of new ones
     */
    public Heads worn(double addedSpacingMicrometres, double gapFactor) {
        Require.within("factor of the gap", gapFactor, 1, 10);
        return new Heads(
                new ReplayLosses(
                        losses.spacingMicrometres() + addedSpacingMicrometres,
                        losses.gapMicrometres() * gapFactor,
                        losses.thicknessMicrometres()),
                compensated,
                wanderArcmin,
                wanderHz);
    }

    /** Net effect of the head: what its losses are beyond those that the amplifier makes good. */
    double ratioAt(double wavelengthMicrometres) {
        return losses.ratioAt(wavelengthMicrometres) / compensation(wavelengthMicrometres);
    }

    /** No amplifier makes good a null: its boost ends at 30 dB. */
    private double compensation(double wavelengthMicrometres) {
        return Math.max(compensated.ratioAt(wavelengthMicrometres), 0.03);
    }
}
