/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

/**
 * A turn of a trimmer.
 *
 * @param trimmer which one
 * @param turns turns, positive clockwise
 */
public record Turn(String trimmer, double turns) {

    /**
     * A turn, checked.
     *
     * @param trimmer which one
     * @param turns a finite number of turns
     * @throws IllegalArgumentException if the turns are not finite
     */
    public Turn {
        if (!Double.isFinite(turns)) {
            throw new IllegalArgumentException(trimmer + ": " + turns + " turns are not finite");
        }
    }
}
