/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import java.util.Random;

/**
 * Means over 0.1 s of a level in dB that jumps by 1 dB sd about zero, with a correlation of exp(-t/0.5 s), in two ways: as
 * the sum of many small pushes (Ornstein-Uhlenbeck), or by jumping to an independent value at random moments.
 */
final class JumpingLevel {
    static final double WINDOW_SECONDS = 0.1;
    private static final double CORRELATION_SECONDS = 0.5;
    private static final int STEPS = 10;

    /** How the level moves. */
    enum Kind {
        SMOOTH,
        JUMPS
    }

    private final Kind kind;
    private final Random random;
    private final double kept = Math.exp(-WINDOW_SECONDS / STEPS / CORRELATION_SECONDS);
    private double level;

    JumpingLevel(Kind kind, long seed) {
        this.kind = kind;
        this.random = new Random(seed);
        this.level = random.nextGaussian();
    }

    /** The mean over the next 0.1 s. */
    double next() {
        double sum = 0;
        for (int i = 0; i < STEPS; i++) {
            if (kind == Kind.SMOOTH) {
                level = kept * level + Math.sqrt(1 - kept * kept) * random.nextGaussian();
            } else if (random.nextDouble() > kept) {
                level = random.nextGaussian();
            }
            sum += level;
        }
        return sum / STEPS;
    }
}
