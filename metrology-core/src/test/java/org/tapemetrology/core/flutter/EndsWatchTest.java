/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Glides at the ends of a tone of 1000 Hz, of which means over 50 ms are made as they are wanted. Invented data. */
class EndsWatchTest {
    private static final double RATE = 1000;
    private static final int CELL = 50;
    private static final int END = 8;

    /** Means that swing by one about 7 Hz: their standard deviation is 1 Hz. */
    private static double[] swinging(int cells) {
        double[] means = new double[cells];
        for (int i = 0; i < cells; i++) {
            means[i] = i % 2 == 0 ? 6 : 8;
        }
        return means;
    }

    private static double[] steady(int cells) {
        double[] means = new double[cells];
        Arrays.fill(means, 7);
        return means;
    }

    private static void feed(EndsWatch watch, double[] means) {
        double[] values = new double[CELL * means.length];
        for (int i = 0; i < values.length; i++) {
            // What a cell holds swings widely about its mean, which alone counts.
            values[i] = means[i / CELL] + (i % 2 == 0 ? 20 : -20);
        }
        watch.accept(values, 0, values.length, false);
    }

    private static EndsWatch watched(double[] means) {
        EndsWatch watch = new EndsWatch(RATE, 1000);
        feed(watch, means);
        return watch;
    }

    /** Five standard deviations, 5 Hz, in each of the first and the last eight means, and in no other. */
    @ParameterizedTest
    @ValueSource(doubles = {4.9, 5.1, -4.9, -5.1})
    void fiveStandardDeviationsStandOut(double away) {
        int cells = 40;
        for (int at = 0; at < cells; at++) {
            double[] means = swinging(cells);
            boolean inside = at >= END && at < cells - END;
            if (inside) {
                continue; // there it would change the standard deviation
            }
            means[at] = 7 + away;
            EndsWatch watch = watched(means);
            boolean out = Math.abs(away) > 5;
            assertThat(watch.glidesAtFirst()).as("mean %d", at).isEqualTo(out && at < END);
            assertThat(watch.glidesAtLast()).as("mean %d", at).isEqualTo(out && at >= cells - END);
        }
    }

    /** What stands between the ends is compared with, and is no end. */
    @Test
    void aPulseInTheMiddleIsNoGlide() {
        double[] means = steady(40);
        means[20] = 17;
        EndsWatch watch = watched(means);
        assertThat(watch.glidesAtFirst()).isFalse();
        assertThat(watch.glidesAtLast()).isFalse();
    }

    /** The least that counts is 0.2 % of the tone, here 2 Hz, where the rest does not move at all. */
    @ParameterizedTest
    @CsvSource({"1.9, false", "2.1, true", "-1.9, false", "-2.1, true"})
    void twoThousandthsAreTheLeast(double away, boolean glides) {
        double[] means = steady(30);
        means[2] = 7 + away;
        means[28] = 7 + away;
        EndsWatch watch = watched(means);
        assertThat(watch.glidesAtFirst()).isEqualTo(glides);
        assertThat(watch.glidesAtLast()).isEqualTo(glides);
    }

    /**
     * Fewer means between the ends than an end has: with two of them (8/2)^1.5 = 8 times as much has to stand out, with four
     * (8/4)^1.5 = 2.83 times, with eight just as much.
     */
    @ParameterizedTest
    @CsvSource({"2, 40", "4, 14.14", "8, 5", "16, 5"})
    void fewerMeansTellLess(int between, double stands) {
        for (double times : new double[] {0.99, 1.01}) {
            double[] means = swinging(2 * END + between);
            means[0] = 7 + times * stands;
            means[means.length - 1] = 7 - times * stands;
            EndsWatch watch = watched(means);
            assertThat(watch.glidesAtFirst()).as("%s times", times).isEqualTo(times > 1);
            assertThat(watch.glidesAtLast()).as("%s times", times).isEqualTo(times > 1);
        }
    }

    /** One mean between the ends says nothing. */
    @Test
    void aShortToneIsNotJudged() {
        double[] means = steady(2 * END + 1);
        means[0] = 900;
        means[means.length - 1] = 900;
        EndsWatch watch = watched(means);
        assertThat(watch.glidesAtFirst()).isFalse();
        assertThat(watch.glidesAtLast()).isFalse();
        assertThat(new EndsWatch(RATE, 1000).glidesAtLast()).isFalse();
    }

    /** A tenth of a mean, 5 ms, is not yet looked at, more is. */
    @ParameterizedTest
    @CsvSource({"5, false", "6, true", "49, true"})
    void theLastMeanNeedNotBeWhole(int values, boolean glides) {
        EndsWatch watch = watched(steady(30));
        double[] rest = new double[values];
        Arrays.fill(rest, 7 + 2.1);
        watch.accept(rest, 0, values, false);
        assertThat(watch.glidesAtLast()).isEqualTo(glides);
        assertThat(watch.glidesAtFirst()).isFalse();
        // What is bridged drops the mean that had begun.
        watch.accept(rest, 0, values, true);
        assertThat(watch.glidesAtLast()).isFalse();
    }

    /** A gap cuts a mean off: what comes next begins a new one. */
    @Test
    void aGapBeginsANewMean() {
        EndsWatch watch = watched(steady(29));
        double[] away = new double[30];
        Arrays.fill(away, 1000);
        watch.accept(away, 0, 30, false);
        watch.accept(away, 0, 30, true);
        feed(watch, steady(1));
        assertThat(watch.glidesAtFirst()).isFalse();
        assertThat(watch.glidesAtLast()).isFalse();
    }

    /** However the values are cut into blocks, and wherever they stand in their array. */
    @ParameterizedTest
    @ValueSource(ints = {1, 7, 50, 51, 333})
    void blocksDoNotMatter(int block) {
        double[] values = new double[2000];
        Arrays.fill(values, 7);
        Arrays.fill(values, 1950, 2000, 9.1);
        EndsWatch watch = new EndsWatch(RATE, 1000);
        for (int at = 0; at < values.length; at += block) {
            watch.accept(values, at, Math.min(block, values.length - at), false);
        }
        assertThat(watch.glidesAtLast()).isTrue();
        assertThat(watch.glidesAtFirst()).isFalse();
    }
}
