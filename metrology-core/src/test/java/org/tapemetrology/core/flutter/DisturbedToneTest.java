/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.flutter.Recordings.measure;
import static org.tapemetrology.core.flutter.Recordings.status;
import static org.tapemetrology.core.flutter.Recordings.value;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Named;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.signals.Constant;
import org.tapemetrology.signals.Dropout;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Hum;
import org.tapemetrology.signals.PinkNoise;
import org.tapemetrology.signals.Quantiser;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.WhiteNoise;

/** What a real recording does to the readings: disturbances leave them alone, faults never pass without a status. */
class DisturbedToneTest {
    private static final int RATE = 48_000;
    private static final double AMPLITUDE = 0.5;
    private static final List<Quantity> FLUTTER = List.of(
            Quantity.FLUTTER_WEIGHTED_QUASI_PEAK,
            Quantity.FLUTTER_WEIGHTED_TWO_SIGMA,
            Quantity.FLUTTER_WEIGHTED_RMS,
            Quantity.FLUTTER_WEIGHTED_AVERAGE,
            Quantity.FLUTTER_UNWEIGHTED_RMS,
            Quantity.WOW_RMS);

    private static FmTone.Builder machine() {
        return FmTone.builder(3150)
                .amplitude(AMPLITUDE)
                .speedError(0.004)
                .sine(1.4, 0.0004)
                .sine(4, 0.001)
                .sine(7.6, 0.0005);
    }

    private static double level(double decibels) {
        return AMPLITUDE * Math.pow(10, decibels / 20);
    }

    private static Stream<Arguments> disturbances() {
        FmTone tone = machine().build();
        double hiss = level(-50) / Math.sqrt(2);
        return Stream.of(
                Arguments.of(Named.of("10 % AM at 4 Hz", tone.amplitudeModulated(0.1, 4))),
                Arguments.of(Named.of("hum at -24 dB", tone.plus(Hum.pure(50, level(-24))))),
                Arguments.of(Named.of("DC", tone.plus(new Constant(0.1)))),
                Arguments.of(Named.of(
                        "5 % third harmonic", machine().harmonic(3, 0.05).build())),
                Arguments.of(Named.of("hiss at -50 dB", tone.plus(new WhiteNoise(9, hiss, RATE)))),
                Arguments.of(Named.of("-50 dBFS", tone.scaledBy(level(-50) / AMPLITUDE / AMPLITUDE))));
    }

    @ParameterizedTest
    @MethodSource("disturbances")
    void disturbancesMoveNoReadingBy3Percent(Signal disturbed) {
        Measurement clean = measure(machine().build(), RATE, 40);
        Measurement measured = measure(disturbed, RATE, 40, Quantiser.dithered(24, 4));
        for (Quantity quantity : FLUTTER) {
            double reference = value(clean, quantity);
            assertThat(value(measured, quantity)).as(quantity.id()).isCloseTo(reference, within(0.03 * reference));
        }
        // Hiss of -50 dB moves the mean of 40 s by far less than 0.001 %.
        assertThat(value(measured, Quantity.SPEED_ERROR)).isCloseTo(value(clean, Quantity.SPEED_ERROR), within(0.001));
        assertThat(measured.warnings()).isEmpty();
    }

    @Test
    void floorOfACleanTone() {
        FmTone tone = FmTone.builder(3150).amplitude(AMPLITUDE).build();
        Measurement fine = measure(tone, RATE, 20, Quantiser.plain(24));
        Measurement coarse = measure(tone, RATE, 20, Quantiser.dithered(16, 2));
        assertThat(value(fine, Quantity.FLUTTER_WEIGHTED_QUASI_PEAK)).isLessThan(5e-6);
        assertThat(value(coarse, Quantity.FLUTTER_WEIGHTED_QUASI_PEAK)).isLessThan(2e-5);
        assertThat(fine.warnings()).isEmpty();
        // The amplitude 0.5 is 6.0206 dB below a full-scale sine.
        assertThat(value(fine, Quantity.LEVEL)).isCloseTo(-6.0206, within(0.001));
    }

    private static Stream<Arguments> noTone() {
        FmTone tone = FmTone.builder(3150).amplitude(0.3).build();
        return Stream.of(
                Arguments.of(Named.of("silence", Constant.SILENCE), Status.NO_CARRIER),
                Arguments.of(Named.of("white noise", new WhiteNoise(1, 0.1, RATE)), Status.NO_CARRIER),
                Arguments.of(Named.of("pink noise", new PinkNoise(1, 0.1, RATE)), Status.NO_CARRIER),
                Arguments.of(
                        Named.of(
                                "two carriers",
                                tone.plus(FmTone.builder(3000).amplitude(0.3).build())),
                        Status.AMBIGUOUS),
                Arguments.of(
                        Named.of(
                                "a carrier 16 dB below",
                                tone.plus(FmTone.builder(3000).amplitude(0.048).build())),
                        Status.AMBIGUOUS),
                Arguments.of(
                        Named.of(
                                "3150 Hz and 12.5 kHz",
                                tone.plus(FmTone.builder(12_500).amplitude(0.3).build())),
                        Status.AMBIGUOUS));
    }

    @ParameterizedTest
    @MethodSource("noTone")
    void noNumberWithoutOneTone(Signal signal, Status expected) {
        Measurement measured = measure(signal, RATE, 12);
        for (Quantity quantity : FLUTTER) {
            assertThat(status(measured, quantity)).as(quantity.id()).isEqualTo(expected);
        }
        assertThat(status(measured, Quantity.SPEED_ERROR)).isEqualTo(expected);
        assertThat(status(measured, Quantity.SPEED_DRIFT)).isEqualTo(expected);
    }

    @Test
    void aWeakSecondToneThatOnlyTheBeatTellsIsFound() {
        FmTone tone = FmTone.builder(3150).amplitude(0.3).build();
        // 32 dB below: its beat of 150 Hz makes 0.12 % of deviation.
        Measurement measured =
                measure(tone.plus(FmTone.builder(3000).amplitude(0.0075).build()), RATE, 12);
        assertThat(status(measured, Quantity.FLUTTER_WEIGHTED_RMS)).isEqualTo(Status.AMBIGUOUS);
        assertThat(measured.warnsOf(WarningCode.SECOND_TONE)).isTrue();
    }

    /** The second harmonic of half the tone stands where the tone is looked for; the third of a third, too. */
    @ParameterizedTest
    @ValueSource(ints = {2, 3})
    void aTapeAtHalfSpeedIsNotMeasuredByItsHarmonic(int order) {
        FmTone tone = FmTone.builder(3150.0 / order)
                .amplitude(0.4)
                .harmonic(order, 0.01)
                .build();
        Measurement measured = Recordings.measure(
                SampledSignal.of(tone, RATE),
                12,
                ToneMeter.builder(RATE).nominalHz(3150).build());
        assertThat(status(measured, Quantity.FLUTTER_WEIGHTED_RMS)).isEqualTo(Status.AMBIGUOUS);
        assertThat(status(measured, Quantity.SPEED_ERROR)).isEqualTo(Status.AMBIGUOUS);
    }

    @Test
    void anotherToneKeepsFrequencyAndLevel() {
        Measurement measured = measure(FmTone.builder(1000).amplitude(0.25).build(), RATE, 12);
        assertThat(value(measured, Quantity.TONE_FREQUENCY)).isCloseTo(1000, within(1e-4));
        assertThat(value(measured, Quantity.LEVEL)).isCloseTo(-12.0412, within(0.001));
        assertThat(status(measured, Quantity.SPEED_ERROR)).isEqualTo(Status.NO_CARRIER);
        assertThat(status(measured, Quantity.FLUTTER_WEIGHTED_RMS)).isEqualTo(Status.NO_CARRIER);
    }

    @Test
    void halfASecondIsTooShortForEverything() {
        Measurement measured = measure(machine().build(), RATE, 0.5);
        assertThat(measured.readings()).noneMatch(r -> r.isValid());
    }

    @Test
    void figuresComeAsSoonAsTheirTimeIsOver() {
        FmTone tone = machine().build();
        assertThat(status(measure(tone, RATE, 7.9), Quantity.FLUTTER_WEIGHTED_RMS))
                .isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(status(measure(tone, RATE, 8.2), Quantity.FLUTTER_WEIGHTED_RMS))
                .isEqualTo(Status.VALID);
        assertThat(status(measure(tone, RATE, 34.9), Quantity.WOW_RMS)).isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(status(measure(tone, RATE, 35.2), Quantity.WOW_RMS)).isEqualTo(Status.VALID);
        assertThat(status(measure(tone, RATE, 29.9), Quantity.SPEED_DRIFT)).isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(status(measure(tone, RATE, 30.2), Quantity.SPEED_DRIFT)).isEqualTo(Status.VALID);
        assertThat(status(measure(tone, RATE, 20.2), Quantity.SPEED_RANGE)).isEqualTo(Status.VALID);
        assertThat(status(measure(tone, RATE, 1.2), Quantity.SPEED_ERROR)).isEqualTo(Status.VALID);
    }

    @Test
    void dropoutsAreBridgedAndTold() {
        Measurement clean = measure(machine().build(), RATE, 60);
        Measurement measured = measure(
                machine()
                        .build()
                        .withDropouts(
                                new Dropout(10, 0.02, 40, 0.002),
                                new Dropout(20, 0.05, 60, 0.002),
                                new Dropout(30, 0.3, 60, 0.002)),
                RATE,
                60);
        List<Warning> lost = measured.warnings().stream()
                .filter(w -> w.code() == WarningCode.CARRIER_LOST)
                .toList();
        assertThat(lost).hasSize(3);
        assertThat(lost.get(1).fromSeconds().orElseThrow()).isCloseTo(20, within(0.015)); // windows of 5 ms
        assertThat(lost.get(1).toSeconds().orElseThrow()).isCloseTo(20.05, within(0.015));
        for (Quantity quantity : FLUTTER) {
            double reference = value(clean, quantity);
            // Three seconds of sixty are left out of figures that repeat every 5 s.
            assertThat(value(measured, quantity)).as(quantity.id()).isCloseTo(reference, within(0.02 * reference));
        }
    }

    @Test
    void manyDropoutsInterruptFlutterButNotSpeed() {
        Dropout[] many = new Dropout[30];
        for (int i = 0; i < many.length; i++) {
            many[i] = new Dropout(2 + i, 0.15, 60, 0.002);
        }
        Measurement measured = measure(machine().build().withDropouts(many), RATE, 40);
        assertThat(status(measured, Quantity.FLUTTER_WEIGHTED_RMS)).isEqualTo(Status.INTERRUPTED);
        assertThat(status(measured, Quantity.SPEED_ERROR)).isEqualTo(Status.VALID);
        assertThat(status(measured, Quantity.LEVEL)).isEqualTo(Status.VALID);
        assertThat(measured.warnsOf(WarningCode.CARRIER_LOST)).isTrue();
    }

    @Test
    void theLongestStretchCountsAndTheOthersAreTold() {
        FmTone tone = machine().build();
        Measurement measured = measure(t -> t > 15 && t < 18 ? 0 : tone.at(t), RATE, 45);
        List<Warning> others = measured.warnings().stream()
                .filter(w -> w.code() == WarningCode.SEVERAL_STRETCHES)
                .toList();
        assertThat(others).hasSize(1);
        assertThat(others.get(0).fromSeconds().orElseThrow()).isCloseTo(0, within(0.05));
        assertThat(others.get(0).toSeconds().orElseThrow()).isCloseTo(15, within(0.05));
        assertThat(status(measured, Quantity.FLUTTER_WEIGHTED_RMS)).isEqualTo(Status.VALID);
    }

    @Test
    void silenceOrAnotherToneAroundTheCarrierIsNoInterruption() {
        FmTone tone = machine().build();
        FmTone before = FmTone.builder(1000).amplitude(0.5).build();
        FmTone after = FmTone.builder(10_000).amplitude(0.5).build();
        Signal tape = t -> t < 5 ? before.at(t) : t < 6 ? 0 : t < 46 ? tone.at(t) : after.at(t);
        Measurement measured = measure(tape, RATE, 110);
        Measurement alone = measure(tone, RATE, 40);
        // The longer 10 kHz stretch does not count: only the 3150 Hz tone can be the carrier.
        assertThat(value(measured, Quantity.TONE_FREQUENCY))
                .isCloseTo(value(alone, Quantity.TONE_FREQUENCY), within(0.01));
        double reference = value(alone, Quantity.FLUTTER_WEIGHTED_RMS);
        // The same 37 s but for the moment at which they begin.
        assertThat(value(measured, Quantity.FLUTTER_WEIGHTED_RMS)).isCloseTo(reference, within(0.01 * reference));
        assertThat(measured.warnsOf(WarningCode.CARRIER_LOST)).isFalse();
    }

    @Test
    void hardClippingIsOverload() {
        Signal loud = machine().build().scaledBy(2.4);
        Measurement clipped = measure(loud.clippedAt(0.9), RATE, 12);
        assertThat(status(clipped, Quantity.LEVEL)).isEqualTo(Status.OVERLOAD);
        assertThat(clipped.warnsOf(WarningCode.OVERLOAD)).isTrue();
        Measurement atFullScale = measure(loud, RATE, 12, Quantiser.plain(16));
        assertThat(status(atFullScale, Quantity.LEVEL)).isEqualTo(Status.OVERLOAD);
        // A quiet tone whose crests are rounded flat is none.
        Measurement quiet = measure(FmTone.builder(1000).amplitude(0.001).build(), RATE, 12, Quantiser.plain(16));
        assertThat(status(quiet, Quantity.LEVEL)).isEqualTo(Status.VALID);
        assertThat(quiet.warnsOf(WarningCode.OVERLOAD)).isFalse();
    }

    @Test
    void aSampleThatIsNoNumberInvalidatesEverythingUntilReset() {
        FmTone tone = machine().build();
        ToneMeter meter = ToneMeter.builder(RATE).build();
        double[] samples = new double[12 * RATE];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = tone.at(i / (double) RATE);
        }
        samples[5 * RATE] = Double.NaN;
        meter.accept(samples, 0, samples.length);
        assertThat(meter.reading().readings()).allMatch(r -> r.status() == Status.INVALID_INPUT);
        assertThat(meter.reading().warnings().get(0).fromSeconds().orElseThrow())
                .isEqualTo(5);
        meter.reset();
        samples[5 * RATE] = 0;
        meter.accept(samples, 0, samples.length);
        assertThat(status(meter.reading(), Quantity.FLUTTER_WEIGHTED_RMS)).isEqualTo(Status.VALID);
    }

    @Test
    void assumedNominalIsToldWithTheOtherCandidate() {
        Measurement measured =
                measure(FmTone.builder(3150).amplitude(0.3).speedError(-0.0371).build(), RATE, 5);
        Warning warning = measured.warnings().stream()
                .filter(w -> w.code() == WarningCode.NOMINAL_ASSUMED)
                .findFirst()
                .orElseThrow();
        assertThat(warning.message())
                .contains("3000 Hz")
                .contains("+1.10 %")
                .contains("3150 Hz")
                .contains("-3.71 %");
        Measurement near = measure(FmTone.builder(3150).amplitude(0.3).build(), RATE, 5);
        assertThat(near.warnsOf(WarningCode.NOMINAL_ASSUMED)).isFalse();
    }

    @Test
    void driftAndRangeOfALinearlySlowingTape() {
        // 0.06 % in a minute; means over 10 s from 0 to 50 s differ by 40 s of it.
        FmTone tone = FmTone.builder(3150).amplitude(0.3).drift(-1e-5).build();
        Measurement measured = measure(tone, RATE, 51);
        assertThat(value(measured, Quantity.SPEED_DRIFT)).isCloseTo(-0.06, within(0.06 * 0.001));
        assertThat(value(measured, Quantity.SPEED_RANGE)).isCloseTo(0.04, within(0.04 * 0.001));
    }

    @Test
    void noiseThatMakesUpAFigureIsTold() {
        Measurement measured =
                measure(machine().build().plus(new WhiteNoise(9, level(-20) / Math.sqrt(2), RATE)), RATE, 40);
        assertThat(measured.warnsOf(WarningCode.NOISE)).isTrue();
    }

    @Test
    void scrapeFlutterIsReadWhereItStandsOutOfTheNoise() {
        // 0.03 % peak at 500 Hz: 0.0212 % RMS, with hiss at -60 dB adding in power.
        Signal scraping = FmTone.builder(3150)
                .amplitude(AMPLITUDE)
                .sine(500, 0.0003)
                .build()
                .plus(new WhiteNoise(9, level(-60) / Math.sqrt(2), RATE));
        Measurement measured = measure(scraping, RATE, 12);
        // 3 %: the noise alone adds 1.6 % in power.
        assertThat(value(measured, Quantity.FLUTTER_SCRAPE_RMS)).isCloseTo(0.03 / Math.sqrt(2), within(0.0007));
        Measurement noisy =
                measure(machine().build().plus(new WhiteNoise(9, level(-40) / Math.sqrt(2), RATE)), RATE, 12);
        assertThat(status(noisy, Quantity.FLUTTER_SCRAPE_RMS)).isEqualTo(Status.AMBIGUOUS);
        // 12.5 kHz leaves room up to 5 kHz.
        Signal high = FmTone.builder(12_500).amplitude(0.3).sine(3500, 0.0005).build();
        assertThat(value(measure(high, RATE, 12), Quantity.FLUTTER_SCRAPE_RMS))
                .isCloseTo(0.05 / Math.sqrt(2), within(0.0005));
    }

    @Test
    void worstMomentIsFound() {
        FmTone quiet = FmTone.builder(3150).amplitude(0.3).sine(4, 0.0002).build();
        // A burst of flutter from 20 s to 21 s: the meter is highest within the second after it begins.
        FmTone burst = FmTone.builder(3150)
                .amplitude(0.3)
                .sine(4, 0.0002)
                .pulses(0.004, 0.1, 1000, 20)
                .build();
        Measurement measured = measure(burst, RATE, 40);
        assertThat(measured.find(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM)
                        .orElseThrow()
                        .atSeconds()
                        .orElseThrow())
                .isBetween(20.0, 21.0);
        assertThat(value(measured, Quantity.FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM))
                .isGreaterThan(2 * value(measure(quiet, RATE, 40), Quantity.FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM));
    }
}
