/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.OptionalDouble;

/**
 * What to do with a trimmer.
 *
 * <p>Made by {@link TrimmerLoop}; its numbers are not checked.
 *
 * @param trimmer which one
 * @param state where the alignment stands
 * @param change by how much the reading is to change, in its unit; 0 where nothing is to be done
 * @param turns turn that does it, in turns, positive clockwise; empty where nothing is to be done
 * @param sentence the same for a person
 */
public record Instruction(String trimmer, State state, double change, OptionalDouble turns, String sentence) {

    /** Where an alignment stands. */
    public enum State {
        /** The trimmer is to be turned. */
        TURN,
        /** The reading is within the tolerance, its uncertainty included. */
        DONE,
        /** The reading is as near as it can be known: turning on would only move it about. */
        AS_NEAR_AS_KNOWN,
        /** The trimmer is at its stop, or the reading does not follow it: the machine cannot reach the target. */
        OUT_OF_REACH,
        /** There is no valid reading to go by. */
        NO_READING;

        /**
         * Whether nothing more is to be done.
         *
         * @return true but where a turn or another reading is wanted
         */
        public boolean isFinal() {
            return this != TURN && this != NO_READING;
        }

        /**
         * Whether the target is reached as well as can be told.
         *
         * @return true where it is
         */
        public boolean isReached() {
            return this == DONE || this == AS_NEAR_AS_KNOWN;
        }
    }
}
