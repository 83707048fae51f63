/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SampledSignalTest {
    private static final SampledSignal RECORDING = SampledSignal.of(
                    FmTone.builder(3150)
                            .amplitude(0.5)
                            .speedError(-0.004)
                            .drift(1e-5)
                            .sine(4, 0.001)
                            .pulses(0.002, 0.03, 1, 0.1)
                            .deviation(RandomDeviation.falling(1, 0.5, 200, 0.0005))
                            .harmonic(3, 0.01)
                            .build()
                            .plus(new WhiteNoise(2, 0.001, 44_100))
                            .plus(new PinkNoise(3, 0.001, 44_100))
                            .plus(Hum.pure(50, 0.002))
                            .withDropouts(new Dropout(0.2, 0.05, 12, 0.005)),
                    44_100)
            .quantised(Quantiser.dithered(16, 4));

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 480, 4096})
    void anyDivisionIntoBlocksGivesTheSameBits(int block) {
        int count = 20_000;
        double[] whole = RECORDING.samples(0, count);
        double[] parts = new double[count];

        for (int start = 0; start < count; start += block) {
            RECORDING.fill(start, parts, start, Math.min(block, count - start));
        }

        assertThat(parts).isEqualTo(whole);
    }

    @Test
    void anyPartCanBeMadeOnItsOwn() {
        long hour = 3600L * 44_100;
        double[] whole = RECORDING.samples(hour, 5000);

        assertThat(RECORDING.samples(hour + 1234, 100)).isEqualTo(Arrays.copyOfRange(whole, 1234, 1334));
        assertThat(RECORDING.sample(hour + 4999)).isEqualTo(whole[4999]);
        float[] floats = new float[3];
        RECORDING.fill(hour, floats, 1, 2);
        assertThat(floats).containsExactly(0, (float) whole[0], (float) whole[1]);
    }

    /** A rate that is no whole number: the moments are index / rate all the same. */
    @Test
    void sampleRateNeedNotBeWhole() {
        SampledSignal ramp = SampledSignal.of(seconds -> seconds, 44_100.7);

        for (long index : new long[] {0, 1, 44_100, 44_101, 1_000_003}) {
            // One unit in the last place of the moment, at most 2^-48 here.
            assertThat(ramp.sample(index)).isCloseTo(index / 44_100.7, within(0x1p-48));
        }
    }

    @Test
    void secondsGiveRateTimesDurationSamples() {
        assertThat(SampledSignal.of(Constant.SILENCE, 44_100).seconds(0.1)).hasSize(4410);
    }

    /** Rounding of an ideal converter: error uniform within half a step, RMS step / sqrt(12). */
    @Test
    void quantisationErrorWithoutDitherIsAtMostHalfAStep() {
        Quantiser quantiser = Quantiser.plain(16);
        double step = 1.0 / 32768;
        double sum = 0;
        int count = 100_000;
        for (int i = 0; i < count; i++) {
            double value = 0.9 * Math.sin(i * 0.7310585786);
            double error = quantiser.quantise(value, i) - value;
            assertThat(Math.abs(error)).isLessThanOrEqualTo(step / 2);
            sum += error * error;
        }
        // The standard error of a mean square of a uniform error is 0.9 / sqrt(n), here 0.3 %; of the root half of it.
        assertThat(Math.sqrt(sum / count)).isCloseTo(step / Math.sqrt(12), within(0.01 * step / Math.sqrt(12)));
    }

    /**
     * With dither of triangular density the mean error vanishes for every value and the error's RMS is half a step
     * whatever the value (theory of non-subtractive dither: step^2/12 + 2 step^2/12).
     */
    @Test
    void ditherMakesTheErrorIndependentOfTheValue() {
        Quantiser quantiser = Quantiser.dithered(16, 99);
        double step = 1.0 / 32768;
        int count = 200_000;
        for (double share : new double[] {0, 0.1, 0.25, 0.5, 0.9}) {
            double mean = 0;
            double square = 0;
            for (int i = 0; i < count; i++) {
                double error = quantiser.quantise((100 + share) * step, i) - (100 + share) * step;
                mean += error / count;
                square += error * error / count;
            }
            // Five standard errors: 5 * 0.5 / sqrt(n) steps of the mean; the square scatters by at most 1.2 of itself.
            assertThat(mean / step).isCloseTo(0, within(0.0056));
            assertThat(Math.sqrt(square) / step).isCloseTo(0.5, within(0.0034));
        }
    }

    @Test
    void codesSaturateAndSaySo() {
        Quantiser quantiser = Quantiser.plain(16);

        assertThat(quantiser.code(1, 0)).isEqualTo(32767);
        assertThat(quantiser.saturates(1, 0)).isTrue();
        assertThat(quantiser.code(-1, 0)).isEqualTo(-32768);
        assertThat(quantiser.saturates(-1, 0)).isFalse();
        assertThat(Quantiser.plain(24).quantise(0.25, 0)).isEqualTo(0.25);
        assertThatThrownBy(() -> quantiser.code(Double.NaN, 0)).hasMessageContaining("NaN");
        assertThatThrownBy(() -> Quantiser.plain(1)).hasMessageContaining("2 to 32");
    }
}
