/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.Interleaved;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.level.LevelScale;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.programme.Step.Side;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;

/** The meters of each kind of step at 8 kHz, and a short programme whose steps are cut out of a recording. */
class StepMetersTest {
    private static final int RATE = 8000;
    private static final StepOptions NONE = new StepOptions(OptionalDouble.empty(), LevelScale.NONE, Optional.empty());

    private static Step step(StepSignal signal, Side side) {
        return new Step("s", signal, side, 4);
    }

    private static StepMeters meters(
            StepSignal signal, Side side, StepOptions options, int channels, double reference) {
        Programme programme = new Programme(
                "p",
                List.of(step(signal, side), new Step("t", new StepSignal.Tone(1000, -20), Side.BOTH, 2)),
                reference > 0 ? OptionalDouble.of(reference) : OptionalDouble.empty());
        return new StepMeters(programme, 0, options, RATE, channels);
    }

    private static float[] samples(double seconds, DoubleUnaryOperator... channels) {
        return Interleaved.samples(RATE, seconds, channels);
    }

    private static DoubleUnaryOperator sine(double hz, double amplitude) {
        return t -> amplitude * Math.sin(2 * Math.PI * hz * t);
    }

    private static DoubleUnaryOperator noise(double rms, long seed) {
        Random random = new Random(seed);
        return t -> rms * random.nextGaussian();
    }

    private static Measurement read(StepMeters meters, double seconds, DoubleUnaryOperator... channels) {
        float[] samples = samples(seconds, channels);
        meters.accept(samples, 0, channels.length, samples.length / channels.length);
        return meters.reading(0);
    }

    private static double value(Measurement measured, Quantity quantity, int channel) {
        return measured.find(quantity, channel).orElseThrow().value().orElseThrow();
    }

    private static double[] frequencies(Measurement measured) {
        return measured.readings().stream()
                .filter(r -> r.quantity() == Quantity.RESPONSE)
                .mapToDouble(r -> r.atFrequencyHz().orElseThrow())
                .toArray();
    }

    @Test
    void aToneOnBothChannels() {
        StepOptions options = new StepOptions(
                OptionalDouble.empty(),
                new LevelScale(Optional.empty(), Optional.of(new DigitalLevel(-14))),
                Optional.of(new StepOptions.Tracks(TrackGeometry.CASSETTE_STEREO, 4.76, List.of(3000.0))));
        DoubleUnaryOperator first = t -> 0.3 * Math.sin(2000 * Math.PI * t) + 0.003 * Math.sin(6000 * Math.PI * t);
        Measurement measured = read(
                meters(new StepSignal.Tone(1000, -20), Side.BOTH, options, 2, 0),
                2.5,
                first,
                t -> 0.5 * first.applyAsDouble(t - 20e-6));
        assertThat(value(measured, Quantity.LEVEL, 1)).isCloseTo(20 * Math.log10(0.3), within(0.01));
        assertThat(value(measured, Quantity.LEVEL, 2)).isCloseTo(20 * Math.log10(0.15), within(0.01));
        assertThat(value(measured, Quantity.LEVEL_RE_REFERENCE, 1)).isCloseTo(20 * Math.log10(0.3) + 14, within(0.01));
        assertThat(value(measured, Quantity.DISTORTION_THIRD_HARMONIC, 2)).isCloseTo(1, within(0.02));
        Reading balance = measured.find(Quantity.CHANNEL_BALANCE).orElseThrow();
        assertThat(balance.value().orElseThrow()).isCloseTo(-6.0206, within(1e-3));
        assertThat(balance.typeA()).isPresent();
        assertThat(measured.find(Quantity.AZIMUTH_DELAY).orElseThrow().value().orElseThrow())
                .isCloseTo(20, within(0.1));
        assertThat(measured.find(Quantity.AZIMUTH_LEVEL_LOSS).orElseThrow().atFrequencyHz())
                .hasValue(3000);
        assertThat(measured.warnings()).extracting(Warning::code).contains(WarningCode.WHOLE_CYCLE);
        assertThat(measured.find(Quantity.SEPARATION)).isEmpty();
        // Of what the step is too short for there is nothing.
        assertThat(measured.readings()).noneMatch(r -> r.status() == Status.INSUFFICIENT_DATA);
    }

    @Test
    void aToneOnOneChannel() {
        Measurement measured = read(
                meters(new StepSignal.Tone(1000, -20), Side.RIGHT, NONE, 2, 0), 6, sine(1000, 0.002), sine(1000, 0.2));
        assertThat(measured.find(Quantity.LEVEL, 1)).isEmpty();
        assertThat(value(measured, Quantity.LEVEL, 2)).isCloseTo(-13.979, within(0.01));
        assertThat(value(measured, Quantity.SEPARATION, 1)).isCloseTo(40, within(0.1));
        assertThat(measured.find(Quantity.AZIMUTH_DELAY)).isEmpty();
        assertThat(measured.find(Quantity.CHANNEL_BALANCE)).isEmpty();
        // A recording of one channel has it on that, and tells nothing of the other.
        Measurement mono = read(meters(new StepSignal.Tone(1000, -20), Side.RIGHT, NONE, 1, 0), 1.5, sine(1000, 0.2));
        assertThat(value(mono, Quantity.LEVEL, 1)).isCloseTo(-13.979, within(0.01));
        assertThat(mono.find(Quantity.SEPARATION)).isEmpty();
        assertThat(mono.find(Quantity.AZIMUTH_DELAY)).isEmpty();
    }

    /** Above 0.43 of the rate no tone is measured, above a quarter of it no harmonics. */
    @Test
    void tonesThatAreHighForTheRate() {
        assertThat(read(meters(new StepSignal.Tone(3500, -20), Side.BOTH, NONE, 1, 0), 1.5, sine(3500, 0.2))
                        .readings())
                .isEmpty();
        Measurement high = read(meters(new StepSignal.Tone(2500, -20), Side.BOTH, NONE, 1, 0), 1.5, sine(2500, 0.2));
        assertThat(high.find(Quantity.LEVEL, 1).orElseThrow().isValid()).isTrue();
        assertThat(high.find(Quantity.DISTORTION_THD)).isEmpty();
        Measurement clipped = read(
                meters(new StepSignal.Tone(1000, -20), Side.BOTH, NONE, 1, 0),
                1.5,
                t -> Math.max(-1, Math.min(1, 1.5 * Math.sin(2000 * Math.PI * t))));
        assertThat(clipped.find(Quantity.DISTORTION_THD)).isEmpty();
        // What is silent has a status of its level, and no more.
        Measurement silent = read(meters(new StepSignal.Tone(1000, -20), Side.BOTH, NONE, 2, 0), 1.5, t -> 0, t -> 0);
        assertThat(silent.find(Quantity.LEVEL, 1).orElseThrow().isValid()).isFalse();
        assertThat(silent.find(Quantity.CHANNEL_BALANCE)).isEmpty();
    }

    @Test
    void aPauseIsNoise() {
        StepOptions options = new StepOptions(OptionalDouble.of(50), LevelScale.NONE, Optional.empty());
        Measurement measured =
                read(meters(new StepSignal.Pause(), Side.BOTH, options, 2, 0), 3, noise(1e-3, 1), noise(1e-3, 2));
        // 20 lg(sqrt(2) 1e-3) but for the edges of the band.
        for (int channel = 1; channel <= 2; channel++) {
            assertThat(value(measured, Quantity.NOISE_UNWEIGHTED, channel)).isCloseTo(-57, within(0.5));
        }
        assertThat(measured.find(Quantity.AZIMUTH_DELAY)).isEmpty();
        assertThat(measured.find(Quantity.LEVEL)).isEmpty();
    }

    /** Sweep, multitone and noise give the response at what of them the rate allows, re the frequency nearest to the wanted one. */
    @Test
    void broadStepsGiveTheirResponse() {
        double growth = Math.log(32) / 4;
        DoubleUnaryOperator swept = t -> 0.2
                * Math.sin(2 * Math.PI * 100 / growth * (Math.exp(growth * (t - 0.3)) - 1))
                * (t < 0.3 || t > 4.3 ? 0 : 1);
        Measurement sweep = read(meters(new StepSignal.Sweep(100, 3200, -20), Side.BOTH, NONE, 1, 320), 4.6, swept);
        assertThat(frequencies(sweep))
                .containsExactly(125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500);
        for (Reading reading : sweep.readings()) {
            assertThat(reading.value().orElseThrow()).isCloseTo(0, within(0.05));
        }
        assertThat(sweep.readings().stream().filter(r -> r.atFrequencyHz().orElseThrow() == 315))
                .allMatch(r -> r.value().orElseThrow() == 0 && r.typeA().isEmpty());

        List<Double> tones = List.of(300.0, 700.0, 2000.0);
        DoubleUnaryOperator many = t -> sine(300, 0.1).applyAsDouble(t)
                + sine(700, 0.2).applyAsDouble(t)
                + sine(2000, 0.1).applyAsDouble(t);
        Measurement multitone = read(meters(new StepSignal.Multitone(tones, -20), Side.BOTH, NONE, 1, 0), 4.3, many);
        assertThat(frequencies(multitone)).containsExactly(300, 700, 2000);
        double[] wanted = {-6.0206, 0, -6.0206};
        for (int i = 0; i < 3; i++) {
            assertThat(multitone.readings().get(i).value().orElseThrow()).isCloseTo(wanted[i], within(0.01));
        }

        Measurement white =
                read(meters(new StepSignal.Noise(false, 100, 3000, -20), Side.BOTH, NONE, 1, 800), 6, noise(0.1, 3));
        // A third octave within either end.
        assertThat(frequencies(white)).containsExactly(160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000);
        assertThat(white.readings().stream().filter(r -> r.atFrequencyHz().orElseThrow() == 800))
                .allMatch(r -> r.value().orElseThrow() == 0 && r.typeA().isEmpty());
        assertThat(white.readings()).allMatch(r -> Math.abs(r.value().orElseThrow()) < 2);
        // A sweep that is too fast to be measured has no response, and no error.
        Programme fast = new Programme(
                "p",
                List.of(new Step("s", new StepSignal.Sweep(100, 3200, -20), Side.BOTH, 1)),
                OptionalDouble.empty());
        assertThat(read(new StepMeters(fast, 0, NONE, RATE, 1), 1, swept).readings())
                .isEmpty();
    }

    /** A sweep beyond 0.47 of the rate is measured as far as it goes: of 100 Hz to 12.8 kHz in 7 s that is 5.24 octaves, 5.24 s. */
    @Test
    void aSweepIsMeasuredAsFarAsTheRateGoes() {
        Programme programme = new Programme(
                "p",
                List.of(new Step("s", new StepSignal.Sweep(100, 12_800, -20), Side.BOTH, 7)),
                OptionalDouble.empty());
        double growth = Math.log(2);
        DoubleUnaryOperator swept =
                t -> 0.2 * Math.sin(2 * Math.PI * 100 / growth * (Math.exp(growth * t) - 1)) * (t > 5.24 ? 0 : 1);
        Measurement measured = read(new StepMeters(programme, 0, NONE, RATE, 1), 7, swept);
        assertThat(frequencies(measured)).startsWith(125).endsWith(3150);
        assertThat(measured.readings().stream()
                        .filter(r -> r.atFrequencyHz().orElseThrow() <= 2500)
                        .filter(r -> r.atFrequencyHz().orElseThrow() >= 160))
                .allMatch(r -> Math.abs(r.value().orElseThrow()) < 0.05);
    }

    /** Times are those of a recording in which the step begins at a moment, and blocks make no difference. */
    @Test
    void timesAreOfTheRecording() {
        float[] samples = samples(4, t -> t > 2 && t < 2.03 ? 0 : 0.3 * Math.sin(2000 * Math.PI * t));
        StepMeters whole = meters(new StepSignal.Tone(1000, -20), Side.BOTH, NONE, 1, 0);
        whole.accept(samples, 0, 1, samples.length);
        StepMeters parts = meters(new StepSignal.Tone(1000, -20), Side.BOTH, NONE, 1, 0);
        float[] interleaved = new float[3 * samples.length + 1];
        for (int i = 0; i < samples.length; i++) {
            interleaved[3 * i + 1] = samples[i];
        }
        for (int at = 0; at < samples.length; at += 77) {
            parts.accept(interleaved, 3 * at + 1, 3, Math.min(77, samples.length - at));
        }
        Measurement early = whole.reading(0);
        Measurement late = parts.reading(100);
        assertThat(early.warnings().stream().filter(w -> w.fromSeconds().isPresent()))
                .isNotEmpty();
        for (int i = 0; i < early.warnings().size(); i++) {
            Warning one = early.warnings().get(i);
            Warning other = late.warnings().get(i);
            assertThat(other.message()).isEqualTo(one.message());
            assertThat(other.channel()).hasValue(1);
            assertThat(other.fromSeconds().isPresent())
                    .isEqualTo(one.fromSeconds().isPresent());
            one.fromSeconds()
                    .ifPresent(from ->
                            assertThat(other.fromSeconds().orElseThrow()).isCloseTo(from + 100, within(1e-9)));
            one.toSeconds()
                    .ifPresent(to -> assertThat(other.toSeconds().orElseThrow()).isCloseTo(to + 100, within(1e-9)));
        }
        for (int i = 0; i < early.readings().size(); i++) {
            Reading one = early.readings().get(i);
            Reading other = late.readings().get(i);
            assertThat(other.value()).isEqualTo(one.value());
            assertThat(other.atSeconds().isPresent()).isEqualTo(one.atSeconds().isPresent());
            one.atSeconds()
                    .ifPresent(at -> assertThat(other.atSeconds().orElseThrow()).isCloseTo(at + 100, within(1e-9)));
        }
    }

    private static Programme threeTones() {
        return new Programme(
                "three tones",
                List.of(
                        new Step("low", new StepSignal.Tone(315, -20), Side.BOTH, 2),
                        new Step("middle", new StepSignal.Tone(900, -20), Side.BOTH, 2),
                        new Step("high", new StepSignal.Tone(2000, -20), Side.BOTH, 2)),
                OptionalDouble.empty());
    }

    private static float[] replayed() {
        double[] hertz = {0, 315, 900, 2000, 0};
        double[] amplitudes = {0, 0.1, 0.1, 0.05, 0};
        return samples(7, t -> {
            int part = t < 0.5 ? 0 : Math.min(4, 1 + (int) ((t - 0.5) / 2));
            return amplitudes[part] * Math.sin(2 * Math.PI * hertz[part] * t);
        });
    }

    /** Each step is measured from 0.15 s behind its start to as long before its end, whatever the blocks. */
    @Test
    void aProgrammeIsCutIntoItsSteps() throws IOException {
        float[] samples = replayed();
        ProgrammeMeasurement measurement =
                ProgrammeMeasurement.builder(threeTones(), RATE, 1).build();
        ProgrammeMeasurement.Result result = measurement.measure(sink -> {
            for (int at = 0; at < samples.length; at += 999) {
                sink.accept(samples, at, Math.min(999, samples.length - at));
            }
        });
        assertThat(result.recognition().missing()).isEmpty();
        assertThat(result.steps()).hasSize(3);
        for (int i = 0; i < 3; i++) {
            RecognisedStep step = result.steps().get(i).step();
            assertThat(step.fromSeconds()).isCloseTo(0.5 + 2 * i, within(0.07));
            long from = Math.round((step.fromSeconds() + 0.15) * RATE);
            long to = Math.round((step.toSeconds() - 0.15) * RATE);
            StepMeters alone = new StepMeters(threeTones(), i, NONE, RATE, 1);
            alone.accept(samples, (int) from, 1, (int) (to - from));
            List<Reading> own = alone.reading(from / (double) RATE).readings();
            List<Reading> readings = result.steps().get(i).measurement().readings();
            assertThat(readings.subList(0, own.size())).isEqualTo(own);
            // 900 Hz is nearest to 1 kHz, where no reference is given.
            Reading response = readings.get(readings.size() - 1);
            assertThat(response.quantity()).isEqualTo(Quantity.RESPONSE);
            assertThat(response.channel()).hasValue(1);
            assertThat(response.atFrequencyHz()).hasValue(new double[] {315, 900, 2000}[i]);
            assertThat(response.value().orElseThrow()).isCloseTo(i == 2 ? -6.0206 : 0, within(0.01));
            assertThat(response.method()).isEqualTo("tones of a programme, levels of the fundamentals");
            assertThat(response.typeA().isPresent())
                    .isEqualTo(i != 1
                            && own.stream()
                                    .anyMatch(r -> r.quantity() == Quantity.LEVEL
                                            && r.typeA().isPresent()));
        }
        assertThat(result.find("high")).hasValue(result.steps().get(2).measurement());
        assertThat(result.find("other")).isEmpty();
        assertThat(measurement.measure(sink -> sink.accept(samples, 0, samples.length)))
                .isEqualTo(result);
    }

    /** Of a recording that ends within a step the step is measured to the end; one without the reference has no response. */
    @Test
    void aRecordingMayEndWithinAStep() throws IOException {
        float[] samples = Arrays.copyOf(replayed(), (int) (4.3 * RATE));
        ProgrammeMeasurement.Result result = ProgrammeMeasurement.builder(
                        new Programme("three tones", threeTones().steps(), OptionalDouble.of(2000)), RATE, 1)
                .build()
                .measure(sink -> sink.accept(samples, 0, samples.length));
        assertThat(result.recognition().missing()).containsExactly("high");
        assertThat(result.steps()).hasSize(2);
        for (ProgrammeMeasurement.StepMeasurement one : result.steps()) {
            Reading response = one.measurement().find(Quantity.RESPONSE).orElseThrow();
            assertThat(response.status()).isEqualTo(Status.NO_CARRIER);
        }
    }

    /** Both ways of taking samples are the same; one channel is not two. */
    @Test
    void aRecogniserTakesSamplesInThreeWays() {
        float[] interleaved = replayed();
        double[] samples = new double[interleaved.length];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = interleaved[i];
        }
        ProgrammeRecogniser one = new ProgrammeRecogniser(threeTones(), RATE, 1);
        one.accept(interleaved, 0, 1, interleaved.length);
        ProgrammeRecogniser other = new ProgrammeRecogniser(threeTones(), RATE, 1);
        other.accept(samples, 0, samples.length);
        assertThat(other.recognition()).isEqualTo(one.recognition());
        ProgrammeRecogniser both = new ProgrammeRecogniser(threeTones(), RATE, 2);
        both.accept(samples, samples, 0, samples.length);
        assertThat(both.recognition().found()).hasSize(3);
        assertThat(both.speedRatio().orElseThrow()).isCloseTo(1, within(0.002));
        both.accept(new double[] {Double.NaN}, new double[1], 0, 1);
        assertThat(both.recognition().found()).hasSize(3);
        assertThat(both.recognition().warnings())
                .anyMatch(w -> w.code() == WarningCode.INVALID_SAMPLE
                        && w.message().equals("after a sample that is no finite number nothing is recognised"));
        both.reset();
        assertThat(both.recognition().found()).isEmpty();
        assertThat(both.recognition().warnings()).noneMatch(w -> w.code() == WarningCode.INVALID_SAMPLE);
        both.accept(samples, samples, 0, samples.length);
        assertThat(both.recognition().found()).hasSize(3);
        assertThatThrownBy(() -> both.accept(samples, 0, 1))
                .hasMessage("samples of 1 channels were given, the recogniser has 2");
        assertThatThrownBy(() -> one.accept(samples, samples, 0, 1))
                .hasMessage("samples of 2 channels were given, the recogniser has 1");
        assertThatThrownBy(() -> new ProgrammeRecogniser(threeTones(), RATE, 0))
                .hasMessage("channels 0 is not in 1 to 2");
        assertThatThrownBy(() -> new ProgrammeRecogniser(threeTones(), RATE, 3))
                .hasMessage("channels 3 is not in 1 to 2");
    }
}
