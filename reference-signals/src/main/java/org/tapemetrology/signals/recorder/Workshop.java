/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.tapemetrology.signals.Decibels;

/** What time does to machines and tapes. */
final class Workshop {
    private static final double RUN_OUT_FACTOR = 5;

    private Workshop() {}

    static VirtualRecorder.Builder randomMachine(long seed) {
        int kind = new SplittableRandom(seed ^ 0x6D616368L).nextInt(20);
        if (kind < 12) {
            return VirtualRecorder.cassette();
        }
        if (kind < 15) {
            return VirtualRecorder.cassette().threeHeads(true);
        }
        if (kind < 17) {
            return VirtualRecorder.cassette().layout(TrackLayout.CASSETTE_MONO);
        }
        return VirtualRecorder.openReel();
    }

    /** A motor that lacks 4 to 6 % behind a trimmer of 2.5 % to either side. */
    static VirtualRecorder.Builder weakMotor(VirtualRecorder.Builder builder, long seed) {
        double lack = new SplittableRandom(seed ^ 0x6D6F746FL).nextDouble(4, 6);
        return builder.law(TrimmerLaws.SPEED, new TrimmerLaw("%", -2.5, 2.5, 1, 0.75, 0.006))
                .componentError(TrimmerLaws.SPEED, -lack)
                .error(TrimmerLaws.SPEED, -lack);
    }

    static Transport unsteady(Transport good) {
        List<RotatingPart> parts = new ArrayList<>();
        for (RotatingPart part : good.parts()) {
            parts.add(new RotatingPart(
                    part.name(), part.rateHz(), RUN_OUT_FACTOR * part.peakPercent(), part.ratePercentPerMinute()));
        }
        return new Transport(
                good.speedMmPerSecond(),
                10 * good.driftPercentPerMinute(),
                parts,
                2 * good.randomFlutterPercent(),
                good.randomFlutterCornerHz(),
                3 * good.scrapePercent(),
                good.scrapeHz());
    }

    /** Each turn of the pack magnetises the two beside it: an echo before and one after. */
    static float[][] printThrough(VirtualTape tape, float[][] tracks) {
        double ratio = Decibels.toRatio(tape.printThroughDb());
        if (ratio == 0) {
            return tracks;
        }
        int turn = (int) Math.round(tape.printThroughSeconds() * VirtualRecorder.TAPE_RATE);
        float[][] printed = new float[tracks.length][];
        for (int track = 0; track < tracks.length; track++) {
            float[] source = tracks[track];
            float[] out = source.clone();
            for (int i = turn; i < source.length; i++) {
                out[i - turn] += (float) (ratio * source[i]);
                out[i] += (float) (ratio * source[i - turn]);
            }
            printed[track] = out;
        }
        return printed;
    }
}
