/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.transport;

import org.tapemetrology.core.internal.Require;

/**
 * A part of a transport and how often it comes round.
 *
 * @param name its name, as it is to be told
 * @param kind what it is
 * @param lowestHz lowest rate at nominal speed in Hz
 * @param highestHz highest rate at nominal speed in Hz; the lowest where the rate does not move along the tape
 * @param relativeUncertainty relative standard uncertainty of these rates
 */
public record Part(String name, PartKind kind, double lowestHz, double highestHz, double relativeUncertainty) {
    /**
     * A part, checked.
     *
     * @param name its name, not blank
     * @param kind what it is
     * @param lowestHz above 0
     * @param highestHz not below the lowest
     * @param relativeUncertainty above 0, at most 0.5
     * @throws IllegalArgumentException if the name is blank, a rate is not finite and above 0, the highest is below
     *     the lowest, or the uncertainty is not in 1e-6 to 0.5
     */
    public Part {
        if (name.isBlank()) {
            throw new IllegalArgumentException("the name of a part is blank");
        }
        Require.positive("lowest rate of " + name, lowestHz);
        Require.inRange("highest rate of " + name, highestHz, lowestHz, Double.MAX_VALUE);
        Require.inRange("relative uncertainty of " + name, relativeUncertainty, 1e-6, 0.5);
    }

    /** Whether its rate follows the speed of the tape; a free length of tape keeps its own. */
    boolean scalesWithSpeed() {
        return kind != PartKind.GUIDE;
    }
}
