/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.OptionalDouble;

/**
 * What to do with a trimmer.
 *
 * @param state where the alignment stands
 * @param change by how much the reading is to change, in its unit; 0 where nothing is to be done
 * @param turns turn that does it, positive clockwise; empty where nothing is to be done
 * @param sentence the same for a person
 */
public record Instruction(State state, double change, OptionalDouble turns, String sentence) {

    /** Where an alignment stands. */
    public enum State {
        /** The trimmer is to be turned. */
        TURN,
        /** The reading is within the tolerance, its uncertainty included. */
        DONE,
        /** The reading is as near as it can be known: turning on would only move it about. */
        AS_NEAR_AS_KNOWN,
        /** The reading does not follow the trimmer any more, or has not come near enough: the machine cannot reach it. */
        OUT_OF_REACH,
        /** There is no valid reading to go by. */
        NO_READING
    }
}
