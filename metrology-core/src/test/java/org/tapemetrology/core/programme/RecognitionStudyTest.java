/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.tapemetrology.core.quantity.WarningCode;

/**
 * Random programmes replayed by random machines: off speed by up to 5 %, started late, stopped early, stopped in between,
 * with steps cut out, mutes, dropouts, hum, hiss, losses, azimuth, crosstalk, level errors, swapped channels or one channel
 * alone. No step may be misnamed, and what is missing must be named as missing.
 */
class RecognitionStudyTest {
    private static final double[] TONES = {
        40, 63, 125, 250, 315, 400, 500, 1000, 2000, 3000, 3150, 4000, 6300, 8000, 10_000, 12_500
    };

    private static double uniform(SplittableRandom random, double from, double to) {
        return from + (to - from) * random.nextDouble();
    }

    private static boolean happens(SplittableRandom random, double probability) {
        return random.nextDouble() < probability;
    }

    private static <T> T pick(SplittableRandom random, List<T> from) {
        return from.get(random.nextInt(from.size()));
    }

    private static Programme programme(SplittableRandom random) {
        List<Step> steps = new ArrayList<>();
        int count = 4 + random.nextInt(9);
        for (int i = 0; i < count; i++) {
            Step.Side side =
                    happens(random, 0.7) ? Step.Side.BOTH : happens(random, 0.5) ? Step.Side.LEFT : Step.Side.RIGHT;
            double level = -6.0 - random.nextInt(4) * 5;
            double seconds = uniform(random, 1.5, 6);
            double kind = random.nextDouble();
            StepSignal signal;
            if (kind < 0.65) {
                signal = new StepSignal.Tone(TONES[random.nextInt(TONES.length)], level);
            } else if (kind < 0.77) {
                seconds = uniform(random, 5, 12);
                signal = new StepSignal.Sweep(pick(random, List.of(20.0, 40.0, 100.0)), 12_500, level);
            } else if (kind < 0.89) {
                seconds = uniform(random, 2.5, 6);
                signal = new StepSignal.Noise(happens(random, 0.5), 20, 16_000, level);
            } else {
                seconds = uniform(random, 2.5, 6);
                signal = new StepSignal.Multitone(
                        pick(
                                random,
                                List.of(
                                        List.of(63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0),
                                        List.of(315.0, 1000.0, 3150.0, 10_000.0),
                                        List.of(100.0, 160.0, 250.0, 400.0, 630.0, 1000.0, 1600.0, 2500.0))),
                        level - 12);
            }
            steps.add(new Step("step " + i, signal, side, seconds));
            if (happens(random, 0.6)) {
                steps.add(new Step("pause " + i, new StepSignal.Pause(), Step.Side.BOTH, uniform(random, 1, 3)));
            }
        }
        return new Programme("random", steps, OptionalDouble.empty());
    }

    private static ReplayedProgramme recording(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        Programme programme = programme(random);
        ReplayedProgramme replay =
                new ReplayedProgramme(programme, pick(random, List.of(32_000, 32_000, 44_100, 48_000)), seed);
        double all = programme.seconds();
        replay.ratio = 1 + uniform(random, -0.05, 0.05);
        replay.wow = uniform(random, 0, 0.003);
        replay.wowHz = uniform(random, 0.5, 8);
        replay.from = happens(random, 0.4) ? uniform(random, 0, 0.5 * all) : 0;
        replay.to = happens(random, 0.4) ? uniform(random, replay.from + 0.3 * all, all) : all;
        replay.leadSeconds = uniform(random, 0, 4);
        replay.tailSeconds = uniform(random, 0, 4);
        replay.gain = Math.pow(10, uniform(random, -12, 3) / 20);
        replay.balance = Math.pow(10, uniform(random, -2, 2) / 20);
        replay.delaySeconds = happens(random, 0.5) ? uniform(random, 0, 2e-4) : 0;
        replay.crosstalk = Math.pow(10, uniform(random, -50, -25) / 20);
        replay.hum = happens(random, 0.6) ? Math.pow(10, uniform(random, -75, -42) / 20) : 0;
        replay.humHz = happens(random, 0.5) ? 50 : 60;
        replay.hiss = Math.pow(10, uniform(random, -80, -52) / 20);
        replay.lowPassHz = uniform(random, 5000, 20_000);
        replay.wanderDb = uniform(random, 0, 1);
        replay.swapped = happens(random, 0.05);
        replay.mono = happens(random, 0.1);
        for (int i = random.nextInt(3); i > 0; i--) {
            double at = uniform(random, replay.from, replay.to);
            replay.stops.add(new ReplayedProgramme.Stop(at, uniform(random, 0.3, 3)));
        }
        replay.stops.sort((a, b) -> Double.compare(a.at(), b.at()));
        for (int i = random.nextInt(8); i > 0; i--) {
            double at = uniform(random, 0, all);
            replay.muted.add(new ReplayedProgramme.Part(
                    at, at + (happens(random, 0.7) ? uniform(random, 0.01, 0.2) : uniform(random, 0.3, 1.5))));
        }
        if (happens(random, 0.3)) {
            int step = random.nextInt(programme.steps().size());
            ReplayedProgramme.Part part =
                    new ReplayedProgramme.Part(programme.startSeconds(step), programme.startSeconds(step + 1));
            (happens(random, 0.5) ? replay.cutOut : replay.muted).add(part);
        }
        return replay.play();
    }

    /** What came of many recordings. */
    private static final class Count {
        private int named;
        private int misnamed;
        private int whole;
        private int wholeNamed;
        private int wholeComplete;
        private int absent;
        private int unsaid;
        private double worstEdge;
        private double worstRatio;
        private final List<String> wrong = new ArrayList<>();

        void add(long seed) {
            ReplayedProgramme replay = recording(seed);
            Recognition recognition = replay.recogniser().recognition();
            for (int i = 0; i < replay.programme.steps().size(); i++) {
                Step step = replay.programme.steps().get(i);
                double heard = replay.heard(i, 0, replay.seconds());
                boolean isThere = heard > 0.95 * step.seconds() / replay.ratio;
                RecognisedStep found = recognition.find(step.name()).orElse(null);
                if (!step.isPause()) {
                    whole += isThere ? 1 : 0;
                    wholeNamed += isThere && found != null ? 1 : 0;
                    wholeComplete += isThere && found != null && found.complete() ? 1 : 0;
                    if (isThere && found == null && Boolean.getBoolean("verbose")) {
                        wrong.add("  unnamed, seed " + seed + " " + step);
                    }
                }
                if (heard == 0) {
                    absent++;
                    boolean said = recognition.missing().contains(step.name())
                            && recognition.warnings().stream().anyMatch(w -> w.code() == WarningCode.STEP_MISSING);
                    unsaid += said ? 0 : 1;
                }
                if (found != null) {
                    named++;
                    check(seed, replay, i, found, isThere);
                }
            }
        }

        private void check(long seed, ReplayedProgramme replay, int i, RecognisedStep found, boolean isThere) {
            double length = found.toSeconds() - found.fromSeconds();
            double right = replay.heard(i, found.fromSeconds(), found.toSeconds());
            double other = 0;
            for (int j = 0; j < replay.programme.steps().size(); j++) {
                if (j != i) {
                    other = Math.max(other, replay.heard(j, found.fromSeconds(), found.toSeconds()));
                }
            }
            if (right < 0.5 * length || other > 0.2 + 0.1 * length) {
                misnamed++;
                wrong.add(String.format(
                        Locale.ROOT,
                        "seed %d: %s at %s, heard %.2f s, another %.2f s",
                        seed,
                        replay.programme.steps().get(i),
                        found,
                        right,
                        other));
            } else if (isThere
                    && found.complete()
                    && !replay.programme.steps().get(i).isPause()) {
                if (replay.muted.isEmpty() && replay.stops.isEmpty()) {
                    double all = replay.heard(i, 0, replay.seconds());
                    worstEdge = Math.max(worstEdge, Math.max(length - right, all - right));
                }
                double off = Math.abs(found.speedRatio() / replay.ratio - 1);
                worstRatio = Math.max(worstRatio, off);
                if (off > 0.006 && Boolean.getBoolean("verbose")) {
                    wrong.add("  speed ratio off by " + off + ", seed " + seed + " "
                            + replay.programme.steps().get(i));
                }
            }
        }

        @Override
        public String toString() {
            return String.format(
                    Locale.ROOT,
                    "%d steps named, %d misnamed; %d of %d whole ones named, %d as complete; %d absent, %d of them unsaid; "
                            + "worst edge %.3f s, worst ratio %.4f%n%s",
                    named,
                    misnamed,
                    wholeNamed,
                    whole,
                    wholeComplete,
                    absent,
                    unsaid,
                    worstEdge,
                    worstRatio,
                    String.join("\n", wrong));
        }
    }

    private static Count count(long firstSeed, int recordings) {
        Count count = new Count();
        for (int i = 0; i < recordings; i++) {
            count.add(firstSeed + i);
        }
        return count;
    }

    @Test
    void noStepOfADozenRecordingsIsMisnamed() {
        Count count = count(1000, 12);
        assertThat(count.misnamed).as(count.toString()).isZero();
        assertThat(count.unsaid).as(count.toString()).isZero();
        assertThat(count.wholeNamed).as(count.toString()).isGreaterThan(count.whole * 8 / 10);
    }

    @Test
    @EnabledIfSystemProperty(named = "studies", matches = "true")
    void noStepOfAThousandRecordingsIsMisnamed() {
        Count count = count(Long.getLong("seeds", 400_000), Integer.getInteger("recordings", 1000));
        System.out.println(count);
        assertThat(count.misnamed).as(count.toString()).isZero();
        assertThat(count.unsaid).as(count.toString()).isZero();
        assertThat(count.wholeNamed).as(count.toString()).isGreaterThan(count.whole * 9 / 10);
    }
}
