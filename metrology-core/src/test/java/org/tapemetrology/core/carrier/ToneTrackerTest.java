/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The tracker on series of which every window is known. How a loss is told, bridged and counted stands in the class's own
 * page and in the rules of the project; 10 dB, 5 ms and 1 s are common practice, no source.
 */
class ToneTrackerTest {
    private static final double RATE = 4000;
    private static final double TONE = 1000;
    private static final int WINDOW = 20;
    private static final int PER_SECOND = 200;

    /** What was passed on, value by value. */
    private static final class Heard implements ToneTracker.Listener {
        final List<Double> deviation = new ArrayList<>();
        final List<Double> amplitude = new ArrayList<>();
        final List<Double> power = new ArrayList<>();
        final List<Boolean> bridged = new ArrayList<>();
        final List<Long> gaps = new ArrayList<>();
        int longestBlock;

        @Override
        public void accept(
                double[] deviationHz, double[] amplitudes, double[] powers, int offset, int length, boolean isBridged) {
            assertThat(length).isPositive(); // called only where there is something
            longestBlock = Math.max(longestBlock, length);
            for (int i = offset; i < offset + length; i++) {
                deviation.add(deviationHz[i]);
                amplitude.add(amplitudes[i]);
                power.add(powers[i]);
                bridged.add(isBridged);
            }
        }

        @Override
        public void bridged(long firstIndex, long length) {
            gaps.add(firstIndex);
            gaps.add(length);
        }
    }

    /** A series that is made window by window; every value of it differs a little. */
    private static final class Series {
        final double[] deviation = new double[WINDOW * 3000];
        final double[] amplitude = new double[deviation.length];
        final double[] power = new double[deviation.length];
        int length;

        Series add(int windows, double windowPower, double windowDeviation) {
            for (int i = 0; i < windows * WINDOW; i++) {
                deviation[length] = windowDeviation + 0.01 * Math.sin(length);
                amplitude[length] = 0.001 * Math.cos(length);
                power[length] = windowPower * (1 + 1e-5 * Math.sin(3.0 * length));
                length++;
            }
            return this;
        }

        /** The last window with a power that swings: its square is so much above that of the mean. */
        Series swinging(double variation) {
            for (int i = length - WINDOW; i < length; i++) {
                power[i] *= 1 + (i % 2 == 0 ? 1 : -1) * Math.sqrt(variation);
            }
            return this;
        }

        private Heard heard = new Heard();

        ToneTracker tracked(int block) {
            heard = new Heard();
            ToneTracker tracker = new ToneTracker(RATE, TONE, 0.005, heard);
            double[] d = new double[block];
            double[] a = new double[block];
            double[] p = new double[block];
            for (int at = 0; at < length; at += block) {
                int part = Math.min(block, length - at);
                System.arraycopy(deviation, at, d, 0, part);
                System.arraycopy(amplitude, at, a, 0, part);
                System.arraycopy(power, at, p, 0, part);
                tracker.process(d, a, p, part);
            }
            return tracker;
        }
    }

    /** Whether the last windows of a series belong to the tone: no loss is seen among them. */
    private static boolean follows(Series series) {
        Series more = series;
        int before = more.length;
        more.add(PER_SECOND, more.power[before - 1], 0);
        more.tracked(4000);
        return more.heard.gaps.isEmpty() && !more.heard.bridged.contains(true);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 20, 333, 100_000})
    void passesOnTheToneFromItsSecondWindowToTheLastButOne(int block) {
        Series series = new Series().add(7, 0, 0).add(100, 0.5, 3);
        ToneTracker tracker = series.tracked(block);
        assertThat(tracker.found()).isTrue();
        assertThat(tracker.ended()).isFalse();
        assertThat(tracker.firstIndex()).isEqualTo(8 * WINDOW);
        assertThat(tracker.passedOn()).isEqualTo(98 * WINDOW);
        Heard heard = series.heard;
        assertThat(heard.deviation).hasSize(98 * WINDOW);
        for (int i = 0; i < heard.deviation.size(); i++) {
            assertThat(heard.deviation.get(i)).isEqualTo(series.deviation[8 * WINDOW + i]);
            assertThat(heard.amplitude.get(i)).isEqualTo(series.amplitude[8 * WINDOW + i]);
            assertThat(heard.power.get(i)).isEqualTo(series.power[8 * WINDOW + i]);
        }
        assertThat(heard.bridged).doesNotContain(true);
        assertThat(heard.gaps).isEmpty();
        // Up to 23 windows together where they come together, for the sake of what follows.
        assertThat(heard.longestBlock).isEqualTo(block < 333 ? 10 * WINDOW : 23 * WINDOW);
    }

    /** Twelve good windows in a row make a tone: a guard, ten for a mean, one that is held back. */
    @Test
    void elevenWindowsAreNoToneYet() {
        Series series = new Series().add(11, 0.5, 0);
        assertThat(series.tracked(20).found()).isFalse();
        assertThat(series.heard.deviation).isEmpty();
        assertThat(series.add(1, 0.5, 0).tracked(20).found()).isTrue();
        assertThat(series.heard.deviation).hasSize(10 * WINDOW);
        // A bad window in between begins the count anew.
        Series again = new Series().add(11, 0.5, 0).add(1, 0, 0).add(11, 0.5, 0);
        assertThat(again.tracked(20).found()).isFalse();
        assertThat(again.add(1, 0.5, 0).tracked(20).firstIndex()).isEqualTo(13 * WINDOW);
    }

    /**
     * Lost are the bad windows, the one before them and the one after. The bridge is a straight line between the means of ten
     * windows, 50 ms, on either side; the levels there are unknown.
     */
    @ParameterizedTest
    @CsvSource({"1, 20", "5, 7", "150, 100000"})
    void aGapIsBridgedByAStraightLine(int lost, int block) {
        Series series = new Series().add(60, 0.5, 2).add(40, 0.5, 10).add(lost, 0.001, -77);
        series.add(1, 0.5, 33).add(10, 0.5, 20).add(60, 0.5, 5);
        series.tracked(block);
        Heard heard = series.heard;
        int from = 98 * WINDOW; // the first window is a guard, the last one before the loss goes with it
        int length = (lost + 2) * WINDOW;
        assertThat(heard.gaps).containsExactly((long) from, (long) length);
        assertThat(heard.deviation).hasSize((100 + lost + 71 - 2) * WINDOW);
        double before = mean(series.deviation, 89 * WINDOW, 99 * WINDOW);
        double after = mean(series.deviation, (101 + lost) * WINDOW, (111 + lost) * WINDOW);
        for (int i = 0; i < heard.deviation.size(); i++) {
            boolean inside = i >= from && i < from + length;
            assertThat(heard.bridged.get(i)).isEqualTo(inside);
            if (inside) {
                double share = (i - from + 0.5) / length;
                assertThat(heard.deviation.get(i))
                        .isCloseTo(before + share * (after - before), within(1e-9)); // rounding
                assertThat(heard.amplitude.get(i)).isZero();
                assertThat(heard.power.get(i)).isZero();
            } else {
                assertThat(heard.deviation.get(i)).isEqualTo(series.deviation[WINDOW + i]);
                assertThat(heard.power.get(i)).isEqualTo(series.power[WINDOW + i]);
            }
        }
    }

    private static double mean(double[] values, int from, int to) {
        double sum = 0;
        for (int i = from; i < to; i++) {
            sum += values[i] / (to - from);
        }
        return sum;
    }

    /** The mean before a second loss is that of what stands between the two, where it is ten windows or more. */
    @Test
    void everyGapHasItsOwnMeans() {
        Series series =
                new Series().add(50, 0.5, 0).add(3, 0, 0).add(14, 0.5, 30).add(3, 0, 0);
        series.add(40, 0.5, 50).tracked(20);
        // The guard of 14 and the one before the loss are lost: twelve are left, of which the last ten count.
        assertThat(series.heard.gaps).containsExactly(48L * WINDOW, 5L * WINDOW, 65L * WINDOW, 5L * WINDOW);
        double before = mean(series.deviation, 56 * WINDOW, 66 * WINDOW);
        double after = mean(series.deviation, 71 * WINDOW, 81 * WINDOW);
        int length = 5 * WINDOW;
        assertThat(series.heard.deviation.get(65 * WINDOW))
                .isCloseTo(before + 0.5 / length * (after - before), within(1e-9));
    }

    /** As soon as the tone is found there are ten windows for the mean. */
    @Test
    void aGapSoonAfterTheStartIsBridged() {
        Series series = new Series().add(12, 0.5, 3).add(1, 0, 0).add(20, 0.5, 7);
        series.tracked(20);
        assertThat(series.heard.gaps).containsExactly(10L * WINDOW, 3L * WINDOW);
        double before = mean(series.deviation, WINDOW, 11 * WINDOW);
        double after = mean(series.deviation, 14 * WINDOW, 24 * WINDOW);
        assertThat(series.heard.deviation.get(10 * WINDOW))
                .isCloseTo(before + (after - before) * 0.5 / (3 * WINDOW), within(1e-9));
    }

    /** Gaps, each from and how long in windows, about a good stretch between two losses of two windows. */
    private static List<Long> gapsAbout(int goodWindows) {
        Series series = new Series()
                .add(50, 0.5, 0)
                .add(2, 0, 0)
                .add(goodWindows, 0.5, 0)
                .add(2, 0, 0)
                .add(40, 0.5, 0);
        series.tracked(20);
        return series.heard.gaps.stream().map(values -> values / WINDOW).toList();
    }

    /** A good stretch that is too short to return in is part of the gap. Of twelve the first is a guard, the last goes with the next loss. */
    @Test
    void twelveWindowsAreAReturnElevenAreNone() {
        assertThat(gapsAbout(11)).containsExactly(48L, 17L);
        assertThat(gapsAbout(12)).containsExactly(48L, 4L, 62L, 4L);
    }

    @Test
    void aSecondWithoutTheToneIsItsEnd() {
        // With the window before it: 200 of 5 ms.
        Series series = new Series().add(50, 0.5, 0).add(199, 0, 0);
        assertThat(series.tracked(20).ended()).isFalse();
        assertThat(series.heard.deviation).hasSize(48 * WINDOW);
        Series longer = new Series().add(50, 0.5, 0).add(200, 0, 0).add(50, 0.5, 0);
        ToneTracker tracker = longer.tracked(333);
        assertThat(tracker.ended()).isTrue();
        assertThat(tracker.found()).isTrue();
        assertThat(tracker.passedOn()).isEqualTo(48 * WINDOW);
        assertThat(longer.heard.gaps).isEmpty();
    }

    /** Ten decibels below the running level the tone is lost. Below -110 dBFS none is found; one that was may fall by as much. */
    @Test
    void theToneMayFallByTenDecibels() {
        assertThat(follows(new Series().add(300, 0.5, 0).add(1, 0.0501, 0).add(1, 0.5, 0)))
                .isTrue();
        assertThat(follows(new Series().add(300, 0.5, 0).add(1, 0.0499, 0).add(1, 0.5, 0)))
                .isFalse();
        assertThat(new Series().add(20, 1.01e-11, 0).tracked(20).found()).isTrue();
        assertThat(new Series().add(20, 0.99e-11, 0).tracked(20).found()).isFalse();
        // As where a splice makes a tone of -109 dBFS 3 dB weaker, for good: it is the same tone.
        for (double weaker : new double[] {0.63e-11, 0.2e-11}) {
            Series series = new Series().add(300, 1.26e-11, 0).add(300, weaker, 0);
            assertThat(series.tracked(20).passedOn()).isEqualTo(598 * WINDOW);
            assertThat(series.heard.gaps).isEmpty();
        }
        assertThat(follows(new Series()
                        .add(300, 5e-12, 0)
                        .add(300, 1.1e-11, 0)
                        .add(2000, 2e-12, 0)
                        .add(1, 0.99e-12, 0)
                        .add(1, 2e-12, 0)))
                .isFalse();
    }

    /** The running level follows with a time constant of 1 s: after that, 63 % of a fall have come. */
    @Test
    void theRunningLevelFollowsInASecond() {
        double level = 0.2 + 0.8 * Math.exp(-1);
        for (double share : new double[] {0.102, 0.098}) { // exp(-1) and 0.995^200 differ by 0.3 % of 0.37
            Series series = new Series()
                    .add(300, 1, 0)
                    .add(200, 0.2, 0)
                    .add(1, share * level, 0)
                    .add(1, 0.2, 0);
            assertThat(follows(series)).isEqualTo(share > 0.1);
        }
    }

    /** A tenth of the tone away from the running deviation it is another tone; that, too, follows in 1 s. */
    @Test
    void theToneMayStepByATenth() {
        assertThat(follows(new Series().add(300, 1, 0).add(1, 1, -99.9).add(1, 1, 0)))
                .isTrue();
        assertThat(follows(new Series().add(300, 1, 0).add(1, 1, -100.1).add(1, 1, 0)))
                .isFalse();
        // It begins with that of the windows in which the tone was found.
        assertThat(follows(new Series().add(20, 1, 90).add(1, 1, 185).add(1, 1, 90)))
                .isTrue();
        // A tenth itself is too much: here without any other deviation.
        Series exact = new Series().add(20, 1, 0).add(1, 1, 100).add(20, 1, 0);
        for (int i = 0; i < exact.length; i++) {
            exact.deviation[i] = Math.rint(exact.deviation[i]);
        }
        exact.tracked(20);
        assertThat(exact.heard.gaps).containsExactly(18L * WINDOW, 3L * WINDOW);
        double running = 90 * (1 - Math.exp(-1));
        for (double step : new double[] {99, 101}) {
            Series series = new Series()
                    .add(300, 1, 0)
                    .add(200, 1, 90)
                    .add(1, 1, running + step)
                    .add(1, 1, 0);
            assertThat(follows(series)).isEqualTo(step < 100);
        }
    }

    /** A tone whose power swings by a tenth of its square has noise 13 dB below it, and is none. */
    @Test
    void theToneIsSteady() {
        for (double variation : new double[] {0.099, 0.101}) {
            Series series = new Series()
                    .add(300, 0.5, 0)
                    .add(1, 0.5, 0)
                    .swinging(variation)
                    .add(1, 0.5, 0);
            assertThat(follows(series)).isEqualTo(variation < 0.1);
        }
    }

    @Test
    void whatIsNotANumberIsNoTone() {
        Series series = new Series().add(300, 1, 0);
        series.power[100 * WINDOW + 3] = Double.NaN;
        series.deviation[200 * WINDOW + 3] = Double.NaN;
        series.tracked(20);
        assertThat(series.heard.gaps).containsExactly(98L * WINDOW, 3L * WINDOW, 198L * WINDOW, 3L * WINDOW);
    }

    /** -110 dBFS itself is none: in windows of 16 values, whose mean is exact. */
    @Test
    void theLeastPowerItselfIsNoTone() {
        for (double power : new double[] {1e-11, Math.nextUp(1e-11)}) {
            ToneTracker tracker = new ToneTracker(RATE, TONE, 0.004, new Heard());
            double[] powers = new double[16 * 20];
            Arrays.fill(powers, power);
            tracker.process(new double[powers.length], new double[powers.length], powers, powers.length);
            assertThat(tracker.found()).isEqualTo(power > 1e-11);
        }
    }
}
