/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Powers drawn with an exponential distribution about a density that is known, and the rate of false alarms by its formula. */
class NoiseFloorTest {
    private static final double SPACING = 0.02;
    private static final int POINTS = 10_000;

    private static double[] drawn(DoubleUnaryOperator density, long seed) {
        Random random = new Random(seed);
        double[] powers = new double[POINTS + 1];
        for (int i = 1; i <= POINTS; i++) {
            powers[i] = -density.applyAsDouble(i * SPACING) * Math.log(1 - random.nextDouble());
        }
        return powers;
    }

    private static NoiseFloor floor(double[] powers) {
        return new NoiseFloor(powers, SPACING, 1, 5, POINTS, 1e-30);
    }

    /** White, and falling with the frequency and its square: a median of 600 widths varies by 6 %, of some 50 by 20 %. */
    @ParameterizedTest
    @ValueSource(doubles = {0, 1, 2})
    void theFloorIsTheDensity(double slope) {
        double[] hertz = {1, 3, 10, 30, 100, 190};
        double[] sums = new double[hertz.length];
        for (int seed = 0; seed < 20; seed++) {
            NoiseFloor floor = floor(drawn(f -> 7 / Math.pow(f, slope), seed));
            for (int i = 0; i < hertz.length; i++) {
                double ratio = floor.density(hertz[i]) / 7 * Math.pow(hertz[i], slope);
                assertThat(ratio).as("%s Hz", hertz[i]).isBetween(0.5, 2.0);
                sums[i] += ratio / 20;
            }
        }
        for (double mean : sums) {
            assertThat(mean).isCloseTo(1, within(0.12)); // of 20 each
        }
    }

    /** A median of n widths counts as 2 x 0.48 n degrees of freedom. */
    @Test
    void degreesOfFreedomAreThoseOfAMedian() {
        NoiseFloor floor = floor(drawn(f -> 1, 1));
        // From an octave below to an octave above 4 Hz are 300 widths of 0.02 Hz; at 50 Hz 300 to either side.
        assertThat(floor.degreesOfFreedom(4)).isCloseTo(2 * 0.4805 * 300, within(30.0));
        assertThat(floor.degreesOfFreedom(50)).isCloseTo(2 * 0.4805 * 600, within(2.0));
        assertThat(floor.degreesOfFreedom(0.11)).isCloseTo(2 * 0.4805 * 30, within(2.0)); // thirty in all at least
    }

    /** A line is no noise, though it is a thousand times as high: it moves the median of 600 by a third of a per cent. */
    @Test
    void linesHardlyMoveTheFloor() {
        double[] powers = drawn(f -> 1, 2);
        double before = floor(powers).density(50);
        powers[2500] = 1000;
        assertThat(floor(powers).density(50) / before).isBetween(1.0, 1.01);
        assertThat(floor(powers).level(50).density() / before).isBetween(0.99, 1.01);
    }

    /** On the low side of a step of 10 dB the floor is low, on the high side high; it reaches no farther than its window. */
    @Test
    void aStepPartsTheWindow() {
        double low = 0;
        double high = 0;
        for (int seed = 0; seed < 20; seed++) {
            NoiseFloor floor = floor(drawn(f -> f < 50 ? 1 : 10, seed));
            low += floor.density(47) / 20;
            high += floor.density(53) / 20;
            assertThat(floor.density(40)).isBetween(0.7, 1.4);
            assertThat(floor.density(60)).isBetween(7.0, 14.0);
        }
        assertThat(low).isCloseTo(1, within(0.15));
        assertThat(high).isCloseTo(10, within(1.5));
    }

    /** What rises from a hump that is narrower than the window is tested against the hump: by its neighbours' median. */
    @Test
    void neighboursGuardAgainstAHump() {
        double guarded = 0;
        for (int seed = 0; seed < 20; seed++) {
            NoiseFloor floor = floor(drawn(f -> Math.abs(f - 100) < 1 ? 30 : 1, seed));
            guarded += floor.level(100).density() / 20;
            assertThat(floor.density(100)).isLessThan(3);
            assertThat(floor.level(100).degreesOfFreedom()).isEqualTo(30);
            assertThat(floor.level(90).density()).isCloseTo(floor.density(90), within(1e-12));
        }
        // The higher of two medians of 48 widths each, which vary by a fifth.
        assertThat(guarded).isBetween(27.0, 45.0);
    }

    /** Nothing at all leaves the least density that was asked for. */
    @Test
    void silenceHasTheLeastDensity() {
        NoiseFloor floor = new NoiseFloor(new double[POINTS + 1], SPACING, 1, 5, POINTS, 1e-9);
        assertThat(floor.density(10)).isCloseTo(1e-9, within(1e-20));
    }

    /** Rice's formula by hand: sqrt(pi z/3) e^-z a width, spread over the band as f^-3/4. */
    @Test
    void falseAlarmsAreThoseOfRicesFormula() {
        FalseAlarm alarm = new FalseAlarm(0.1, 200, 60);
        double bands = 4 * (Math.pow(200, 0.25) - Math.pow(0.1, 0.25));
        double exact = Math.sqrt(Math.PI * 20 / 3) * Math.exp(-20) * 60 * bands * Math.pow(5, 0.75);
        assertThat(alarm.probability(5, 20, 1e12)).isCloseTo(exact, within(1e-6 * exact));
        double estimated = Math.sqrt(Math.PI * 20 / 3) * Math.pow(1 + 40 / 30.0, -15) * 60 * bands * Math.pow(5, 0.75);
        assertThat(alarm.probability(5, 20, 30)).isCloseTo(estimated, within(1e-9 * estimated));
        assertThat(alarm.probability(5, 1e-3, 30)).isEqualTo(1); // nothing is more than certain
    }
}
