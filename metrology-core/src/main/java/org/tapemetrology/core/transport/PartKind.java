/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.transport;

/**
 * What a part of a transport is. Each kind has the relative standard uncertainty of a rate that follows from a nominal
 * size of the trade (common practice, no source): ground capstans are true to a per cent, rubber and belts less.
 */
public enum PartKind {
    /** The shaft that drives the tape. */
    CAPSTAN("capstan", 0.005),
    /** A roller that the tape or the capstan turns: pinch roller, guide roller. */
    ROLLER("roller", 0.01),
    /** A shaft whose rate is known, such as that of a motor. */
    SHAFT("shaft", 0.01),
    /** A pulley, wheel or flywheel that another part drives. */
    WHEEL("wheel", 0.01),
    /** A belt, once per turn of the belt. */
    BELT("belt", 0.015),
    /** A reel with its tape: the rate moves along the tape. */
    PACK("pack", 0.01),
    /** A length of tape between two supports, which vibrates lengthwise: scrape flutter. */
    GUIDE("guide", 0.02);

    private final String id;
    private final double relativeUncertainty;

    PartKind(String id, double relativeUncertainty) {
        this.id = id;
        this.relativeUncertainty = relativeUncertainty;
    }

    /**
     * The word for this kind in a transport file.
     *
     * @return the word
     */
    public String id() {
        return id;
    }

    /**
     * Relative standard uncertainty of the rate of such a part, where none is given.
     *
     * @return a ratio
     */
    public double relativeUncertainty() {
        return relativeUncertainty;
    }
}
