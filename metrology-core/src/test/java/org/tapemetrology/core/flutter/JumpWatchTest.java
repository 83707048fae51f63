/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
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

    private static double[] noise(int length) {
        return new Random(5).doubles(length).map(u -> u - 0.5).toArray();
    }

    private static double[] steady(int length) {
        double[] power = new double[length];
        Arrays.fill(power, 0.1);
        return power;
    }

    private static JumpWatch watched(double[] deviation) {
        JumpWatch watch = new JumpWatch(RATE, 900);
        watch.accept(deviation, steady(deviation.length), 0, deviation.length, false);
        return watch;
    }

    /** Wherever it stands in the memory of the watch, which is moved back now and then; cells have five values. */
    @Test
    void tellsAJumpWherever() {
        for (int at = 1002; at < 2000; at += 5) {
            double[] deviation = noise(2200);
            deviation[at] += 0.05 * RATE;
            JumpWatch watch = watched(deviation);
            assertThat(watch.count()).as("at %d", at).isEqualTo(1);
            assertThat(watch.moments().get(0)).isCloseTo(at / RATE, within(0.0014));
        }
    }

    /** A hundred cells are seen before any is judged, and four cells stand on either side of it. */
    @ParameterizedTest
    @CsvSource({"502, 0", "532, 1", "2177, 1", "2182, 0"})
    void tellsNoneAtTheEnds(int at, int jumps) {
        double[] deviation = noise(2200);
        deviation[at] += 0.05 * RATE;
        assertThat(watched(deviation).count()).isEqualTo(jumps);
    }

    /** Two that are nearer than nine cells count as one; the first twenty are listed; a large one does not hide a small one. */
    @Test
    void tellsEachJump() {
        double[] near = noise(4000);
        near[2002] += 0.05 * RATE;
        near[2002 + 5 * 8] += 0.05 * RATE;
        assertThat(watched(near).count()).isEqualTo(1);
        double[] far = noise(4000);
        far[2002] += 0.05 * RATE;
        far[2002 + 5 * 11] += 0.05 * RATE;
        assertThat(watched(far).count()).isEqualTo(2);
        double[] many = noise(12_000);
        for (int i = 0; i < 23; i++) {
            many[1002 + 400 * i] += 0.05 * RATE;
        }
        JumpWatch watch = watched(many);
        assertThat(watch.count()).isEqualTo(23);
        assertThat(watch.moments()).hasSize(20);
        assertThat(watch.moments().get(19)).isCloseTo((1002 + 400 * 19) / RATE, within(0.0014));
        double[] hidden = noise(4000);
        hidden[2002] += 0.4 * RATE;
        hidden[2202] += 0.01 * RATE;
        assertThat(watched(hidden).count()).isEqualTo(2);
    }

    /** Time goes on in a gap, and what stands on both sides of it is not compared. */
    @Test
    void timeGoesOnInAGap() {
        double[] deviation = noise(8000);
        deviation[6002] += 0.05 * RATE;
        JumpWatch watch = new JumpWatch(RATE, 900);
        double[] power = steady(8000);
        watch.accept(deviation, power, 0, 3003, false);
        watch.accept(deviation, power, 3003, 1997, true);
        watch.accept(deviation, power, 5000, 3000, false);
        assertThat(watch.count()).isEqualTo(1);
        assertThat(watch.moments().get(0)).isCloseTo(6002 / RATE, within(0.0014));
        deviation[5012] += 0.1 * RATE; // the third cell behind the gap
        JumpWatch cut = new JumpWatch(RATE, 900);
        cut.accept(deviation, power, 0, 3000, false);
        cut.accept(deviation, power, 3000, 2000, true);
        cut.accept(deviation, power, 5000, 500, false);
        assertThat(cut.count()).isZero();
    }

    /** A step of the speed makes as much of either sign, a ramp nothing. */
    @Test
    void aStepOfTheSpeedIsNoJump() {
        double[] step = noise(4000);
        double[] hump = noise(4000);
        for (int i = 2002; i < 4000; i++) {
            step[i] += 100;
            hump[i] += i < 2022 ? 100 : 0; // for four cells
        }
        assertThat(watched(step).count()).isZero();
        assertThat(watched(hump).count()).isZero();
    }

    /** The running RMS value is that of the last minute: where noise has become 30 times as strong a jump no longer stands out. */
    @Test
    void noiseHidesAJump() {
        double[] deviation = noise(40_000);
        for (int i = 0; i < 20_000; i++) {
            deviation[i] *= 30;
        }
        double[] loud = deviation.clone();
        loud[10_002] += 0.003 * RATE;
        assertThat(watched(loud).count()).isZero();
        double[] quiet = noise(40_000);
        quiet[10_002] += 0.003 * RATE;
        assertThat(watched(quiet).count()).isEqualTo(1);
    }

    /** Cells are a millisecond long at least, and 1.2 periods of the fastest rate that is passed. */
    @ParameterizedTest
    @CsvSource({"2000, 8", "900, 8", "300, 16"})
    void cellsAreAsLongAsTheDemodulatorAllows(double flatDeviationHz, int cell) {
        double rate = 6000;
        int length = 300 * cell;
        double[] deviation = noise(length);
        int at = 200 * cell + cell / 2;
        deviation[at] += 0.05 * rate;
        JumpWatch watch = new JumpWatch(rate, flatDeviationHz);
        watch.accept(deviation, steady(length), 0, length, false);
        assertThat(watch.count()).isEqualTo(1);
        assertThat(watch.moments().get(0)).isCloseTo(at / rate, within(cell / rate));
    }
}
