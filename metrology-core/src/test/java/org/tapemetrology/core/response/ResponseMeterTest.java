/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/** Against the exact magnitude of a known filter through which the sent signals went. */
class ResponseMeterTest {
    private static final double[] TONES = {
        315, 31.5, 40, 63, 125, 250, 500, 1000, 2000, 4000, 6300, 8000, 10000, 12500, 14000, 16000
    };
    private static final double DWELL = 2;

    /** 2.3 s of nothing, then tones of 0.25 rms each, with a gap after each. */
    private static DoubleUnaryOperator steps(double gap) {
        return t -> {
            int step = (int) Math.floor((t - 2.3) / (DWELL + gap));
            double within = t - 2.3 - step * (DWELL + gap);
            return t < 2.3 || step >= TONES.length || within > DWELL
                    ? 0
                    : 0.25 * Math.sqrt(2) * Math.sin(2 * Math.PI * TONES[step] * t);
        };
    }

    private static SteppedToneResponse steppedMeter() {
        return new SteppedToneResponse(Sent.RATE, 1, 315, ToneStep.each(DWELL, TONES));
    }

    private static void assertFollowsMachine(
            List<Reading> readings, double ratio, double referenceHz, double tolerance) {
        for (Reading reading : readings) {
            double frequencyHz = reading.atFrequencyHz().orElseThrow();
            assertThat(reading.status()).as("%s Hz", frequencyHz).isEqualTo(Status.VALID);
            double wanted = Sent.machineDb(ratio * frequencyHz, ratio * referenceHz);
            assertThat(reading.value().orElseThrow()).as("%s Hz", frequencyHz).isCloseTo(wanted, within(tolerance));
        }
    }

    /** 0.05 dB: the accuracy that a response to be adjusted to 0.5 dB needs, at 40 dB signal to noise. */
    @ParameterizedTest
    @CsvSource({"1, 0, 0.5", "1.05, 0.003, 0.5", "0.95, 0.003, 0", "1.02, 0.003, 0"})
    void steppedTonesFollowTheMachine(double ratio, double flutter, double gap) {
        double[] replay =
                Sent.replay(4 + TONES.length * (DWELL + gap) / ratio, steps(gap), Sent.transport(ratio, flutter));
        Sent.addNoise(replay, 0.0025, 1);
        SteppedToneResponse meter = steppedMeter();
        meter.accept(replay, 0, replay.length);
        assertFollowsMachine(meter.readings(), ratio, 315, 0.05);
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo(ratio, within(0.002)); // a part of a line of 5.9 Hz
    }

    @Test
    void aLevelSectionBeforeTheStepsIsNotTakenForThem() {
        DoubleUnaryOperator tape =
                t -> t < 20 ? 0.9 * Math.sin(2 * Math.PI * 315 * t) : steps(0.5).applyAsDouble(t - 20);
        double[] replay = Sent.replay(24 + TONES.length * 2.5, tape, Sent.transport(1, 0));
        Sent.addNoise(replay, 0.0025, 2);
        SteppedToneResponse meter = steppedMeter();
        meter.accept(replay, 0, replay.length);
        assertFollowsMachine(meter.readings(), 1, 315, 0.05);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 480, 4096})
    void blocksMakeNoDifference(int block) {
        double[] replay = Sent.replay(12, steps(0), Sent.transport(1, 0.003));
        SteppedToneResponse whole = steppedMeter();
        whole.accept(replay, 0, replay.length);
        SteppedToneResponse parts = steppedMeter();
        for (int i = 0; i < replay.length; i += block) {
            parts.accept(replay, i, Math.min(block, replay.length - i));
        }
        assertThat(parts.readings()).isEqualTo(whole.readings());
        assertThat(whole.readings()).extracting(Reading::status).contains(Status.VALID, Status.NO_CARRIER);
    }

    private static DoubleUnaryOperator multitone(double[] sorted) {
        double[] phases = new double[sorted.length];
        for (int i = 0; i < phases.length; i++) {
            phases[i] = Math.PI * i * i / phases.length; // M. R. Schroeder's phases: a low crest factor
        }
        return t -> {
            double sum = 0;
            for (int i = 0; i < sorted.length; i++) {
                sum += Math.sin(2 * Math.PI * sorted[i] * t + phases[i]);
            }
            return 0.08 * sum;
        };
    }

    @ParameterizedTest
    @CsvSource({"1, 0", "1.05, 0.003", "0.95, 0.003", "1.013, 0.003"})
    void aMultitoneFollowsTheMachine(double ratio, double flutter) {
        double[] sorted = TONES.clone();
        Arrays.sort(sorted);
        double[] replay = Sent.replay(20, multitone(sorted), Sent.transport(ratio, flutter));
        Sent.addNoise(replay, 0.0023, 3); // 40 dB below the 0.226 of all tones together
        MultitoneResponse meter = new MultitoneResponse(
                Sent.RATE, 1, 1000, Arrays.stream(sorted).boxed().toList(), Collections.nCopies(sorted.length, 0.0));
        meter.accept(replay, 0, replay.length);
        assertFollowsMachine(meter.readings(), ratio, 1000, 0.05);
        // A slope of 6 dB an octave moves a centre by twice the variance of the flutter, 1e-5; noise by some 1e-7.
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo(ratio, within(2e-5));
    }

    /**
     * Clean tones whose sum is in closed form, of no flutter and no noise. A Hann window's lines are the same on both sides of a
     * tone, so that its centre is right but for what lies beyond the lines that count: with three either side 1.5e-4 of a line.
     * The tolerance is a hundredth of a line, 0.0075 Hz at most, at the highest tone, from 2.5 kHz up.
     */
    @ParameterizedTest
    @CsvSource({
        "44100, 0.95",
        "44100, 1.0004",
        "44100, 1.0317",
        "48000, 0.9973",
        "48000, 1",
        "48000, 1.05",
        "96000, 0.9631",
        "96000, 1.0125"
    })
    void theSpeedOfACleanMultitoneIsRight(double rate, double ratio) {
        for (double[] hertz : new double[][] {
            {63, 125, 250, 500, 1000, 2000, 4000, 8000},
            {315, 1000, 3150, 10_000},
            {100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500}
        }) {
            DoubleUnaryOperator sent = multitone(hertz);
            double[] samples = new double[(int) (3.1 * rate)];
            for (int i = 0; i < samples.length; i++) {
                samples[i] = sent.applyAsDouble(ratio * i / rate) / 2;
            }
            MultitoneResponse meter = new MultitoneResponse(
                    rate, 1, 1000, Arrays.stream(hertz).boxed().toList(), Collections.nCopies(hertz.length, 0.0));
            meter.accept(samples, 0, samples.length);
            assertThat(meter.speedRatio().orElseThrow()).isCloseTo(ratio, within(3e-6));
        }
    }

    /** Of 29 readings at 95 % each, 27.6 are expected inside, with a standard deviation of 1.2: the bound is three below. */
    @Test
    void noiseFollowsTheMachineWithinItsStatedConfidence() {
        double[] replay = new double[(int) (60 * Sent.RATE)];
        Random random = new Random(4);
        for (int i = 0; i < replay.length; i++) {
            replay[i] = 0.1 * random.nextGaussian();
        }
        Sent.machine().process(replay, 0, replay, 0, replay.length);
        NoiseResponse meter = new NoiseResponse(Sent.RATE, 2, 1000, NoiseResponse.Spectrum.WHITE);
        meter.accept(replay, 0, replay.length);
        int inside = 0;
        int counted = 0;
        for (Reading reading : meter.readings()) {
            assertThat(reading.channel()).hasValue(2);
            double frequencyHz = reading.atFrequencyHz().orElseThrow();
            if (frequencyHz == 1000) {
                assertThat(reading.value()).hasValue(0);
                continue;
            }
            double half = reading.uncertainty().orElseThrow().halfWidth();
            double error = reading.value().orElseThrow() - bandDb(frequencyHz);
            counted++;
            if (Math.abs(error) < half) {
                inside++;
            }
            assertThat(Math.abs(error))
                    .as("%s Hz", frequencyHz)
                    .isLessThan(2.2 * half); // over four standard deviations
        }
        assertThat(counted).isEqualTo(29);
        assertThat(inside).isGreaterThanOrEqualTo(24);
    }

    /** Mean power of the machine over the third octave, re that at 1 kHz. */
    private static double bandDb(double nominalHz) {
        return 10 * Math.log10(meanPower(nominalHz) / meanPower(1000));
    }

    private static double meanPower(double nominalHz) {
        double exact = 1000 * Math.pow(10, Math.round(10 * Math.log10(nominalHz / 1000)) / 10.0);
        double sum = 0;
        for (int i = 0; i < 100; i++) {
            double f = exact * (Math.pow(10, -0.05) + (Math.pow(10, 0.05) - Math.pow(10, -0.05)) * (i + 0.5) / 100);
            sum += Math.pow(Sent.machine().magnitude(f), 2);
        }
        return sum / 100;
    }

    @Test
    void pinkAndWhiteDifferByTheWidthOfTheBands() {
        double[] noise = new double[(int) (10 * Sent.RATE)];
        Sent.addNoise(noise, 0.1, 5);
        NoiseResponse white = new NoiseResponse(Sent.RATE, 1, 1000, NoiseResponse.Spectrum.WHITE);
        NoiseResponse pink = new NoiseResponse(Sent.RATE, 1, 1000, NoiseResponse.Spectrum.PINK);
        white.accept(noise, 0, noise.length);
        pink.accept(noise, 0, noise.length);
        for (int i = 0; i < 30; i++) {
            assertThat(pink.readings().get(i).value().orElseThrow()
                            - white.readings().get(i).value().orElseThrow())
                    .isCloseTo(i - 16, within(1e-9)); // 1 dB for each band of a tenth of a decade
        }
    }

    @Test
    void badSamplesOverloadAndSilenceHaveTheirStatus() {
        SteppedToneResponse meter = steppedMeter();
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INSUFFICIENT_DATA);
        meter.accept(new double[48000], 0, 48000);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.NO_CARRIER);
        meter.accept(new double[] {Double.NaN}, 0, 1);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INVALID_INPUT);
        meter.reset();
        double[] clipped = Sent.replay(5, steps(0), Sent.transport(1, 0));
        for (int i = 0; i < clipped.length; i++) {
            clipped[i] = Math.max(-1, Math.min(1, 5 * clipped[i]));
        }
        meter.accept(clipped, 0, clipped.length);
        assertThat(meter.readings().get(0).status()).isEqualTo(Status.OVERLOAD);
    }

    @Test
    void badSettingsAreNamed() {
        assertThatThrownBy(() -> new SteppedToneResponse(48000, 1, 400, ToneStep.each(2, 315, 1000)))
                .hasMessageContaining("referenceHz 400.0");
        assertThatThrownBy(() -> new SteppedToneResponse(48000, 0, 315, ToneStep.each(2, 315)))
                .hasMessageContaining("channel 0");
        assertThatThrownBy(() -> new SteppedToneResponse(48000, 1, 315, ToneStep.each(0.5, 315)))
                .hasMessageContaining("dwellSeconds 0.5");
        assertThatThrownBy(() -> new SteppedToneResponse(48000, 1, 315, ToneStep.each(2, 315, 320)))
                .hasMessageContaining("320.0");
        assertThatThrownBy(() -> new NoiseResponse(1, 1, 1000, NoiseResponse.Spectrum.PINK))
                .hasMessageContaining("sampleRateHz 1.0");
    }
}
