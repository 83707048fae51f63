/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The chart against a series that is cut into intervals plainly: 2048 cells of 0.1 s, of 0.2 s where those are used up, and so on. */
class StripChartTest {
    /** Two values in a tenth of a second. */
    private static final double RATE = 20;

    private static double[] noise(int length, long seed) {
        return new Random(seed).doubles(length, -3, 5).toArray();
    }

    private static double of(double[] x, int from, int to, boolean high) {
        return (high
                        ? Arrays.stream(x, from, to).max()
                        : Arrays.stream(x, from, to).min())
                .orElseThrow();
    }

    /** A gap of ten seconds from the 100th second on leaves its cells out, so long as no cell reaches beyond it. */
    @ParameterizedTest
    @CsvSource({"4096, 2, 1", "4097, 4, 7", "8192, 4, 5000", "8193, 8, 33", "30000, 16, 100000"})
    void cellsHoldWhatHappensInThem(int length, int cell, int block) {
        double[] deviation = noise(length, 1);
        double[] weighted = noise(length, 2);
        double[] indication = Arrays.stream(noise(length, 3)).map(Math::abs).toArray();
        StripChart chart = new StripChart(RATE);
        for (int at = 0; at < length; ) {
            int end = at < 2000 ? 2000 : length;
            int part = Math.min(block, end - at);
            if (part == 0) {
                break;
            }
            chart.add(at, deviation, weighted, indication, at, part);
            at += part;
            at = at == 2000 ? 2192 : at; // 200 values later, on the border of a cell of any length here
        }
        // Tuned to 1000 Hz, the mean is 1001 Hz: 1 Hz is taken off, and the rest given in per cent of it.
        FlutterSeries series = chart.series(7, 1000, 1001);
        double percent = 100 / 1001.0;
        assertThat(series.intervalSeconds()).isCloseTo(cell / RATE, within(1e-12));
        int gap = 192 / cell;
        assertThat(series.seconds()).hasSize((length + cell - 1) / cell - gap);
        for (int i = 0; i < series.seconds().length; i++) {
            int place = i < 2000 / cell ? i : i + gap;
            int from = place * cell;
            int to = Math.min(length, from + cell);
            assertThat(series.seconds()[i]).isCloseTo(7 + (place + 0.5) * cell / RATE, within(1e-9));
            assertThat(series.speedPercent()[i])
                    .isCloseTo(
                            (Arrays.stream(deviation, from, to).average().orElseThrow() - 1) * percent, within(1e-12));
            assertThat(series.speedLowPercent()[i])
                    .isCloseTo((of(deviation, from, to, false) - 1) * percent, within(1e-12));
            assertThat(series.speedHighPercent()[i])
                    .isCloseTo((of(deviation, from, to, true) - 1) * percent, within(1e-12));
            assertThat(series.weightedLowPercent()[i])
                    .isCloseTo(of(weighted, from, to, false) * percent, within(1e-12));
            assertThat(series.weightedHighPercent()[i])
                    .isCloseTo(of(weighted, from, to, true) * percent, within(1e-12));
            assertThat(series.quasiPeakPercent()[i]).isCloseTo(of(indication, from, to, true) * percent, within(1e-12));
        }
    }

    @Test
    void aChartOfNothingIsEmpty() {
        FlutterSeries series = new StripChart(RATE).series(0, 1000, 1000);
        assertThat(series.size()).isZero();
        assertThat(series.intervalSeconds()).isCloseTo(0.1, within(1e-12));
    }
}
