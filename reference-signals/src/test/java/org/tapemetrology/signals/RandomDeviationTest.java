/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.stat.descriptive.DescriptiveStatistics;
import org.apache.commons.math3.stat.descriptive.moment.StandardDeviation;
import org.junit.jupiter.api.Test;

class RandomDeviationTest {
    /** The fast path against the definition: the plain sum of the lines. */
    @Test
    void isTheSumOfItsLinesAnywhere() {
        for (RandomDeviation deviation : new RandomDeviation[] {
            RandomDeviation.flat(3, 0.1, 200, 0.001), RandomDeviation.falling(4, 0.5, 4999, 0.001, 300)
        }) {
            for (int i = 0; i < 500; i++) {
                long whole = i * 17L;
                double fraction = i / 500.0 + 1e-4;
                double sum = 0;
                double integral = 0;
                for (SinusoidalDeviation line : deviation.lines()) {
                    sum += line.at(whole, fraction);
                    integral += line.integralTo(whole, fraction);
                }
                // Rounding of 300 terms of 1e-4 each, and a truncation of the series below it.
                assertThat(deviation.at(whole, fraction)).isCloseTo(sum, within(1e-14));
                // The integral reaches 1e-4 s; 1e-15 s of it is 2e-11 rad of a 3150 Hz tone.
                assertThat(deviation.integralTo(whole, fraction)).isCloseTo(integral, within(1e-15));
            }
        }
    }

    /** What is kept from one moment to the next changes nothing, whichever way they are taken. */
    @Test
    void isTheSameWhateverWasAskedBefore() {
        RandomDeviation used = RandomDeviation.falling(5, 0.2, 100, 0.001, 64);
        for (int i = 0; i < 400; i++) {
            double fraction = i % 3 == 2 ? 1 - i / 400.0 - 1e-3 : i / 400.0;
            long whole = i % 7 == 6 ? 4 : 5;
            RandomDeviation fresh = RandomDeviation.falling(5, 0.2, 100, 0.001, 64);
            assertThat(used.integralTo(whole, fraction)).isEqualTo(fresh.integralTo(whole, fraction));
        }
    }

    /**
     * RMS of a sum of sines over a span T differs from its limit by the beats of lines that are closer than 1/T. Lines of
     * mean distance 0.78 Hz over 400 s: some 300 beats of phase unknown, 1 % is over ten times their standard deviation.
     */
    @Test
    void hasItsRmsValueAndIsNearlyGaussian() {
        RandomDeviation deviation = RandomDeviation.flat(11, 0.5, 200, 0.002);
        var statistics = new DescriptiveStatistics();
        for (int i = 0; i < 100_000; i++) {
            statistics.addValue(deviation.at(i / 250.0));
        }

        assertThat(statistics.getQuadraticMean()).isCloseTo(deviation.rms(), within(0.01 * deviation.rms()));
        // A sum of K sines has the excess kurtosis -1.5/K, here -0.006; the estimate scatters by about 0.03.
        assertThat(statistics.getKurtosis()).isCloseTo(0, within(0.1));
    }

    /** Equal power per octave means equal numbers of equal lines per octave; equal power per hertz per hertz. */
    @Test
    void spectrumIsAsStated() {
        RandomDeviation falling = RandomDeviation.falling(1, 1, 16, 0.001, 400);
        RandomDeviation flat = RandomDeviation.flat(1, 10, 50, 0.001, 400);

        for (double octave = 1; octave < 16; octave *= 2) {
            // 100 cells per octave, one line each: exact but for the line at the border.
            assertThat(powerBetween(falling, octave, 2 * octave)).isCloseTo(0.25e-6, within(0.003e-6));
        }
        for (double from = 10; from < 50; from += 10) {
            assertThat(powerBetween(flat, from, from + 10)).isCloseTo(0.25e-6, within(0.003e-6));
        }
    }

    @Test
    void sameSeedGivesTheSameAndAnotherAnother() {
        double[] first = values(RandomDeviation.flat(7, 1, 100, 0.001));

        assertThat(values(RandomDeviation.flat(7, 1, 100, 0.001))).isEqualTo(first);
        double[] difference = values(RandomDeviation.flat(8, 1, 100, 0.001));
        for (int i = 0; i < first.length; i++) {
            difference[i] -= first[i];
        }
        // Independent: the difference has sqrt(2) of the deviation; equal ones would give 0.
        assertThat(new StandardDeviation().evaluate(difference)).isGreaterThan(0.001);
    }

    @Test
    void badBandIsRefused() {
        assertThatThrownBy(() -> RandomDeviation.flat(1, 100, 50, 0.001))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("lower limit of the band is 100.0 Hz, allowed: below the upper one, 50.0 Hz");
    }

    private static double[] values(RandomDeviation deviation) {
        double[] values = new double[5000];
        for (int i = 0; i < values.length; i++) {
            values[i] = deviation.at(i / 500.0);
        }
        return values;
    }

    private static double powerBetween(RandomDeviation deviation, double fromHz, double toHz) {
        double power = 0;
        for (SinusoidalDeviation line : deviation.lines()) {
            if (line.rateHz() >= fromHz && line.rateHz() < toHz) {
                power += line.peak() * line.peak() / 2;
            }
        }
        return power;
    }
}
