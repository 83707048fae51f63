/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.signals.PinkNoise;
import org.tapemetrology.signals.SampledSignal;

/**
 * What a poor tape does to a response: its level jumps by a standard deviation of 1 dB, correlated over 0.5 s and common to
 * all frequencies.
 */
class LevelWanderTest {
    private static final double[] TONES = {1000, 63, 125, 250, 500, 2000, 4000, 8000};

    /** Errors of flat recordings: how large, and how many within what was stated. */
    private static final class Errors {
        private int count;
        private int stated;
        private int inside;
        private double squares;

        void add(List<Reading> readings, double referenceHz) {
            for (Reading reading : readings) {
                if (reading.atFrequencyHz().orElseThrow() != referenceHz) {
                    double error = reading.value().orElseThrow();
                    count++;
                    squares += error * error;
                    if (reading.uncertainty().isPresent()) {
                        stated++;
                        inside += Math.abs(error) <= reading.uncertainty().get().halfWidth() ? 1 : 0;
                    }
                }
            }
        }

        double rmsDb() {
            return Math.sqrt(squares / count);
        }

        double held() {
            return inside / (double) stated;
        }
    }

    /**
     * The error has the standard deviation of the difference of two means of such a process over the T seconds that are
     * measured of a tone: {@code 2 (2 tau/T) (1 - (tau/T) (1 - exp(-T/tau)))} dB squared, 0.9 dB at 2 s. Of 12 recordings
     * whose readings share a reference, the root mean square scatters by some 15 %: the bounds are three times that. A mean
     * over two correlation times does not show all of its scatter: of the intervals of 95 %, 86 % hold the truth at 2 s, 90
     * to 92 % at 5 and 10 s; 84 readings scatter by 4 to 5 %, and the bounds are two and a half times that.
     */
    @ParameterizedTest
    @CsvSource({"2, 0.75", "5, 0.8", "10, 0.8"})
    void steppedTonesStateWhatTheirLevelsScatterBy(double dwell, double leastHeld) {
        Errors errors = new Errors();
        for (int seed = 0; seed < 12; seed++) {
            double[] samples = new double[(int) (48_000 * (dwell * TONES.length + 1))];
            for (int i = 0; i < samples.length; i++) {
                int step = (int) (i / 48_000.0 / dwell);
                samples[i] = step < TONES.length ? 0.2 * Math.sin(2 * Math.PI * TONES[step] * i / 48_000) : 0;
            }
            Sent.wander(samples, 48_000, 1, 0.5, 700 + seed);
            SteppedToneResponse meter = new SteppedToneResponse(48_000, 1, 1000, ToneStep.each(dwell, TONES));
            meter.accept(samples, 0, samples.length);
            errors.add(meter.readings(), 1000);
        }
        assertThat(errors.stated).isEqualTo(errors.count);
        double times = (dwell - 0.4) / 0.5; // without two frames at either end
        double expected = Math.sqrt(4 / times * (1 - (1 - Math.exp(-times)) / times));
        assertThat(errors.rmsDb()).isBetween(0.55 * expected, 1.45 * expected);
        assertThat(errors.held()).isGreaterThan(leastHeld);
    }

    /** All tones jump together, and nothing of it is left in their ratios but what leaks into the noise beside them. */
    @Test
    void aMultitoneDoesNotSeeWhatAllTonesShare() {
        double[] sorted = TONES.clone();
        Arrays.sort(sorted);
        double[] samples = new double[20 * 48_000];
        for (int i = 0; i < samples.length; i++) {
            for (int k = 0; k < sorted.length; k++) {
                samples[i] += 0.08 * Math.sin(2 * Math.PI * sorted[k] * i / 48_000 + Math.PI * k * k / sorted.length);
            }
        }
        Sent.wander(samples, 48_000, 1, 0.5, 800);
        MultitoneResponse meter = new MultitoneResponse(
                48_000, 1, 1000, Arrays.stream(sorted).boxed().toList(), Collections.nCopies(sorted.length, 0.0));
        meter.accept(samples, 0, samples.length);
        Errors errors = new Errors();
        errors.add(meter.readings(), 1000);
        assertThat(errors.rmsDb()).isLessThan(0.002);
    }

    /**
     * With noise 30 dB below the tones the ratios scatter by its random phase. Eight parts or fewer tell their scatter, whose
     * frames overlap by half: of the intervals of 95 % some 93 % are expected to hold, and 210 of them, which share a
     * reference in sevens, scatter by 3 %. The bound is three times that below.
     */
    @Test
    void aMultitoneStatesWhatItsRatiosScatterBy() {
        double[] sorted = TONES.clone();
        Arrays.sort(sorted);
        Errors errors = new Errors();
        for (int seed = 0; seed < 30; seed++) {
            double[] samples = new double[10 * 48_000];
            for (int i = 0; i < samples.length; i++) {
                for (int k = 0; k < sorted.length; k++) {
                    samples[i] +=
                            0.08 * Math.sin(2 * Math.PI * sorted[k] * i / 48_000 + Math.PI * k * k / sorted.length);
                }
            }
            Sent.wander(samples, 48_000, 1, 0.5, 1000 + seed);
            Sent.addNoise(samples, 0.02, 1100 + seed);
            MultitoneResponse meter = new MultitoneResponse(
                    48_000, 1, 1000, Arrays.stream(sorted).boxed().toList(), Collections.nCopies(sorted.length, 0.0));
            meter.accept(samples, 0, samples.length);
            errors.add(meter.readings(), 1000);
        }
        assertThat(errors.stated).isEqualTo(errors.count);
        assertThat(errors.held()).isGreaterThan(0.84);
        assertThat(errors.rmsDb()).isLessThan(0.05);
    }

    /**
     * Pink noise from the generator, whose spectrum ripples by about 1 dB about the straight line from a thousandth to an
     * eighth of the rate (stated there). A jumping level weights the moments of the noise differently, alike in all bands:
     * it moves a band by less than what is stated for the randomness of the noise.
     */
    @Test
    void pinkNoiseIsFlatAndStaysSoWhenItsLevelJumps() {
        double[] samples =
                SampledSignal.of(new PinkNoise(9, 0.1, 48_000), 48_000).seconds(60);
        NoiseResponse steady = new NoiseResponse(48_000, 1, 1000, NoiseResponse.Spectrum.PINK);
        steady.accept(samples, 0, samples.length);
        Sent.wander(samples, 48_000, 1, 0.5, 900);
        NoiseResponse jumping = new NoiseResponse(48_000, 1, 1000, NoiseResponse.Spectrum.PINK);
        jumping.accept(samples, 0, samples.length);
        int counted = 0;
        for (int i = 0; i < steady.readings().size(); i++) {
            Reading before = steady.readings().get(i);
            double f = before.atFrequencyHz().orElseThrow();
            if (f >= 63 && f <= 5000 && f != 1000) {
                double half = before.uncertainty().orElseThrow().halfWidth();
                double moved = jumping.readings().get(i).value().orElseThrow()
                        - before.value().orElseThrow();
                assertThat(before.value().orElseThrow()).as("%s Hz", f).isCloseTo(0, within(1 + half));
                assertThat(Math.abs(moved)).as("%s Hz", f).isLessThan(half);
                counted++;
            }
        }
        assertThat(counted).isEqualTo(19);
    }
}
