/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SymmetricFilterTest {
    private static final double RATE = 96_000;

    /** The three filters of the recorder, one of an even length and one shorter than a row of neighbours. */
    @ParameterizedTest
    @CsvSource({"31, 1, 0", "127, 2, 4", "63, 1, 4", "64, 2, 4", "3, 4, 0"})
    void equalsTheSumOverItsTaps(int half, int step, double kaiser) {
        int outputs = 3000;
        double[] noise = noise(outputs * step);
        double[] filtered = new double[outputs];
        SymmetricFilter filter = filter(half, step, kaiser);
        filter.filter(noise, filtered, outputs);

        double[] expected = plain(filter, half, noise, step, outputs);

        for (int i = 0; i < outputs; i++) {
            // Rounding of sums of up to 255 terms below 3, in another order: near 1e-15; a wrong tap is over 1e-6 off.
            assertThat(filtered[i]).as("output %d", i).isCloseTo(expected[i], within(1e-13));
        }
    }

    @ParameterizedTest
    @CsvSource({"1", "7", "64", "513", "1025"})
    void isTheSameForAnyBlock(int block) {
        int outputs = 2600;
        double[] noise = noise(2 * outputs);
        double[] whole = new double[outputs];
        filter(127, 2, 4).filter(noise, whole, outputs);

        SymmetricFilter filter = filter(127, 2, 4);
        double[] parts = new double[outputs];
        for (int from = 0; from < outputs; from += block) {
            int count = Math.min(block, outputs - from);
            double[] part = Arrays.copyOfRange(noise, 2 * from, 2 * (from + count));
            filter.filter(part, part, count);
            System.arraycopy(part, 0, parts, from, count);
        }

        assertThat(parts).containsExactly(whole);
    }

    /** Another response takes effect with the next value, on what went before it too. */
    @Test
    void anotherResponseTakesEffectAtOnce() {
        SymmetricFilter filter = new SymmetricFilter(5, RATE, 0, 1);
        filter.design(hz -> 1);
        double[] ones = new double[20];
        Arrays.fill(ones, 1);
        double[] before = new double[20];
        filter.filter(ones, before, 20);
        filter.design(hz -> 0.5);
        double[] after = new double[3];
        filter.filter(ones, after, 3);

        // A flat response has a single tap; the rest is rounding.
        assertThat(before[19]).isCloseTo(1, within(1e-13));
        assertThat(after[0]).isCloseTo(0.5, within(1e-13));
    }

    /** A curve with a bend and a slope, as heads have them. */
    private static double response(double hz) {
        return hz < 20_000 ? Math.exp(-hz / 15_000) : 0;
    }

    private static SymmetricFilter filter(int half, int step, double kaiser) {
        SymmetricFilter filter = new SymmetricFilter(half, RATE, kaiser, step);
        filter.design(SymmetricFilterTest::response);
        return filter;
    }

    private static double[] plain(SymmetricFilter filter, int half, double[] values, int step, int outputs) {
        double[] sums = new double[outputs];
        for (int i = 0; i < outputs; i++) {
            for (int n = 0; n <= 2 * half && n <= i * step; n++) {
                sums[i] += filter.tap(Math.abs(n - half)) * values[i * step - n];
            }
        }
        return sums;
    }

    private static double[] noise(int count) {
        SplittableRandom random = new SplittableRandom(4);
        return random.doubles(count, -1, 1).toArray();
    }
}
