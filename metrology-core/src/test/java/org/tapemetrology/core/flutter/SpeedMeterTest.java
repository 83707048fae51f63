/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Mean, slope and range of a series against the same taken plainly from it. */
class SpeedMeterTest {
    private static final double RATE = 200;
    private static final int CELL = 20;

    private static double[] series(int length) {
        Random random = new Random(4);
        double[] x = new double[length];
        for (int i = 0; i < length; i++) {
            x[i] = 5 + 0.3 * i / RATE + Math.sin(i / 900.0) + 0.1 * random.nextGaussian();
        }
        return x;
    }

    private static SpeedMeter measured(double[] x, int block) {
        SpeedMeter meter = new SpeedMeter(RATE);
        for (int at = 0; at < x.length; at += block) {
            meter.accept(x, at, Math.min(block, x.length - at), false);
        }
        return meter;
    }

    private static double mean(double[] x, int from, int to) {
        return Arrays.stream(x, from, to).average().orElseThrow();
    }

    /** Slope through means of 0.1 s; those of a steady rise are its own. */
    @ParameterizedTest
    @ValueSource(ints = {1, 33, 6000})
    void figuresAreThoseOfTheSeries(int block) {
        double[] x = series(6007);
        SpeedMeter meter = measured(x, block);
        assertThat(meter.seconds()).isCloseTo(6007 / RATE, within(1e-12));
        assertThat(meter.admitted()).isEqualTo(6007);
        assertThat(meter.meanHz().orElseThrow()).isCloseTo(mean(x, 0, 6007), within(1e-10));
        assertThat(meter.sumOfDeviations()).isCloseTo(6007 * mean(x, 0, 6007), within(1e-8));
        int cells = 300; // the last seven values are no whole cell
        double middle = (cells * CELL - 1) / 2.0 / RATE;
        double product = 0;
        double square = 0;
        for (int c = 0; c < cells; c++) {
            double time = (c * CELL + (CELL - 1) / 2.0) / RATE - middle;
            product += time * mean(x, c * CELL, (c + 1) * CELL);
            square += time * time;
        }
        assertThat(meter.slopeHzPerSecond().orElseThrow()).isCloseTo(product / square, within(1e-9));
        double[] tens = {mean(x, 0, 2000), mean(x, 2000, 4000), mean(x, 4000, 6000)};
        double range = Arrays.stream(tens).max().orElseThrow()
                - Arrays.stream(tens).min().orElseThrow();
        assertThat(meter.rangeHz().orElseThrow()).isCloseTo(range, within(1e-9));
        // The range is the difference of two means over a third of the time each: root of 2 x 3.
        double ofMean = meter.meanUncertainty().orElseThrow().value();
        assertThat(meter.rangeUncertainty().orElseThrow().value())
                .isCloseTo(ofMean * Math.sqrt(2 * 6007 / 2000.0), within(1e-9));
        assertThat(meter.slopeUncertainty().orElseThrow().value()).isPositive();
    }

    /** Ten seconds less a tenth count as ten: the ends of a recording may take so much. */
    @Test
    void theLastTenSecondsMayLackATenth() {
        double[] x = series(4000);
        assertThat(measured(Arrays.copyOf(x, 3979), 500).rangeHz()).isEmpty();
        assertThat(measured(Arrays.copyOf(x, 3980), 500).rangeHz().orElseThrow())
                .isCloseTo(mean(x, 2000, 3980) - mean(x, 0, 2000), within(1e-9));
        // A last one of less than that leaves the others as they are.
        double[] falling = series(4500);
        Arrays.fill(falling, 4000, 4500, -50);
        assertThat(measured(falling, 77).rangeHz().orElseThrow())
                .isCloseTo(mean(falling, 2000, 4000) - mean(falling, 0, 2000), within(1e-9));
    }

    /** A gap, and the second after it, are left out; what follows keeps its time. */
    @Test
    void aGapIsLeftOut() {
        double[] x = new double[4000];
        for (int i = 0; i < x.length; i++) {
            x[i] = i >= 1000 && i < 1100 ? 1e6 : 2 + 0.01 * i; // 2 Hz a second
        }
        SpeedMeter meter = new SpeedMeter(RATE);
        meter.accept(x, 0, 1000, false);
        meter.accept(x, 1000, 100, true);
        meter.accept(x, 1100, 2900, false);
        assertThat(meter.admitted()).isEqualTo(4000 - 100 - 200);
        assertThat(meter.slopeHzPerSecond().orElseThrow()).isCloseTo(2, within(1e-9));
        double sum =
                Arrays.stream(x, 0, 1000).sum() + Arrays.stream(x, 1300, 4000).sum();
        assertThat(meter.meanHz().orElseThrow()).isCloseTo(sum / 3700, within(1e-9));
    }

    @Test
    void nothingHasNoFigures() {
        SpeedMeter meter = new SpeedMeter(RATE);
        assertThat(meter.meanHz()).isEmpty();
        assertThat(meter.slopeHzPerSecond()).isEmpty();
        assertThat(meter.rangeHz()).isEmpty();
        assertThat(meter.meanUncertainty()).isEmpty();
        meter.accept(new double[] {3}, 0, 1, false);
        assertThat(meter.meanHz()).hasValue(3);
        assertThat(meter.seconds()).isEqualTo(1 / RATE);
        assertThat(meter.slopeHzPerSecond()).isEmpty(); // not a whole cell yet
        meter.accept(new double[2 * CELL], 0, CELL - 1, false);
        assertThat(meter.slopeHzPerSecond()).isEmpty(); // one cell alone
    }
}
