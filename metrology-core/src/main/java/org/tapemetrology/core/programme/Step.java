/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import org.tapemetrology.core.internal.Require;

/**
 * One step of a programme.
 *
 * @param name its name
 * @param signal what is sent
 * @param side on which channels
 * @param seconds how long, in s
 */
public record Step(String name, StepSignal signal, Side side, double seconds) {
    /** Shortest step, in s: less is neither recognised nor measured. */
    public static final double SHORTEST_SECONDS = 1;

    /** Longest step, in s. */
    public static final double LONGEST_SECONDS = 3600;

    /** The channels that carry a step; the others are silent. */
    public enum Side {
        /** Both channels carry the same. */
        BOTH,
        /** Channel 1 alone. */
        LEFT,
        /** Channel 2 alone. */
        RIGHT;

        /** This side with the channels swapped. */
        Side swapped() {
            return this == LEFT ? RIGHT : this == RIGHT ? LEFT : BOTH;
        }

        /**
         * Whether a channel carries the step.
         *
         * @param channel 1-based channel
         * @return true where it does
         */
        public boolean carries(int channel) {
            return this == BOTH || (this == LEFT) == (channel == 1);
        }
    }

    /**
     * A step, checked.
     *
     * @param name its name, not blank
     * @param signal what is sent
     * @param side on which channels
     * @param seconds how long, in s, 1 to 3600
     * @throws IllegalArgumentException if the name is blank or the length is not in 1 s to 3600 s
     */
    public Step {
        if (name.isBlank()) {
            throw new IllegalArgumentException("name of the step is blank");
        }
        Require.inRange("seconds", seconds, SHORTEST_SECONDS, LONGEST_SECONDS);
    }

    /** Whether nothing is sent. */
    boolean isPause() {
        return signal instanceof StepSignal.Pause;
    }

    /** Level of the step in dBFS on a channel that carries it; that of silence where nothing is sent. */
    double levelDbfs() {
        if (signal instanceof StepSignal.Tone tone) {
            return tone.levelDbfs();
        } else if (signal instanceof StepSignal.Sweep sweep) {
            return sweep.levelDbfs();
        } else if (signal instanceof StepSignal.Noise noise) {
            return noise.levelDbfs();
        } else if (signal instanceof StepSignal.Multitone multitone) {
            return multitone.levelDbfs()
                    + 10 * StrictMath.log10(multitone.frequenciesHz().size());
        }
        return Double.NEGATIVE_INFINITY;
    }
}
