/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.LiveMeter.Indicator;
import org.tapemetrology.core.flutter.FlutterIndicator;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.uncertainty.StatedValue;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.signals.Dropout;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Sequence;
import org.tapemetrology.signals.Sequence.Section;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.WhiteNoise;

/** What is shown while a recording is measured, and that showing it changes nothing. */
class LiveMeterTest {
    private static final int RATE = 44_100;

    private static float[] interleaved(double seconds, Signal... channels) {
        int frames = (int) (seconds * RATE);
        float[] samples = new float[frames * channels.length];
        float[] one = new float[frames];
        for (int c = 0; c < channels.length; c++) {
            SampledSignal.of(channels[c], RATE).fill(0, one, 0, frames);
            for (int i = 0; i < frames; i++) {
                samples[i * channels.length + c] = one[i];
            }
        }
        return samples;
    }

    private static LiveMeter meter(int channels) {
        return LiveMeter.builder(RecordingMeter.builder(RATE, channels)).build();
    }

    private static LiveMeter shown(Quantity flutter, double seconds, Signal... channels) {
        LiveMeter meter = LiveMeter.builder(RecordingMeter.builder(RATE, channels.length))
                .flutter(flutter)
                .indicator(Indicator.NONE)
                .build();
        float[] samples = interleaved(seconds, channels);
        meter.accept(samples, 0, samples.length / channels.length);
        return meter;
    }

    private static FmTone replayed(double deviation) {
        return FmTone.builder(3150)
                .amplitude(0.3)
                .speedError(0.004)
                .sine(4, deviation)
                .build();
    }

    private static double value(Reading reading) {
        return reading.value().orElseThrow(() -> new AssertionError(reading.toString()));
    }

    /** The readings are those of the recording meter to the last bit, and what is shown depends on the samples alone. */
    @ParameterizedTest
    @ValueSource(ints = {1, 2})
    void anyBlockSizeShowsAndReadsTheSame(int channels) {
        Signal[] signals = {
            replayed(0.001).withDropouts(new Dropout(12, 0.03, 60, 0.002)),
            replayed(0.0014).scaledBy(0.7).delayedBy(8e-6)
        };
        float[] samples = channels == 1 ? interleaved(38.007, signals[0]) : interleaved(38.007, signals);
        int all = samples.length / channels;
        RecordingMeter plain = RecordingMeter.builder(RATE, channels).build();
        plain.accept(samples, 0, all);
        List<List<LiveReading>> shown = new ArrayList<>();
        int second = RATE; // a common multiple of nothing: looks lie at every 882 frames
        for (int block : new int[] {1, 97, 480, 4096, all}) {
            LiveMeter live = meter(channels);
            List<LiveReading> readings = new ArrayList<>();
            for (int at = 0; at < all; ) {
                int untilAsked = second - at % second;
                int frames = Math.min(Math.min(block, untilAsked), all - at);
                live.accept(samples, at * channels, frames);
                at += frames;
                if (at % second == 0) {
                    readings.add(live.reading());
                    assertThat(live.reading()).isEqualTo(readings.get(readings.size() - 1));
                }
            }
            assertThat(live.measurement()).isEqualTo(plain.reading());
            shown.add(readings);
        }
        assertThat(shown).containsOnly(shown.get(0));
        assertThat(shown.get(0)).hasSize(38);
        assertThat(shown.get(0).get(37).channels().get(0).flutter().status()).isEqualTo(Status.VALID);
        assertThat(shown.get(0).get(37).seconds()).isCloseTo(38, within(0.1));
    }

    /**
     * Closed forms. Younger runs have a share in the mean of the speed; over 3 s a part of a flutter period counts up to
     * 0.1 %/(pi 4 Hz 3 s) = 2.7e-3 %.
     */
    @Test
    void showsSpeedLevelBalanceAndDelay() {
        FmTone tone = replayed(0.001);
        LiveReading shown = shown(
                        Quantity.FLUTTER_WEIGHTED_QUASI_PEAK,
                        20,
                        tone,
                        tone.scaledBy(0.5).delayedBy(8e-6))
                .reading();
        LiveReading.Channel first = shown.channels().get(0);
        assertThat(value(first.speedError().steady())).isCloseTo(0.4, within(2.7e-3));
        assertThat(value(first.frequency().steady())).isCloseTo(3150 * 1.004, within(0.085));
        assertThat(first.frequency().steady().channel()).hasValue(1);
        // 20 lg 0.3 = -10.458 dBFS; single precision and the edges of the demodulator leave less than 0.001 dB.
        assertThat(value(first.levels().get(0).steady())).isCloseTo(-10.4576, within(1e-3));
        assertThat(first.levels().get(0).now().orElseThrow()).isCloseTo(-10.4576, within(1e-3));
        assertThat(shown.balance().orElseThrow().now().orElseThrow()).isCloseTo(-6.0206, within(1e-3));
        assertThat(value(shown.balance().orElseThrow().steady())).isCloseTo(-6.0206, within(1e-3));
        assertThat(value(shown.azimuthDelay().orElseThrow().steady())).isCloseTo(8, within(0.02));
        // The first second finds the tone, and windows of level that are not whole do not count.
        assertThat(first.levels().get(0).averagedSeconds()).isBetween(18.5, 20.0);
        assertThat(first.levels().get(0).steady().uncertainty()).isPresent();
    }

    /** A 4 Hz sine of 0.1 % peak: what each instrument reads of it (design of the figures; the two-sigma of a sine by its arcsine law). */
    @ParameterizedTest
    @CsvSource({
        "FLUTTER_WEIGHTED_QUASI_PEAK, 0.1, 0.001",
        "FLUTTER_WEIGHTED_TWO_SIGMA, 0.0997, 0.001",
        "FLUTTER_WEIGHTED_RMS, 0.07071, 0.001",
        "FLUTTER_WEIGHTED_AVERAGE, 0.07071, 0.001",
        "FLUTTER_UNWEIGHTED_PEAK, 0.1, 0.003",
        "FLUTTER_UNWEIGHTED_RMS, 0.07071, 0.001",
        "FLUTTER_UNWEIGHTED_AVERAGE, 0.07071, 0.001",
        "WOW_RMS, 0.07071, 0.001"
    })
    void showsTheChosenFlutterFigure(Quantity figure, double percent, double relative) {
        // 5 s and 20 s are whole periods; filters and detectors are within 0.1 %, see the tests of the meter.
        FlutterIndicator.Shown shown =
                shown(figure, 40, replayed(0.001)).reading().channels().get(0).flutter();
        assertThat(shown.figure()).isEqualTo(figure);
        assertThat(shown.status()).isEqualTo(Status.VALID);
        for (OptionalDouble each : List.of(shown.nowPercent(), shown.worstPercent(), shown.meanPercent())) {
            // The indication of the peak detectors sways by a few per cent within a period, which now and mean show.
            // The 5 s end where blocks of the demodulator end, up to 20 ms off: 0.4 % of them.
            double sway = figure.id().contains("peak") && !each.equals(shown.worstPercent()) ? 0.1 : 0.004 + relative;
            assertThat(each.orElseThrow()).isCloseTo(percent, within(sway * percent));
        }
        assertThat(shown.worstPercent().orElseThrow())
                .isGreaterThanOrEqualTo(shown.nowPercent().orElseThrow());
    }

    /** Worst and mean are those of the readings where there are such. */
    @Test
    void holdsWhatTheReadingsHold() {
        Map<Quantity, List<Quantity>> held = Map.of(
                Quantity.FLUTTER_WEIGHTED_QUASI_PEAK,
                List.of(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM, Quantity.FLUTTER_WEIGHTED_QUASI_PEAK_MEAN),
                Quantity.FLUTTER_WEIGHTED_TWO_SIGMA,
                List.of(Quantity.FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM, Quantity.FLUTTER_WEIGHTED_TWO_SIGMA));
        // The phase jumps where one section follows another, as at a splice.
        Signal worseForAWhile = Sequence.of(
                new Section(replayed(0.0005), 15), new Section(replayed(0.002), 8), new Section(replayed(0.0005), 15));
        held.forEach((figure, readings) -> {
            LiveMeter meter = shown(figure, 38, worseForAWhile);
            FlutterIndicator.Shown shown = meter.reading().channels().get(0).flutter();
            Measurement measured = meter.measurement();
            assertThat(shown.worstPercent())
                    .isEqualTo(measured.find(readings.get(0)).orElseThrow().value());
            assertThat(shown.meanPercent())
                    .isEqualTo(measured.find(readings.get(1)).orElseThrow().value());
            assertThat(shown.worstPercent().orElseThrow())
                    .isGreaterThan(3 * shown.nowPercent().orElseThrow());
        });
    }

    /** Whoever turns a trimmer by 1 dB, or a head by 10 us, sees it after 3 s; a clean tape leaves no doubt. */
    @Test
    void followsWhoTurnsATrimmer() {
        FmTone tone = replayed(0.0005);
        Signal quiet = tone.scaledBy(0.891251); // -1 dB
        LiveReading shown = shown(
                        Quantity.FLUTTER_WEIGHTED_RMS,
                        33,
                        Sequence.of(new Section(tone, 30), new Section(quiet, 3)),
                        Sequence.of(new Section(tone, 30), new Section(tone.delayedBy(10e-6), 3)))
                .reading();
        // Asked for: 80 %.
        assertThat(value(shown.channels().get(0).levels().get(0).steady())).isLessThan(-10.4576 - 0.8);
        assertThat(value(shown.balance().orElseThrow().steady())).isGreaterThan(0.8);
        assertThat(value(shown.azimuthDelay().orElseThrow().steady())).isBetween(8.0, 10.5);
    }

    /** A head that is turned by more than a half cycle of its tone, 50 us at 10 kHz, is followed all the way. */
    @Test
    void followsAHeadThatIsTurnedFar() {
        Signal tone = new Sine(10_000, 0.3, 0);
        Signal[] parts = new Signal[8];
        Section[] sections = new Section[parts.length];
        for (int i = 0; i < parts.length; i++) {
            sections[i] = new Section(tone.delayedBy(10e-6 * (4 - i)), 3); // from 40 us to -30 us
        }
        LiveReading shown = shown(Quantity.FLUTTER_WEIGHTED_RMS, 24, tone, Sequence.of(sections))
                .reading();
        assertThat(shown.azimuthDelay().orElseThrow().now().orElseThrow()).isCloseTo(-30, within(2.0));
    }

    @Test
    void knownErrorsOfTheTapeAreCorrectedAsInTheReadings() {
        TestTape usual = TestTape.assumed();
        TestTape tape = new TestTape(
                "worn",
                StatedValue.certified(0.1, 0.02, 2, "this test"),
                usual.slowSpeed(),
                usual.ownFlutter(),
                usual.level(),
                usual.levelFluctuation(),
                usual.balance(),
                usual.response(),
                usual.delay());
        LiveMeter meter = LiveMeter.builder(
                        RecordingMeter.builder(RATE, 1).testTape(tape).referenceLevel(new DigitalLevel(-14)))
                .build();
        float[] samples = interleaved(20, replayed(0.0001));
        meter.accept(samples, 0, samples.length);
        LiveReading.Channel shown = meter.reading().channels().get(0);
        double read = value(meter.measurement().find(Quantity.SPEED_ERROR).orElseThrow());
        // (1.004/1.001 - 1) = 0.2997 %
        assertThat(read).isCloseTo(0.2997, within(1e-3));
        assertThat(value(shown.speedError().steady())).isCloseTo(read, within(2e-4));
        assertThat(shown.speedError().now().orElseThrow()).isCloseTo(read, within(1e-3));
        assertThat(shown.levels()).hasSize(2);
        assertThat(shown.levels().get(1).steady().quantity()).isEqualTo(Quantity.LEVEL_RE_REFERENCE);
        assertThat(shown.levels().get(1).now().orElseThrow()).isCloseTo(-10.4576 + 14, within(1e-3));
    }

    @Test
    void aStoppedTapeHasNoFigureAndTheNextToneBeginsAnew() {
        Signal tape = Sequence.of(
                new Section(replayed(0.002), 12),
                Section.silence(4),
                new Section(replayed(0.0002).scaledBy(0.5), 12));
        LiveMeter meter = meter(1);
        float[] samples = interleaved(28, tape);
        meter.accept(samples, 0, 14 * RATE);
        LiveReading.Channel stopped = meter.reading().channels().get(0);
        assertThat(stopped.levels().get(0).steady().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(stopped.levels().get(0).now()).isEmpty();
        assertThat(stopped.speedError().steady().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(stopped.flutter().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(stopped.flutter().nowPercent()).isEmpty();
        meter.accept(samples, 14 * RATE, 14 * RATE);
        LiveReading.Channel again = meter.reading().channels().get(0);
        assertThat(value(again.levels().get(0).steady())).isCloseTo(-10.4576 - 6.0206, within(0.01));
        assertThat(again.flutter().worstPercent().orElseThrow()).isLessThan(0.03);
        // A splice of silence to tone is no tape: its click may show at the start, which the settling leaves out.
        assertThat(value(meter.measurement().find(Quantity.FLUTTER_WEIGHTED_RMS).orElseThrow()))
                .as("the readings are of the longest stretch, whichever is shown")
                .isEqualTo(
                        value(plain(samples).find(Quantity.FLUTTER_WEIGHTED_RMS).orElseThrow()));
    }

    private static Measurement plain(float[] samples) {
        RecordingMeter meter = RecordingMeter.builder(RATE, 1).build();
        meter.accept(samples, 0, samples.length);
        return meter.reading();
    }

    @Test
    void theFirstSecondSettles() {
        LiveMeter meter = meter(2);
        assertThat(meter.reading().channels()).hasSize(2);
        assertThat(meter.reading().seconds()).isZero();
        float[] samples = interleaved(1.2, replayed(0.001), replayed(0.001));
        meter.accept(samples, 0, samples.length / 2);
        LiveReading.Channel shown = meter.reading().channels().get(0);
        assertThat(shown.frequency().steady().status()).isIn(Status.SETTLING, Status.INSUFFICIENT_DATA);
        assertThat(shown.flutter().status()).isEqualTo(Status.INSUFFICIENT_DATA);
    }

    @Test
    void aSampleThatIsNoNumberMakesEverythingInvalid() {
        LiveMeter meter = meter(2);
        float[] samples = interleaved(10, replayed(0.001), replayed(0.001));
        samples[samples.length / 2] = Float.NaN;
        meter.accept(samples, 0, samples.length / 2);
        LiveReading shown = meter.reading();
        int broken = (samples.length / 2) % 2;
        LiveReading.Channel channel = shown.channels().get(broken);
        assertThat(channel.levels().get(0).steady().status()).isEqualTo(Status.INVALID_INPUT);
        assertThat(channel.frequency().steady().status()).isEqualTo(Status.INVALID_INPUT);
        assertThat(channel.flutter().status()).isEqualTo(Status.INVALID_INPUT);
        assertThat(channel.indicator()).allMatch(reading -> reading.status() == Status.INVALID_INPUT);
        assertThat(shown.balance().orElseThrow().steady().status()).isEqualTo(Status.INVALID_INPUT);
        meter.reset();
        assertThat(meter.reading()).isEqualTo(meter(2).reading());
    }

    @Test
    void noiseHasALevelMeterAlone() {
        LiveMeter meter = LiveMeter.builder(RecordingMeter.builder(RATE, 1))
                .indicator(Indicator.PROGRAMME_PEAK_TWO)
                .build();
        float[] samples = interleaved(5, new WhiteNoise(3, 0.1, RATE));
        meter.accept(samples, 0, samples.length);
        LiveReading.Channel shown = meter.reading().channels().get(0);
        assertThat(shown.levels().get(0).steady().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(shown.indicator().get(0).quantity()).isEqualTo(Quantity.LEVEL_PROGRAMME_PEAK);
        assertThat(shown.indicator()).allMatch(Reading::isValid);
        assertThat(meter.reading().balance()).isEmpty();
    }

    @Test
    void meansCanBeBegunAnew() {
        LiveMeter meter = shown(Quantity.FLUTTER_WEIGHTED_RMS, 20, replayed(0.001), replayed(0.001));
        meter.restartMeans();
        LiveReading shown = meter.reading();
        assertThat(shown.channels().get(0).levels().get(0).steady().status()).isEqualTo(Status.SETTLING);
        assertThat(shown.channels().get(0).flutter().status()).isEqualTo(Status.VALID);
    }

    @Test
    void lostSamplesAreCountedAndLeaveNoFlutterFigure() {
        float[] samples = interleaved(20, replayed(0.001));
        LiveMeter meter = meter(1);
        meter.accept(samples, 0, 10 * RATE);
        meter.inputLost();
        meter.accept(samples, 10 * RATE + 7777, 5 * RATE);
        meter.inputLost();
        meter.accept(samples, 16 * RATE, 4 * RATE);
        Measurement measured = meter.measurement();
        assertThat(measured.readings())
                .filteredOn(reading -> reading.quantity().id().startsWith("flutter.")
                        || reading.quantity().id().startsWith("wow."))
                .isNotEmpty()
                .noneMatch(Reading::isValid);
        assertThat(measured.find(Quantity.FLUTTER_WEIGHTED_RMS, 1).orElseThrow().status())
                .isEqualTo(Status.INTERRUPTED);
        assertThat(measured.find(Quantity.LEVEL).orElseThrow().isValid()).isTrue();
        assertThat(measured.warnings())
                .filteredOn(warning -> warning.code() == WarningCode.INPUT_OVERRUN)
                .singleElement()
                .satisfies(warning -> {
                    assertThat(warning.message()).contains("2 times");
                    assertThat(warning.fromSeconds()).hasValue(10);
                    assertThat(warning.toSeconds()).hasValue(15);
                });
        assertThat(meter.reading().overruns()).isEqualTo(2);
        assertThat(meter.reading().channels().get(0).flutter().status()).isEqualTo(Status.INTERRUPTED);
        assertThat(meter.reading().channels().get(0).flutter().worstPercent()).isEmpty();
        meter.reset();
        assertThat(meter.reading().overruns()).isZero();
    }

    @Test
    void whatIsNoFlutterFigureIsRefusedByName() {
        LiveMeter.Builder builder = LiveMeter.builder(RecordingMeter.builder(RATE, 1));
        assertThatThrownBy(() -> builder.flutter(Quantity.LEVEL))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("level")
                .hasMessageContaining("flutter.weighted.two-sigma");
    }
}
