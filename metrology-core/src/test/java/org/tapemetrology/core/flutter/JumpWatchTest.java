/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A jump of the phase in a deviation with a little noise, at the rates of a demodulator. Invented data. */
class JumpWatchTest {
    private static final double RATE = 4000;
    private static final int AT = 8003;

    /**
     * Two recordings joined seldom have one level: a step of 9 dB does not hide the jump. Where the power falls to less than a
     * tenth the tone ends, and what noise then makes of the deviation is none.
     */
    @ParameterizedTest(name = "{0} cycles, level step {1} dB: {2} jumps")
    @CsvSource({
        "0.05, 0, 1",
        "0.05, 4, 1",
        "-0.05, -4, 1",
        "-0.05, 9, 1",
        "0.05, -9, 1",
        "0.05, -11, 0",
        "0.05, 11, 0",
        "0.001, 0, 0",
        "0, 4, 0"
    })
    void tellsAJump(double cycles, double decibels, int jumps) {
        double[] deviation = new Random(11).doubles(16_000).map(u -> u - 0.5).toArray();
        // A phase that jumps between two values is one value of the deviation.
        deviation[AT] += cycles * RATE;
        double[] power = new double[deviation.length];
        Arrays.fill(power, 0, AT, 0.1);
        Arrays.fill(power, AT, power.length, 0.1 * Math.pow(10, decibels / 10));
        JumpWatch watch = new JumpWatch(RATE, 900);
        watch.accept(deviation, power, 0, deviation.length, false);
        assertThat(watch.count()).isEqualTo(jumps);
        // Within a cell, which is 1.3 ms here.
        watch.moments().forEach(seconds -> assertThat(seconds).isCloseTo(AT / RATE, within(0.0014)));
    }
}
