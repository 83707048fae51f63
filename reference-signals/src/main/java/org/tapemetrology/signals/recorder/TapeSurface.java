/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.SplittableRandom;

/** What the flaws of a tape do to the level of one track, from its beginning on: the same in every pass. */
final class TapeSurface {
    private static final double FIRST_PERIOD_SECONDS = 97;
    private static final double SECOND_PERIOD_SECONDS = 37;
    private static final double FIRST_SHARE = 0.7;
    private static final double NEPER_PER_DECIBEL = Math.log(10) / 20;

    private final LevelJumps common;
    private final LevelJumps own;
    private final RandomDropouts dropouts;
    private final Oscillator first;
    private final Oscillator second;
    private final double peak;

    TapeSurface(VirtualTape tape, int track) {
        double rate = VirtualRecorder.TAPE_RATE;
        // Half of the power of the jumps is common to the tracks, so it comes from the tape's own seed.
        SplittableRandom shared = new SplittableRandom(tape.seed());
        SplittableRandom single = new SplittableRandom(tape.seed() + 0x5DEECE66DL * (track + 1));
        double jump = tape.jumpDb() * Math.sqrt(0.5);
        common = new LevelJumps(jump, tape.jumpSeconds(), shared.split(), rate);
        own = new LevelJumps(jump, tape.jumpSeconds(), single.split(), rate);
        dropouts = new RandomDropouts(tape.dropoutsPerMinute(), single.split(), rate);
        first = new Oscillator(1 / FIRST_PERIOD_SECONDS, 2 * Math.PI * shared.nextDouble(), 0, rate);
        second = new Oscillator(1 / SECOND_PERIOD_SECONDS, 2 * Math.PI * shared.nextDouble(), 0, rate);
        peak = tape.sensitivityRangeDb() / 2 * NEPER_PER_DECIBEL;
    }

    double next() {
        double slow = FIRST_SHARE * first.next() + (1 - FIRST_SHARE) * second.next();
        // The linear term of the exponential: 0.004 dB off at 0.25 dB.
        return (1 + peak * slow) * common.next() * own.next() * dropouts.next();
    }
}
