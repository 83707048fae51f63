/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.conformance.SpeedMeterUnderTest.Asked;
import org.tapemetrology.signals.table.Confidence;

/** Cases of the mean speed. */
final class SpeedCases {
    private static final int RATE_HZ = 48_000;
    private static final double AMPLITUDE = 0.5;
    private static final double SECONDS = 30;
    /** A thirtieth of the limit of 1.5 %, in percentage points: common practice, no source. */
    private static final double WIDE = 0.05;
    /** Tells a clock apart that is 0.01 % off. */
    private static final double NARROW = 0.005;

    private final List<Exercise<SpeedMeterUnderTest>> cases = new ArrayList<>();

    private SpeedCases() {}

    static Suite<SpeedMeterUnderTest> din45500() {
        SpeedCases cases = new SpeedCases();
        for (double percent : new double[] {0, 0.5, -1.5, 1.5, 4}) {
            String name =
                    percent == 0 ? "exact" : (percent < 0 ? "slow-" : "fast-") + FlutterCases.name(Math.abs(percent));
            cases.add(
                    name,
                    "machine " + FlutterCases.name(percent) + " % off speed",
                    0,
                    tone(3150, percent).build());
        }
        cases.add("3000hz", "tone of 3000 Hz, 1 % fast", 0, tone(3000, 1).build());
        cases.add(
                "wow",
                "0.5 % of wow at 0.55 Hz",
                0,
                tone(3150, 0.2).sine(0.55, 0.005).build());
        cases.add(
                "drift",
                "drift of 0.5 % a minute",
                0,
                tone(3150, -0.3).drift(0.005 / 60).build());
        cases.add(
                "pulses",
                "one-sided pulses of speed",
                0,
                tone(3150, 0.1).pulses(0.02, 0.1, 1, 0.5).build());
        cases.add(
                "channel-2",
                "another tape speed in channel 1",
                1,
                tone(3150, 0.5).build(),
                tone(3150, -0.5).build());
        return new Suite<>(
                "din-45500-4-speed",
                "DIN 45500 sheet 4: mean speed error over 30 s",
                List.of(
                        "limits of error of the measuring instrument: none were found in any text; all limits are own",
                        "the limit of 1.5 % itself, which is about machines"),
                cases.cases);
    }

    private static FmTone.Builder tone(double nominalHz, double errorPercent) {
        return FmTone.builder(nominalHz).amplitude(AMPLITUDE).speedError(errorPercent / 100);
    }

    private void add(String name, String asks, int channel, FmTone... channels) {
        Recording recording = new Recording(
                "speed-" + name,
                List.<Signal>of(channels),
                RATE_HZ,
                SECONDS,
                OptionalDouble.of(channels[channel].nominalHz()));
        String of = channels.length == 1 ? "" : " of channel " + (channel + 1);
        cases.add(new CaseDraft<SpeedMeterUnderTest>("speed-" + name, "mean speed over 30 s", asks)
                .plays(recording)
                .how(Asked.SPEED_ERROR.id() + of)
                .expects(100 * channels[channel].meanSpeedError(0, SECONDS), "%", 3)
                .ownLimits(WIDE)
                .narrower(NARROW)
                .source("analytic mean of the signal", Confidence.COMPUTED)
                .by((meter, bench) -> bench.read(meter, recording, Asked.SPEED_ERROR, channel)));
    }
}
