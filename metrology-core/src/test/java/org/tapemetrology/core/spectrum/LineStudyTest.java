/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.apache.commons.math3.distribution.BinomialDistribution;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;

/**
 * How often the fit of lines holds what it says: twelve components at once in 60 s, 0.3 to 90 Hz, 0.005 to 0.2 % peak,
 * log-uniform, at least 3/T apart, in random flutter of a machine. Share and variance are judged by what the number of
 * trials allows; the long study, {@code -Dstudies=true}, judges them as stated.
 */
class LineStudyTest {
    private static final int SAMPLES = 60_000;
    private static final double RATE_HZ = 1000;
    private static final double SECONDS = 60;
    private static final int COMPONENTS = 12;

    private record Component(double hz, double amplitude, double phase) {
        /** Power over that of the noise in 1/T. */
        double noiseRatio() {
            return amplitude * amplitude / 2 * SECONDS / RandomFlutter.OF_A_MACHINE.applyAsDouble(hz);
        }
    }

    /** What a study has counted. */
    private static final class Tally {
        int due;
        int found;
        int strange;
        int frequencyHeld;
        int amplitudeHeld;
        int strong;
        int strongWithin;
        double frequencySquares;
        double amplitudeSquares;

        @Override
        public String toString() {
            return String.format(
                    "%d due, %.4f found, %d strange; variance re the bound: frequency %.3f, amplitude %.3f; "
                            + "intervals hold: frequency %.4f, amplitude %.4f; %d strong, within 5 %%: %.4f",
                    due,
                    (double) found / due,
                    strange,
                    frequencySquares / found,
                    amplitudeSquares / found,
                    (double) frequencyHeld / found,
                    (double) amplitudeHeld / found,
                    strong,
                    (double) strongWithin / strong);
        }
    }

    private static List<Component> components(Random random) {
        List<Component> components = new ArrayList<>();
        while (components.size() < COMPONENTS) {
            double hz = 0.3 * Math.pow(300, random.nextDouble());
            double amplitude = 0.00005 * Math.pow(40, random.nextDouble());
            if (components.stream().allMatch(other -> Math.abs(other.hz() - hz) >= 3 / SECONDS)) {
                components.add(new Component(hz, amplitude, 2 * Math.PI * random.nextDouble()));
            }
        }
        return components;
    }

    private static Tally study(int recordings, long seed) {
        Tally tally = new Tally();
        for (int r = 0; r < recordings; r++) {
            double[] x = RandomFlutter.record(seed + r, SAMPLES, RATE_HZ, RandomFlutter.OF_A_MACHINE);
            List<Component> truth = components(new Random(seed - r));
            for (Component each : truth) {
                RandomFlutter.add(x, RATE_HZ, each.hz(), each.amplitude(), each.phase());
            }
            List<Line> unclaimed = new ArrayList<>(LineFit.of(x, RATE_HZ).lines());
            for (Component each : truth) {
                Line line = claim(unclaimed, each.hz());
                if (10 * Math.log10(each.noiseRatio()) >= 15) {
                    count(tally, each, line);
                }
            }
            tally.strange += unclaimed.size();
        }
        return tally;
    }

    /** The line nearest to a frequency, within half a resolution width. */
    private static @Nullable Line claim(List<Line> lines, double hz) {
        Line nearest = null;
        for (Line line : lines) {
            double off = Math.abs(line.frequencyHz() - hz);
            if (off < 0.5 / SECONDS && (nearest == null || off < Math.abs(nearest.frequencyHz() - hz))) {
                nearest = line;
            }
        }
        lines.remove(nearest);
        return nearest;
    }

    private static void count(Tally tally, Component truth, @Nullable Line line) {
        tally.due++;
        if (line == null) {
            return;
        }
        tally.found++;
        double ratio = truth.noiseRatio();
        double frequencyOff = line.frequencyHz() - truth.hz();
        double amplitudeOff = line.amplitude() - truth.amplitude();
        // Cramer-Rao bounds of a sine in noise that is white around it.
        double frequencyBound = Math.sqrt(6 / ratio) / (2 * Math.PI * SECONDS);
        double amplitudeBound = truth.amplitude() / Math.sqrt(2 * ratio);
        tally.frequencySquares += Math.pow(frequencyOff / frequencyBound, 2);
        tally.amplitudeSquares += Math.pow(amplitudeOff / amplitudeBound, 2);
        double factor = line.coverageFactor(0.95);
        tally.frequencyHeld += Math.abs(frequencyOff) <= factor * line.frequencyUncertaintyHz() ? 1 : 0;
        tally.amplitudeHeld += Math.abs(amplitudeOff) <= factor * line.amplitudeUncertainty() ? 1 : 0;
        if (10 * Math.log10(ratio) >= 33) {
            tally.strong++;
            tally.strongWithin += Math.abs(amplitudeOff) <= 0.05 * truth.amplitude() ? 1 : 0;
        }
    }

    private static int falseLines(int recordings, long seed) {
        int lines = 0;
        for (int r = 0; r < recordings; r++) {
            double[] x = RandomFlutter.record(seed + r, SAMPLES, RATE_HZ, RandomFlutter.OF_A_MACHINE);
            lines += LineFit.of(x, RATE_HZ).lines().size();
        }
        return lines;
    }

    /** Some 170 lines: a share of 95 % scatters by 1.7 %, a variance by 11 %; limits are three times that wider. */
    @Test
    void fifteenRecordingsHoldWhatTheStudyShows() {
        Tally tally = study(15, 5_000);
        String counted = tally.toString();
        assertThat(tally.due).as(counted).isGreaterThan(150);
        assertThat(tally.found).as(counted).isGreaterThanOrEqualTo(tally.due - 3);
        assertThat(tally.strange).as(counted).isLessThanOrEqualTo(1);
        assertThat(tally.frequencySquares / tally.found).as(counted).isLessThan(1.5);
        assertThat(tally.amplitudeSquares / tally.found).as(counted).isLessThan(1.5);
        assertThat((double) tally.frequencyHeld / tally.found).as(counted).isBetween(0.90, 0.995);
        assertThat((double) tally.amplitudeHeld / tally.found).as(counted).isBetween(0.90, 0.995);
        assertThat(tally.strongWithin).as(counted).isGreaterThanOrEqualTo(tally.strong - 2);
    }

    /** At a false line in 100 recordings, 30 have two or more once in 28 times; these seeds are fixed. */
    @Test
    void thirtyRecordingsOfRandomFlutterHaveNoLines() {
        assertThat(falseLines(30, 9_000)).isLessThanOrEqualTo(1);
    }

    /** As stated: 99 % found, variance within 1.5 of the bound, 93 to 97 % held, 5 % where the ratio is 33 dB. */
    @Test
    @EnabledIfSystemProperty(named = "studies", matches = "true")
    void fourHundredRecordingsHoldWhatIsStated() {
        Tally tally = study(400, 1_000_000);
        String counted = tally.toString();
        assertThat((double) tally.found / tally.due).as(counted).isGreaterThanOrEqualTo(0.99);
        assertThat(tally.strange).as(counted).isLessThanOrEqualTo(4);
        assertThat(tally.frequencySquares / tally.found).as(counted).isLessThan(1.5);
        assertThat(tally.amplitudeSquares / tally.found).as(counted).isLessThan(1.5);
        assertThat((double) tally.frequencyHeld / tally.found).as(counted).isBetween(0.93, 0.97);
        assertThat((double) tally.amplitudeHeld / tally.found).as(counted).isBetween(0.93, 0.97);
        assertThat((double) tally.strongWithin / tally.strong).as(counted).isGreaterThanOrEqualTo(0.99);
    }

    /** At most one in 100; the fit allows itself one in 200, and more than one in 100 by chance then is below 0.1 %. */
    @Test
    @EnabledIfSystemProperty(named = "studies", matches = "true")
    void twoThousandRecordingsOfRandomFlutterHaveTwentyLinesAtMost() {
        assertThat(falseLines(2000, 2_000_000)).isLessThanOrEqualTo(20);
        assertThat(1 - new BinomialDistribution(2000, LineFit.FALSE_ALARM_RATE).cumulativeProbability(20))
                .isLessThan(0.002);
    }
}
