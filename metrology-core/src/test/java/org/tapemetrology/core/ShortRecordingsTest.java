/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.tapemetrology.core.LiveMeter.Indicator;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.alignment.Take;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.level.BallisticMeter;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.separation.RecordedTone;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.TestTape;

/** Some seconds at 8 kHz through the whole of the facade: blocks of 160 frames, a look at every fifth of them. */
class ShortRecordingsTest {
    private static final int RATE = 8000;

    private static DoubleUnaryOperator sine(double hz, double amplitude) {
        return t -> amplitude * Math.sin(2 * Math.PI * hz * t);
    }

    private static DoubleUnaryOperator distorted(double hz, double third) {
        return t -> 0.3 * Math.sin(2 * Math.PI * hz * t) + 0.3 * third * Math.sin(6 * Math.PI * hz * t);
    }

    private static DoubleUnaryOperator noise(double rms, long seed) {
        Random random = new Random(seed);
        return t -> rms * random.nextGaussian();
    }

    private static float[] samples(double seconds, DoubleUnaryOperator... channels) {
        return Interleaved.samples(RATE, seconds, channels);
    }

    private static Measurement measured(
            RecordingMeter.Builder builder, double seconds, DoubleUnaryOperator... channels) {
        RecordingMeter meter = builder.build();
        float[] samples = samples(seconds, channels);
        meter.accept(samples, 0, samples.length / channels.length);
        return meter.reading();
    }

    private static RecordingMeter.Builder mono() {
        return RecordingMeter.builder(RATE, 1);
    }

    private static double value(Measurement measured, Quantity quantity, int channel) {
        return measured.find(quantity, channel).orElseThrow().value().orElseThrow();
    }

    @Test
    void whatIsShownOfTwoChannels() {
        DoubleUnaryOperator first = sine(1000, 0.3);
        DoubleUnaryOperator second = t -> 0.5 * first.applyAsDouble(t - 20e-6);
        RecordingMeter.Builder builder = RecordingMeter.builder(RATE, 2)
                .nominalHz(1000)
                .referenceLevel(new DigitalLevel(-14))
                .converter(Converter.assumed())
                .testTape(TestTape.none());
        LiveMeter meter = LiveMeter.builder(builder).build();
        float[] samples = samples(4, first, second);
        // Some frames at a time, so that blocks and looks end within what is given.
        for (int at = 0; at < 24_000; at += 75) {
            meter.accept(samples, 2 * at, 75);
        }
        LiveReading shown = meter.reading();
        assertThat(shown.seconds()).isEqualTo(3);
        assertThat(shown.overruns()).isZero();
        for (int c = 0; c < 2; c++) {
            LiveReading.Channel channel = shown.channels().get(c);
            assertThat(channel.number()).isEqualTo(c + 1);
            assertThat(channel.frequency().steady().channel()).hasValue(c + 1);
            // Single precision; the looks are of 0.1 s.
            assertThat(channel.frequency().steady().value().orElseThrow()).isCloseTo(1000, within(1e-3));
            assertThat(channel.frequency().now().orElseThrow()).isCloseTo(1000, within(1e-3));
            assertThat(channel.speedError().steady().value().orElseThrow()).isCloseTo(0, within(1e-4));
            assertThat(channel.speedError().now().orElseThrow()).isCloseTo(0, within(1e-4));
            double dbfs = 20 * Math.log10(0.3) - c * 20 * Math.log10(2);
            assertThat(channel.levels()).hasSize(2);
            assertThat(channel.levels().get(0).steady().value().orElseThrow()).isCloseTo(dbfs, within(1e-3));
            assertThat(channel.levels().get(0).now().orElseThrow()).isCloseTo(dbfs, within(1e-3));
            assertThat(channel.levels().get(1).steady().quantity()).isEqualTo(Quantity.LEVEL_RE_REFERENCE);
            assertThat(channel.levels().get(1).steady().value().orElseThrow()).isCloseTo(dbfs + 14, within(1e-3));
            assertThat(channel.levels().get(1).now().orElseThrow()).isCloseTo(dbfs + 14, within(1e-3));
            assertThat(channel.levels().get(0).averagedSeconds()).isBetween(1.5, 3.0);
            assertThat(channel.indicator()).isNotEmpty();
            BallisticMeter alone = BallisticMeter.volumeIndicator(RATE);
            float[] own = new float[24_000];
            for (int i = 0; i < own.length; i++) {
                own[i] = samples[2 * i + c];
            }
            alone.accept(own, 0, own.length);
            int number = c + 1;
            assertThat(channel.indicator())
                    .isEqualTo(alone.readings().stream()
                            .map(reading -> reading.onChannel(number))
                            .toList());
        }
        assertThat(shown.balance().orElseThrow().steady().value().orElseThrow()).isCloseTo(-6.0206, within(1e-3));
        assertThat(shown.balance().orElseThrow().now().orElseThrow()).isCloseTo(-6.0206, within(1e-3));
        assertThat(shown.azimuthDelay().orElseThrow().steady().value().orElseThrow())
                .isCloseTo(20, within(0.1));
        assertThat(shown.azimuthDelay().orElseThrow().now().orElseThrow()).isCloseTo(20, within(0.1));
        assertThat(meter.recording().channels()).isEqualTo(2);

        // Means that begin anew settle for a second; what is momentary is there at once.
        meter.restartMeans();
        meter.accept(samples, 48_000, 4000);
        LiveReading again = meter.reading();
        assertThat(again.channels().get(0).frequency().steady().status()).isEqualTo(Status.SETTLING);
        assertThat(again.channels().get(1).levels().get(0).steady().status()).isEqualTo(Status.SETTLING);
        assertThat(again.balance().orElseThrow().steady().status()).isEqualTo(Status.SETTLING);
        assertThat(again.azimuthDelay().orElseThrow().steady().status()).isEqualTo(Status.SETTLING);
        meter.accept(samples, 56_000, 4000);
        assertThat(meter.reading().balance().orElseThrow().steady().isValid()).isTrue();
        assertThat(meter.measurement()).isEqualTo(measured(builder, 4, first, second));

        meter.reset();
        LiveMeter fresh = LiveMeter.builder(builder).build();
        assertThat(meter.reading()).isEqualTo(fresh.reading());
        DoubleUnaryOperator other = sine(1010, 0.1);
        float[] next = samples(2.03, other, noise(1e-3, 1));
        meter.accept(next, 0, next.length / 2);
        fresh.accept(next, 0, next.length / 2);
        assertThat(meter.reading()).isEqualTo(fresh.reading());
        assertThat(meter.measurement()).isEqualTo(fresh.measurement());
    }

    /** Half the level of one channel and no tone at all: a stretch of its own, of which the means are. */
    @Test
    void aNewToneBeginsAnew() {
        LiveMeter meter = LiveMeter.builder(mono()).indicator(Indicator.NONE).build();
        float[] samples = samples(
                6.5,
                t -> t < 2.5 ? 0.3 * Math.sin(2 * Math.PI * 1000 * t) : t < 4 ? 0 : 0.1 * Math.sin(6000 * Math.PI * t));
        meter.accept(samples, 0, 20_000);
        assertThat(meter.reading()
                        .channels()
                        .get(0)
                        .frequency()
                        .steady()
                        .value()
                        .orElseThrow())
                .isCloseTo(1000, within(1e-3));
        assertThat(meter.reading().channels().get(0).speedError().steady().isValid())
                .as("1 kHz is no frequency of a speed test")
                .isFalse();
        assertThat(meter.reading().balance()).isEmpty();
        assertThat(meter.reading().azimuthDelay()).isEmpty();
        meter.accept(samples, 20_000, 10_000);
        LiveReading.Channel silent = meter.reading().channels().get(0);
        assertThat(silent.frequency().steady().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(silent.frequency().now()).isEmpty();
        assertThat(silent.levels().get(0).steady().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(silent.indicator()).isEmpty();
        meter.accept(samples, 30_000, 22_000);
        LiveReading.Channel next = meter.reading().channels().get(0);
        assertThat(next.frequency().steady().value().orElseThrow()).isCloseTo(3000, within(0.01));
        assertThat(next.levels().get(0).steady().value().orElseThrow()).isCloseTo(-20, within(0.01));
        assertThat(next.frequency().averagedSeconds()).isLessThan(2.6);
        assertThat(next.speedError().steady().value().orElseThrow()).isCloseTo(0, within(1e-3)); // 3000 Hz is one
    }

    /** Balance and delay of a new tone are of that alone; what is no number makes both invalid. */
    @Test
    void balanceAndDelayBeginAnewToo() {
        LiveMeter meter = LiveMeter.builder(RecordingMeter.builder(RATE, 2))
                .indicator(Indicator.NONE)
                .build();
        DoubleUnaryOperator tone = t -> t < 2 || t > 3.2 ? 0.2 * Math.sin(2000 * Math.PI * t) : 0;
        float[] samples =
                samples(5.5, tone, t -> t < 3 ? tone.applyAsDouble(t) : 0.5 * tone.applyAsDouble(t - 1.0 / RATE));
        meter.accept(samples, 0, 16_000);
        assertThat(meter.reading().balance().orElseThrow().steady().value().orElseThrow())
                .isCloseTo(0, within(1e-3));
        meter.accept(samples, 32_000, 9000);
        LiveReading silent = meter.reading();
        assertThat(silent.balance().orElseThrow().steady().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(silent.azimuthDelay().orElseThrow().steady().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(silent.azimuthDelay().orElseThrow().now()).isEmpty();
        meter.accept(samples, 50_000, 19_000);
        LiveReading again = meter.reading();
        assertThat(again.balance().orElseThrow().steady().value().orElseThrow()).isCloseTo(-6.0206, within(1e-2));
        assertThat(again.balance().orElseThrow().averagedSeconds()).isLessThan(2.4);
        assertThat(again.azimuthDelay().orElseThrow().steady().value().orElseThrow())
                .isCloseTo(125, within(0.5));
        assertThat(again.azimuthDelay().orElseThrow().averagedSeconds()).isLessThan(2.4);
        meter.accept(new float[] {Float.NaN, 0}, 0, 1);
        meter.accept(samples, 0, 160);
        LiveReading invalid = meter.reading();
        assertThat(invalid.balance().orElseThrow().steady().status()).isEqualTo(Status.INVALID_INPUT);
        assertThat(invalid.azimuthDelay().orElseThrow().steady().status()).isEqualTo(Status.INVALID_INPUT);
    }

    /** Every 1000 frames at the earliest, with the number of the frames that were taken. */
    @Test
    void aMeterPublishesWhatItHasTaken() {
        PublishedMeter meter = new PublishedMeter(mono().nominalHz(1000).build(), 1000);
        float[] samples = samples(0.5, sine(1000, 0.3));
        meter.accept(samples, 0, 999);
        assertThat(meter.latest()).isEmpty();
        meter.accept(samples, 999, 1);
        assertThat(meter.latest().orElseThrow().frames()).isEqualTo(1000);
        meter.accept(samples, 1000, 999);
        assertThat(meter.latest().orElseThrow().frames()).isEqualTo(1000);
        meter.accept(samples, 1999, 2001);
        assertThat(meter.latest().orElseThrow().frames()).isEqualTo(4000);
        RecordingMeter plain = mono().nominalHz(1000).build();
        plain.accept(samples, 0, samples.length);
        assertThat(meter.latest().orElseThrow().measurement()).isEqualTo(plain.reading());
        meter.reset();
        assertThat(meter.latest()).isEmpty();
        meter.publish();
        assertThat(meter.latest().orElseThrow().frames()).isZero();
        assertThat(meter.latest().orElseThrow().measurement())
                .isEqualTo(mono().nominalHz(1000).build().reading());
        RecordingMeter some = mono().build();
        assertThatThrownBy(() -> new PublishedMeter(some, 0)).hasMessage("everyFrames 0 is below 1");
        assertThat(new PublishedMeter(some, 1).latest()).isEmpty();
    }

    /** A file of 16-bit samples gives what its samples give; of a rate that no meter takes it is refused by its name. */
    @Test
    void aFileIsMeasured(@TempDir Path folder) throws IOException {
        float[] samples = samples(1.5, sine(1000, 0.3), sine(1000, 0.1));
        for (int i = 0; i < samples.length; i++) {
            samples[i] = Math.round(samples[i] * 32_768) / 32_768f;
        }
        Path file = Files.write(folder.resolve("tone.wav"), wav(RATE, samples));
        RecordingMeter meter = RecordingMeter.builder(RATE, 2).build();
        meter.accept(samples, 0, samples.length / 2);
        assertThat(RecordingMeter.measure(file)).isEqualTo(meter.reading());
        Path slow = Files.write(folder.resolve("slow.wav"), wav(4000, samples));
        assertThatThrownBy(() -> RecordingMeter.measure(slow))
                .isInstanceOf(IOException.class)
                .hasMessageContaining("slow.wav: sampling rate 4000 Hz is not in");
        Path fast = Files.write(folder.resolve("fast.wav"), wav(ToneMeter.HIGHEST_SAMPLE_RATE_HZ + 1, samples));
        assertThatThrownBy(() -> RecordingMeter.measure(fast)).hasMessageContaining("is not in");
    }

    /** Two channels, 16 bits, the plain header of 44 bytes (from memory). */
    private static byte[] wav(int rate, float[] samples) {
        ByteBuffer bytes = ByteBuffer.allocate(44 + 2 * samples.length).order(ByteOrder.LITTLE_ENDIAN);
        bytes.put("RIFF".getBytes(StandardCharsets.US_ASCII)).putInt(36 + 2 * samples.length);
        bytes.put("WAVEfmt ".getBytes(StandardCharsets.US_ASCII)).putInt(16);
        bytes.putShort((short) 1).putShort((short) 2).putInt(rate).putInt(4 * rate);
        bytes.putShort((short) 4).putShort((short) 16);
        bytes.put("data".getBytes(StandardCharsets.US_ASCII)).putInt(2 * samples.length);
        for (float sample : samples) {
            bytes.putShort((short) Math.round(sample * 32_768));
        }
        return bytes.array();
    }

    /** Samples that were lost, by the place in the recording. */
    @Test
    void lostSamplesAreTold() {
        LiveMeter meter = LiveMeter.builder(mono().nominalHz(1000))
                .flutter(Quantity.FLUTTER_WEIGHTED_RMS)
                .build();
        float[] samples = samples(8, sine(1000, 0.3));
        meter.accept(samples, 0, 8530);
        meter.inputLost();
        meter.accept(samples, 8530, 7570);
        assertThat(meter.measurement().warnings())
                .filteredOn(w -> w.code() == WarningCode.INPUT_OVERRUN)
                .extracting(Warning::message)
                .containsExactly("samples came faster than they were taken and some were lost, 1 time");
        meter.inputLost();
        meter.accept(samples, 16_100, samples.length - 16_100);
        Measurement measured = meter.measurement();
        Warning lost = measured.warnings().stream()
                .filter(w -> w.code() == WarningCode.INPUT_OVERRUN)
                .findFirst()
                .orElseThrow();
        assertThat(lost.message()).endsWith("2 times");
        assertThat(lost.fromSeconds().orElseThrow()).isCloseTo(8530.0 / RATE, within(1e-12));
        assertThat(lost.toSeconds().orElseThrow()).isCloseTo(16_100.0 / RATE, within(1e-12));
        assertThat(measured.find(Quantity.LEVEL, 1).orElseThrow().isValid()).isTrue();
        RecordingMeter plain = mono().nominalHz(1000).build();
        plain.accept(samples, 0, samples.length);
        boolean any = false;
        for (Reading reading : plain.reading().readings()) {
            Reading shown = measured.readings().get(plain.reading().readings().indexOf(reading));
            boolean flutter = reading.quantity().id().startsWith("flutter.")
                    || reading.quantity().id().startsWith("wow.");
            any |= flutter && reading.isValid();
            assertThat(shown.status()).isEqualTo(flutter && reading.isValid() ? Status.INTERRUPTED : reading.status());
            assertThat(shown.channel()).isEqualTo(reading.channel());
        }
        assertThat(any).isTrue();
        assertThat(plain.series(1)).isPresent();
        assertThat(plain.series(1).isPresent())
                .isEqualTo(meter.recording().series(1).isPresent());
        assertThat(meter.reading().overruns()).isEqualTo(2);
        LiveReading.Channel shown = meter.reading().channels().get(0);
        assertThat(shown.flutter().figure()).isEqualTo(Quantity.FLUTTER_WEIGHTED_RMS);
        assertThat(shown.flutter().status()).isNotEqualTo(Status.VALID);
        assertThat(shown.flutter().worstPercent()).isEmpty();
        assertThat(shown.frequency().steady().isValid()).isTrue();
        assertThat(shown.number()).isEqualTo(1);
    }

    /** Each indicator is the meter of its own name. */
    @ParameterizedTest
    @EnumSource(Indicator.class)
    void theIndicatorIsTheOneAskedFor(Indicator indicator) {
        LiveMeter meter = LiveMeter.builder(mono()).indicator(indicator).build();
        float[] samples = samples(1, sine(1000, 0.3));
        meter.accept(samples, 0, samples.length);
        BallisticMeter alone = switch (indicator) {
            case NONE, VOLUME -> BallisticMeter.volumeIndicator(RATE);
            case PROGRAMME_PEAK_ONE -> BallisticMeter.programmePeakTypeOne(RATE);
            case PROGRAMME_PEAK_TWO -> BallisticMeter.programmePeakTypeTwo(RATE);
        };
        alone.accept(samples, 0, samples.length);
        List<Reading> shown = meter.reading().channels().get(0).indicator();
        assertThat(shown)
                .isEqualTo(
                        indicator == Indicator.NONE
                                ? List.of()
                                : alone.readings().stream()
                                        .map(r -> r.onChannel(1))
                                        .toList());
        meter.reset();
        alone.reset();
        if (indicator != Indicator.NONE) {
            assertThat(meter.reading().channels().get(0).indicator())
                    .isEqualTo(
                            alone.readings().stream().map(r -> r.onChannel(1)).toList());
        }
    }

    /** Of two stretches the longer one counts, before or after the other, and the distortion is of that. */
    @Test
    void distortionIsOfTheStretchThatCounts() {
        for (boolean longFirst : new boolean[] {true, false}) {
            double change = longFirst ? 3 : 1.7;
            DoubleUnaryOperator early = distorted(longFirst ? 1000 : 400, longFirst ? 0.01 : 0.05);
            DoubleUnaryOperator late = distorted(longFirst ? 400 : 1000, longFirst ? 0.05 : 0.01);
            Measurement measured = measured(
                    mono(), 5.7, t -> t < change ? early.applyAsDouble(t) : t < change + 1 ? 0 : late.applyAsDouble(t));
            assertThat(value(measured, Quantity.TONE_FREQUENCY, 1)).isCloseTo(1000, within(0.01));
            assertThat(value(measured, Quantity.DISTORTION_THIRD_HARMONIC, 1)).isCloseTo(1, within(0.02));
            assertThat(measured.find(Quantity.NOISE_QUASI_PEAK)).isEmpty();
        }
    }

    @Test
    void contentDecides() {
        DoubleUnaryOperator noise = noise(1e-2, 3);
        float[] samples = samples(3, noise);
        for (Content content : Content.values()) {
            RecordingMeter meter = mono().content(content).build();
            meter.accept(samples, 0, samples.length);
            Measurement measured = meter.reading();
            assertThat(measured.find(Quantity.LEVEL).isPresent())
                    .as("%s", content)
                    .isEqualTo(content != Content.NOISE);
            assertThat(measured.find(Quantity.NOISE_UNWEIGHTED).isPresent()).isEqualTo(content != Content.TONE);
            assertThat(measured.find(Quantity.DISTORTION_THD)).isEmpty();
        }
        // Hum is part of a noise, and a tone is not noise of its own.
        Measurement hum =
                measured(mono().mainsHz(50), 3, t -> 0.01 * Math.sin(100 * Math.PI * t) + noise.applyAsDouble(t) / 10);
        assertThat(hum.find(Quantity.NOISE_UNWEIGHTED)).isPresent();
        Measurement tone = measured(mono(), 2, distorted(1000, 0.01));
        assertThat(tone.find(Quantity.NOISE_UNWEIGHTED).filter(r -> r.value().orElse(-200) > -60))
                .isEmpty();
        assertThat(value(tone, Quantity.DISTORTION_THIRD_HARMONIC, 1)).isCloseTo(1, within(0.02));
        // Below 20 Hz or above a quarter of the rate there is no harmonic to measure.
        assertThat(measured(mono(), 2, sine(2500, 0.3)).find(Quantity.DISTORTION_THD))
                .isEmpty();
    }

    @Test
    void clippedTonesAndTwoTonesHaveTheirStatus() {
        Measurement clipped = measured(mono(), 2, t -> Math.max(-1, Math.min(1, 1.5 * Math.sin(2000 * Math.PI * t))));
        assertThat(clipped.find(Quantity.DISTORTION_THIRD_HARMONIC)
                        .orElseThrow()
                        .status())
                .isEqualTo(Status.OVERLOAD);
        assertThat(clipped.find(Quantity.NOISE_UNWEIGHTED)).isEmpty();
        assertThat(clipped.warnings()).isNotEmpty().allMatch(w -> w.channel().orElse(0) == 1);
        // y = x + q x^2: the modulation is 2 q times the lower tone's amplitude (closed form), 4 %.
        DoubleUnaryOperator two = t -> 0.4 * Math.sin(500 * Math.PI * t) + 0.1 * Math.sin(5900 * Math.PI * t);
        Measurement modulated =
                measured(mono(), 3, t -> two.applyAsDouble(t) + 0.05 * Math.pow(two.applyAsDouble(t), 2));
        assertThat(value(modulated, Quantity.DISTORTION_MODULATION, 1)).isCloseTo(4, within(0.04));
        assertThat(modulated.find(Quantity.DISTORTION_THD_PLUS_NOISE).filter(Reading::isValid))
                .isEmpty();
        Measurement one = measured(mono(), 2, distorted(1000, 0.01));
        assertThat(one.find(Quantity.DISTORTION_MODULATION)).isEmpty();
        assertThat(one.find(Quantity.DISTORTION_THD_PLUS_NOISE).orElseThrow().isValid())
                .isTrue();
    }

    /**
     * A tone of 2.7 samples a period that is cut off on one side: its second harmonic is folded down and nearly as strong, so that it looks like
     * two tones, of which no three samples in a row show the limit. Where it is whole nothing is withheld.
     */
    @Test
    void aToneThatIsCutOffIsNotTakenForTwo() {
        for (double limit : new double[] {-1, -0.6}) {
            Measurement cutOff =
                    measured(mono(), 5, t -> limit + 0.7 * Math.max(0, -0.2 - Math.sin(2 * Math.PI * 2946.36 * t)));
            assertThat(cutOff.find(Quantity.DISTORTION_DIFFERENCE_FREQUENCY)
                            .orElseThrow()
                            .status())
                    .as("limit %.1f", limit)
                    .isEqualTo(Status.OVERLOAD);
            assertThat(cutOff.warnsOf(WarningCode.OVERLOAD)).isTrue();
        }
        // Two sines of a common period of 24 samples stand on few values too, and are whole; the common practice of
        // tests in digital
        // audio, no source.
        Measurement whole = measured(
                mono(),
                5,
                t -> 0.3 * Math.sin(2 * Math.PI * 5000 / 3 * t + 0.7) + 0.3 * Math.sin(4000 * Math.PI * t + 0.7));
        assertThat(whole.find(Quantity.DISTORTION_DIFFERENCE_FREQUENCY)
                        .orElseThrow()
                        .status())
                .isEqualTo(Status.VALID);
        assertThat(whole.warnsOf(WarningCode.OVERLOAD)).isFalse();
    }

    /** A tone that is none of the nominal frequency is no noise either; hum below 200 Hz is, in a recording without a tone. */
    @Test
    void aLoneToneFarFromTheNominalFrequencyIsNoNoise() {
        Random random = new Random(2);
        for (double hz : new double[] {1500, 2205, 3780}) {
            Measurement measured = measured(
                    RecordingMeter.builder(RATE, 1).nominalHz(3150),
                    4,
                    t -> 0.25 * Math.sin(2 * Math.PI * hz * t) + 1e-4 * random.nextGaussian());
            assertThat(measured.find(Quantity.LEVEL).orElseThrow().status()).isEqualTo(Status.AMBIGUOUS);
            assertThat(measured.find(Quantity.NOISE_UNWEIGHTED)).isEmpty();
            assertThat(measured.warnings())
                    .as("%s Hz", hz)
                    .anyMatch(w -> w.message().contains("too far from the nominal frequency"));
        }
        Measurement hum = measured(
                RecordingMeter.builder(RATE, 1).nominalHz(3150),
                4,
                t -> 0.01 * Math.sin(300 * Math.PI * t) + 1e-3 * random.nextGaussian());
        assertThat(hum.find(Quantity.NOISE_UNWEIGHTED).orElseThrow().status()).isEqualTo(Status.VALID);
        assertThat(hum.warnings()).isEmpty();
    }

    @Test
    void twoChannelsHaveBalanceAndAzimuthOrSeparation() {
        DoubleUnaryOperator tone = sine(1000, 0.2);
        Measurement both = measured(
                RecordingMeter.builder(RATE, 2).tracks(TrackGeometry.CASSETTE_STEREO, 4.76, 2000, 3000),
                3,
                tone,
                t -> -0.5 * tone.applyAsDouble(t - 20e-6));
        Reading balance = both.find(Quantity.CHANNEL_BALANCE).orElseThrow();
        assertThat(balance.value().orElseThrow()).isCloseTo(-6.0206, within(1e-3));
        assertThat(balance.typeA()).isPresent();
        assertThat(both.readings().stream()
                        .filter(r -> r.quantity() == Quantity.AZIMUTH_LEVEL_LOSS)
                        .map(r -> r.atFrequencyHz().orElseThrow()))
                .containsExactly(2000.0, 3000.0);
        assertThat(both.find(Quantity.SEPARATION)).isEmpty();
        assertThat(both.warnings()).extracting(Warning::code).containsExactly(WarningCode.WHOLE_CYCLE);
        Measurement inverted = measured(RecordingMeter.builder(RATE, 2), 2, noise(0.1, 5), noise(-0.1, 5));
        assertThat(inverted.warnings()).extracting(Warning::code).containsExactly(WarningCode.OPPOSITE_POLARITY);
        Measurement silent =
                measured(RecordingMeter.builder(RATE, 2).nominalHz(1000), 6, t -> 0.01 * tone.applyAsDouble(t), tone);
        assertThat(value(silent, Quantity.SEPARATION, 1)).isCloseTo(40, within(0.1));
        assertThat(silent.find(Quantity.AZIMUTH_DELAY)).isEmpty();
        assertThat(silent.find(Quantity.CHANNEL_BALANCE)).isPresent();
        // After a reset nothing of the silent channel is left.
        RecordingMeter used = RecordingMeter.builder(RATE, 2).nominalHz(1000).build();
        float[] crosstalk = samples(3, t -> 0.01 * tone.applyAsDouble(t), tone);
        used.accept(crosstalk, 0, crosstalk.length / 2);
        used.reset();
        RecordingMeter fresh = RecordingMeter.builder(RATE, 2).nominalHz(1000).build();
        used.accept(crosstalk, 0, 9000);
        fresh.accept(crosstalk, 0, 9000);
        assertThat(used.reading()).isEqualTo(fresh.reading());
        Measurement noises = measured(RecordingMeter.builder(RATE, 2), 2, noise(1e-2, 1), noise(1e-2, 2));
        assertThat(noises.find(Quantity.AZIMUTH_DELAY)).isEmpty();
        assertThat(noises.find(Quantity.CHANNEL_BALANCE).orElseThrow().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(measured(RecordingMeter.builder(RATE, 2).content(Content.NOISE), 1, noise(1e-2, 1), noise(1e-2, 1))
                        .find(Quantity.AZIMUTH_DELAY))
                .isEmpty();
    }

    /** Levels and erasure re a recorded tone; and every part of a meter forgets at a reset. */
    @Test
    void aReferenceToneAndAReset() {
        RecordedTone reference = new RecordedTone(new DigitalLevel(-14), 1000);
        RecordingMeter.Builder builder = RecordingMeter.builder(RATE, 2)
                .reference(List.of(reference, reference))
                .keepDeviation();
        RecordingMeter meter = builder.build();
        float[] residue =
                samples(5, t -> 2e-3 * Math.sin(2000 * Math.PI * t), t -> 1e-3 * Math.sin(2000 * Math.PI * t));
        meter.accept(residue, 0, residue.length / 2);
        Measurement measured = meter.reading();
        // 2e-3 are -53.98 dBFS.
        assertThat(value(measured, Quantity.ERASURE, 1)).isCloseTo(53.98 - 14, within(0.1));
        assertThat(value(measured, Quantity.ERASURE, 2)).isCloseTo(60 - 14, within(0.1));
        assertThat(value(measured, Quantity.LEVEL_RE_REFERENCE, 1)).isCloseTo(-53.98 + 14, within(0.01));
        assertThat(meter.deviation(1)).isPresent();
        assertThat(meter.budgets()).isNotNull();
        meter.reset();
        RecordingMeter fresh = builder.build();
        assertThat(meter.reading()).isEqualTo(fresh.reading());
        assertThat(meter.deviation(1).map(DeviationSeries::seconds))
                .isEqualTo(fresh.deviation(1).map(DeviationSeries::seconds));
        assertThat(mono().build().deviation(1)).isEmpty();
        assertThat(mono().build().runningQuasiPeakPercent(1)).isEmpty();
    }

    @Test
    void badSettingsAreNamed() {
        assertThatThrownBy(() -> RecordingMeter.builder(RATE, 0)).hasMessage("channels 0 is not in 1 to 64");
        assertThatThrownBy(() -> RecordingMeter.builder(RATE, 65)).hasMessage("channels 65 is not in 1 to 64");
        assertThat(RecordingMeter.builder(RATE, 64)).isNotNull();
        assertThatThrownBy(() -> RecordingMeter.builder(ToneMeter.LOWEST_SAMPLE_RATE_HZ - 1, 1))
                .isInstanceOf(IllegalArgumentException.class);
        RecordingMeter.Builder builder = RecordingMeter.builder(RATE, 2);
        assertThatThrownBy(() -> builder.nominalHz(-1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> builder.mainsHz(10)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> builder.tracks(TrackGeometry.FULL_TRACK, 38.1))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> builder.tracks(TrackGeometry.CASSETTE_STEREO, 4.76, -1))
                .isInstanceOf(IllegalArgumentException.class);
        RecordedTone tone = new RecordedTone(new DigitalLevel(-14), 1000);
        assertThatThrownBy(() -> builder.reference(List.of(tone)))
                .hasMessage("1 reference tones do not go with 2 channels");
        RecordedTone tooHigh = new RecordedTone(new DigitalLevel(-14), 3990);
        assertThatThrownBy(() -> builder.reference(List.of(tone, tooHigh)))
                .isInstanceOf(IllegalArgumentException.class);
        RecordingMeter meter = builder.build();
        assertThat(meter.channels()).isEqualTo(2);
        assertThatThrownBy(() -> meter.series(0)).hasMessage("channel 0 is not in 1 to 2");
        assertThatThrownBy(() -> meter.scrape(3)).hasMessage("channel 3 is not in 1 to 2");
        assertThat(meter.series(2)).isEmpty();
        assertThat(meter.scrape(1)).isEmpty();
        assertThat(meter.blockFrames()).isEqualTo(160);
        assertThat(meter.framesToBlockEnd()).isEqualTo(160);
        meter.accept(new float[400], 0, 200);
        assertThat(meter.framesToBlockEnd()).isEqualTo(120);
        assertThatThrownBy(() -> meter.accept(new float[10], 0, 6)).isInstanceOf(IndexOutOfBoundsException.class);
        LiveMeter live = LiveMeter.builder(builder).build();
        assertThatThrownBy(() -> live.accept(new float[10], 0, 6)).isInstanceOf(IndexOutOfBoundsException.class);
        assertThatThrownBy(() -> LiveMeter.builder(builder).flutter(Quantity.LEVEL))
                .isInstanceOf(IllegalArgumentException.class);
    }

    private static RequestMeter takes(
            Request.Source source, List<Take> takes, double seconds, DoubleUnaryOperator... played) {
        Request request = new Request(ServiceStep.REPLAY_RESPONSE, source, List.of(), List.of(), takes, "play");
        RequestMeter meter = new RequestMeter(request, 1000, RATE, 1, TestTape.assumed(), Converter.assumed());
        for (DoubleUnaryOperator one : played) {
            float[] samples = samples(seconds, one);
            meter.accept(samples, 0, samples.length);
            meter.endTake();
        }
        return meter;
    }

    private static Reading response(Measurement measured) {
        return measured.find(Quantity.RESPONSE).orElseThrow();
    }

    /** Three tones one after the other, of which the second is what the others are re. */
    @Test
    void takesOfOneToneGiveAResponse() {
        List<Take> takes = List.of(Take.tone(315, -20, 3), Take.tone(1000, -20, 3), Take.tone(2000, -10, 3));
        RequestMeter meter =
                takes(Request.Source.TEST_TAPE, takes, 1.3, sine(315, 0.2), sine(1000, 0.1), sine(2000, 0.1));
        List<Measurement> all = meter.measurements();
        double[] wanted = {20 * Math.log10(2), 0, -10};
        for (int i = 0; i < 3; i++) {
            Reading response = response(all.get(i));
            assertThat(response.value().orElseThrow()).isCloseTo(wanted[i], within(0.01));
            assertThat(response.atFrequencyHz()).hasValue(new double[] {315, 1000, 2000}[i]);
            assertThat(response.channel()).hasValue(1);
            assertThat(response.method()).isEqualTo("tones one after the other, levels of the fundamentals");
        }
        Reading level = all.get(0).find(Quantity.LEVEL, 1).orElseThrow();
        Reading re = all.get(1).find(Quantity.LEVEL, 1).orElseThrow();
        assertThat(response(all.get(1)).typeA()).isEmpty();
        // A tape's level is less well known than what the machine sent itself.
        Measurement own = takes(Request.Source.OWN_RECORDING, takes, 1.3, sine(315, 0.2))
                .measurements()
                .get(0);
        assertThat(level.uncertainty().orElseThrow().halfWidth())
                .isGreaterThan(own.find(Quantity.LEVEL, 1)
                        .orElseThrow()
                        .uncertainty()
                        .orElseThrow()
                        .halfWidth());
        if (level.typeA().isPresent() && re.typeA().isPresent()) {
            assertThat(response(all.get(0)).typeA())
                    .hasValue(level.typeA().orElseThrow().and(re.typeA().orElseThrow()));
        }
        assertThatThrownBy(() -> meter.accept(new float[1], 0, 1)).hasMessage("there are only 3 takes");
        assertThatThrownBy(meter::endTake).hasMessage("no take was begun");
    }

    /** Two frequencies are no response, nor are takes that are not all there. */
    @Test
    void fewTakesAreNoResponse() {
        List<Take> takes = List.of(Take.tone(315, -20, 3), Take.tone(1000, -20, 3), Take.tone(315, -20, 3));
        RequestMeter meter =
                takes(Request.Source.OWN_RECORDING, takes, 1.2, sine(315, 0.2), sine(1000, 0.1), sine(315, 0.1));
        assertThat(meter.measurements()).hasSize(3);
        assertThat(meter.measurements()).allMatch(m -> m.find(Quantity.RESPONSE).isEmpty());
        List<Take> three = List.of(Take.tone(315, -20, 3), Take.tone(1000, -20, 3), Take.tone(2000, -20, 3));
        RequestMeter begun = takes(Request.Source.OWN_RECORDING, three, 1.2, sine(315, 0.2), sine(1000, 0.1));
        assertThat(begun.measurements()).allMatch(m -> m.find(Quantity.RESPONSE).isEmpty());
        // A take without its tone has no response, and says why.
        float[] nothing = new float[9600];
        begun.accept(nothing, 0, nothing.length);
        begun.endTake();
        assertThat(response(begun.measurements().get(2)).status()).isEqualTo(Status.NO_CARRIER);
        assertThat(response(begun.measurements().get(0)).isValid()).isTrue();
    }

    @Test
    void aTakeOfSeveralTonesIsReadAtOnce() {
        List<Take> takes = List.of(Take.tones(List.of(315.0, 2000.0), -20, 4));
        RequestMeter meter = takes(
                Request.Source.OWN_RECORDING,
                takes,
                4.2,
                t -> sine(315, 0.2).applyAsDouble(t) + sine(2000, 0.1).applyAsDouble(t));
        Measurement measured = meter.measurements().get(0);
        List<Reading> responses = measured.readings().stream()
                .filter(r -> r.quantity() == Quantity.RESPONSE)
                .toList();
        // 1 kHz is none of the tones: the first is what they are re.
        assertThat(responses.get(0).value().orElseThrow()).isZero();
        assertThat(responses.get(1).value().orElseThrow()).isCloseTo(-20 * Math.log10(2), within(0.01));
        assertThat(measured.readings().stream().filter(r -> r.quantity() == Quantity.LEVEL))
                .hasSize(2);
        Request request = new Request(
                ServiceStep.REPLAY_RESPONSE, Request.Source.OWN_RECORDING, List.of(), List.of(), takes, "play");
        RequestMeter stereo = new RequestMeter(request, 315, RATE, 2, TestTape.assumed(), Converter.assumed());
        float[] both = samples(
                4.2,
                t -> sine(315, 0.2).applyAsDouble(t) + sine(2000, 0.1).applyAsDouble(t),
                t -> sine(315, 0.2).applyAsDouble(t) + sine(2000, 0.05).applyAsDouble(t));
        float[] shifted = new float[both.length + 2];
        System.arraycopy(both, 0, shifted, 2, both.length);
        stereo.accept(shifted, 2, both.length / 2);
        stereo.endTake();
        double[] second = stereo.measurements().get(0).readings().stream()
                .filter(r -> r.quantity() == Quantity.RESPONSE)
                .mapToDouble(r -> r.value().orElseThrow())
                .toArray();
        assertThat(second).hasSize(4);
        assertThat(second[1]).isCloseTo(-20 * Math.log10(2), within(0.01));
        assertThat(second[3]).isCloseTo(-20 * Math.log10(4), within(0.01));
        assertThatThrownBy(() -> new RequestMeter(
                        new Request(
                                ServiceStep.REPLAY_RESPONSE,
                                Request.Source.TEST_TAPE,
                                List.of(),
                                List.of(),
                                takes,
                                "play"),
                        1000,
                        RATE,
                        3,
                        TestTape.assumed(),
                        Converter.assumed()))
                .hasMessageContaining("channels");
    }
}
