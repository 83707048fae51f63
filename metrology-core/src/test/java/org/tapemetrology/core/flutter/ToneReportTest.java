/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.quantity.Quantity.*;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;

/** What is said of a recording, reading by reading and in words: closed-form tones at 8 kHz. */
class ToneReportTest {
    private static final int RATE = 8000;
    private static final Set<Quantity> FLUTTER = EnumSet.of(
            FLUTTER_WEIGHTED_QUASI_PEAK,
            FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM,
            FLUTTER_WEIGHTED_QUASI_PEAK_MEAN,
            FLUTTER_WEIGHTED_TWO_SIGMA,
            FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM,
            FLUTTER_WEIGHTED_RMS,
            FLUTTER_WEIGHTED_AVERAGE,
            FLUTTER_UNWEIGHTED_PEAK,
            FLUTTER_UNWEIGHTED_RMS,
            FLUTTER_UNWEIGHTED_AVERAGE,
            WOW_RMS,
            FLUTTER_RMS);
    private static final Set<Quantity> SPEED = EnumSet.of(SPEED_ERROR, SPEED_DRIFT, SPEED_RANGE);
    private static final Set<Quantity> LEVELS = EnumSet.of(LEVEL, LEVEL_FLUCTUATION, LEVEL_MEDIAN, LEVEL_TIME_NEEDED);

    private static float[] samples(Signal signal, double seconds) {
        float[] x = new float[(int) Math.round(seconds * RATE)];
        for (int i = 0; i < x.length; i++) {
            x[i] = (float) signal.at(i / (double) RATE);
        }
        return x;
    }

    private static Measurement measured(float[] x) {
        ToneMeter meter = ToneMeter.builder(RATE).build();
        meter.accept(x, 0, x.length);
        return meter.reading();
    }

    private static Measurement measured(Signal signal, double seconds) {
        return measured(samples(signal, seconds));
    }

    private static Measurement measured(Signal signal, double seconds, double nominalHz) {
        ToneMeter meter = ToneMeter.builder(RATE).nominalHz(nominalHz).build();
        float[] x = samples(signal, seconds);
        meter.accept(x, 0, x.length);
        return meter.reading();
    }

    private static Signal during(double from, double to, Signal signal) {
        return t -> t >= from && t < to ? signal.at(t) : 0;
    }

    private static Set<Quantity> valid(Measurement measurement) {
        Set<Quantity> valid = EnumSet.noneOf(Quantity.class);
        measurement.readings().stream()
                .filter(Reading::isValid)
                .map(Reading::quantity)
                .forEach(valid::add);
        return valid;
    }

    private static void assertStatus(Measurement measurement, Set<Quantity> quantities, Status status) {
        for (Quantity quantity : quantities) {
            assertThat(Recordings.status(measurement, quantity))
                    .as(quantity.id())
                    .isEqualTo(status);
        }
    }

    private static List<String> messages(Measurement measurement, WarningCode code) {
        return measurement.warnings().stream()
                .filter(warning -> warning.code() == code)
                .map(Warning::message)
                .toList();
    }

    private static List<Warning> warnings(Measurement measurement, WarningCode code) {
        return measurement.warnings().stream()
                .filter(warning -> warning.code() == code)
                .toList();
    }

    /** Frequency and speed error need 1 s, range 20 s, drift 30 s, fast figures 8 s, slow ones 35 s: 0.1 s less does. */
    @Test
    void readingsComeAsTheToneLasts() {
        float[] x = samples(
                FmTone.builder(3150)
                        .amplitude(0.5)
                        .speedError(0.004)
                        .drift(2e-5)
                        .sine(4, 0.001)
                        .build(),
                36);
        ToneMeter meter = ToneMeter.builder(RATE).build();
        Set<Quantity> expected = EnumSet.noneOf(Quantity.class);
        Set<Quantity> fast = EnumSet.copyOf(FLUTTER);
        Set<Quantity> slow = EnumSet.of(FLUTTER_UNWEIGHTED_PEAK, FLUTTER_UNWEIGHTED_RMS, WOW_RMS);
        fast.removeAll(slow);
        List<Set<Quantity>> steps = List.of(
                Set.of(),
                EnumSet.of(TONE_FREQUENCY, SPEED_ERROR, LEVEL, LEVEL_MEDIAN),
                Set.of(),
                EnumSet.of(LEVEL_FLUCTUATION),
                Set.of(),
                fast,
                EnumSet.of(LEVEL_TIME_NEEDED),
                Set.of(),
                EnumSet.of(SPEED_RANGE),
                Set.of(),
                EnumSet.of(SPEED_DRIFT),
                Set.of(),
                slow);
        double[] until = {0.88, 1.04, 3.84, 4.04, 7.84, 8.04, 10.2, 19.84, 20.04, 29.84, 30.04, 34.8, 35.08};
        int at = 0;
        for (int i = 0; i < until.length; i++) {
            int to = (int) Math.round(until[i] * RATE);
            meter.accept(x, at, to - at);
            at = to;
            expected.addAll(steps.get(i));
            Set<Quantity> found = valid(meter.reading());
            found.remove(TONE_SIGNAL_TO_NOISE);
            assertThat(found).as("after %s s", until[i]).isEqualTo(expected);
            if (i == 0) {
                assertThat(meter.reading().readings()).hasSize(everything().size());
                assertStatus(meter.reading(), LEVELS, Status.INSUFFICIENT_DATA);
            }
        }
        Measurement measured = meter.reading();
        // 0.4 %, and 2e-5 a second of half of the time.
        double error = 0.4 + 100 * 2e-5 * 35.08 / 2;
        assertThat(Recordings.value(measured, SPEED_ERROR)).isCloseTo(error, within(0.001));
        assertThat(Recordings.value(measured, TONE_FREQUENCY)).isCloseTo(3150 * (1 + error / 100), within(0.03));
        // 60 s of it; 0.1 % at 4 Hz is worth up to 12 x 0.1 / (2 pi 4 35^2) x 60 = 0.0023 of a slope.
        assertThat(Recordings.value(measured, SPEED_DRIFT)).isCloseTo(0.12, within(0.0024));
        assertThat(Recordings.value(measured, SPEED_RANGE)).isCloseTo(0.04, within(0.0004)); // means 20 s apart
        assertThat(Recordings.value(measured, LEVEL)).isCloseTo(20 * Math.log10(0.5), within(0.001));
        assertThat(Recordings.value(measured, LEVEL_FLUCTUATION)).isLessThan(0.01);
        assertThat(Recordings.value(measured, FLUTTER_WEIGHTED_RMS)).isCloseTo(0.1 / Math.sqrt(2), within(0.0005));
        assertThat(measured.warnings()).isEmpty();
        for (Quantity quantity : EnumSet.of(TONE_FREQUENCY, SPEED_ERROR, SPEED_DRIFT, SPEED_RANGE, LEVEL)) {
            assertThat(measured.find(quantity).orElseThrow().uncertainty())
                    .as(quantity.id())
                    .isPresent();
        }
        // The error in per cent and the frequency in Hz are equally well known.
        double inHz = measured.find(TONE_FREQUENCY)
                .orElseThrow()
                .typeA()
                .orElseThrow()
                .value();
        assertThat(measured.find(SPEED_ERROR)
                        .orElseThrow()
                        .typeA()
                        .orElseThrow()
                        .value())
                .isCloseTo(inHz / 31.5, within(1e-9));
        // Two means over 10 s of 35.08 s differ by the root of 2 x 35.08/10 times what the mean is known to.
        double mean =
                measured.find(SPEED_RANGE).orElseThrow().typeA().orElseThrow().value();
        assertThat(mean).isCloseTo(Math.sqrt(2 * 35.08 / 10) * inHz / 31.6, within(0.01 * mean));
        assertThat(measured.find(SPEED_DRIFT)
                        .orElseThrow()
                        .typeA()
                        .orElseThrow()
                        .value())
                .isBetween(1e-6, 0.05);
    }

    /** Methods are told with each reading. */
    @Test
    void readingsSayHowTheyWereTaken() {
        Measurement measured = measured(new Sine(3150, 0.5), 5);
        assertThat(measured.find(TONE_FREQUENCY).orElseThrow().method()).isEqualTo("mean over the span of the tone");
        assertThat(measured.find(SPEED_ERROR).orElseThrow().method()).isEqualTo("mean over the span of the tone");
        assertThat(measured.find(SPEED_DRIFT).orElseThrow().method()).isEqualTo("least-squares slope over the span");
        assertThat(measured.find(SPEED_RANGE).orElseThrow().method()).isEqualTo("means over consecutive 10 s");
        assertThat(measured.find(LEVEL).orElseThrow().method()).isEqualTo("AES17 RMS level of the fundamental");
        assertThat(measured.find(LEVEL_FLUCTUATION).orElseThrow().method())
                .isEqualTo("2.5th to 97.5th percentile of 100 ms windows");
    }

    private static Set<Quantity> everything() {
        Set<Quantity> all = EnumSet.of(TONE_FREQUENCY);
        all.addAll(SPEED);
        all.addAll(FLUTTER);
        all.addAll(LEVELS);
        return all;
    }

    private static void assertNothing(Measurement measurement, Status status) {
        assertThat(measurement.readings()).hasSize(everything().size());
        assertStatus(measurement, everything(), status);
    }

    @Test
    void withoutAToneThereIsNoReading() {
        assertNothing(measured(t -> 0, 2), Status.NO_CARRIER);
        assertThat(measured(t -> 0, 2).warnings()).isEmpty();
        assertNothing(measured(new float[0]), Status.NO_CARRIER);
    }

    /** Two equal tones beat: it is ambiguous which of them is the carrier, if one of them can be it. */
    @Test
    void twoEqualTonesAreAmbiguous() {
        Measurement two = measured(new Sine(3150, 0.4).plus(new Sine(2850, 0.4)), 3);
        assertNothing(two, Status.AMBIGUOUS);
        assertThat(messages(two, WarningCode.SECOND_TONE))
                .containsExactly("two tones at once: neither can be followed alone");
        Measurement strange = measured(new Sine(1000, 0.4).plus(new Sine(1150, 0.4)), 3);
        assertNothing(strange, Status.NO_CARRIER);
        assertThat(strange.warnings()).isEmpty();
        assertNothing(measured(new Sine(1000, 0.4).plus(new Sine(1140, 0.4)), 3, 1070), Status.AMBIGUOUS);
    }

    /** The last of 16 000 too, which the demodulator still holds. */
    @ParameterizedTest
    @ValueSource(ints = {100, 12_345, 15_950, 15_999})
    void aSampleThatIsNoNumberInvalidatesEverything(int at) {
        float[] x = samples(new Sine(3150, 0.5), 2);
        x[at] = Float.NaN;
        Measurement measured = measured(x);
        assertNothing(measured, Status.INVALID_INPUT);
        Warning warning = measured.warnings().get(0);
        assertThat(measured.warnings()).hasSize(1);
        assertThat(warning.code()).isEqualTo(WarningCode.INVALID_SAMPLE);
        assertThat(warning.message()).isEqualTo("a sample is no finite number; nothing was measured");
        assertThat(warning.fromSeconds()).hasValue(at / 8000.0);
        assertThat(warning.toSeconds()).hasValue(at / 8000.0);
    }

    /** Of a tone that is near no published carrier the frequency and the level are told. */
    @Test
    void aToneOfNoNominalFrequencyHasNoSpeed() {
        Measurement measured = measured(new Sine(1000, 0.5), 9);
        assertThat(valid(measured))
                .contains(TONE_FREQUENCY, LEVEL, LEVEL_MEDIAN)
                .doesNotContainAnyElementsOf(SPEED);
        assertStatus(measured, SPEED, Status.NO_CARRIER);
        assertStatus(measured, FLUTTER, Status.NO_CARRIER);
        Measurement told = measured(new Sine(1000, 0.5), 9, 990);
        assertThat(Recordings.value(told, SPEED_ERROR)).isCloseTo(100 / 99.0, within(1e-4));
        assertThat(told.warnings()).isEmpty(); // it was told, and is not assumed
        assertThat(told.find(FLUTTER_WEIGHTED_RMS).orElseThrow().isValid()).isTrue();
    }

    /** More than 1 % off: then the tape may be one of the other carrier, if that is within 15 %. */
    @Test
    void anAssumedNominalFrequencyIsTold() {
        assertThat(messages(measured(new Sine(3150 * 1.02, 0.5), 2), WarningCode.NOMINAL_ASSUMED))
                .containsExactly("the tape is taken for one of 3150 Hz, which makes the speed error +2.00 %;"
                        + " were it one of 3000 Hz, +7.10 %");
        assertThat(messages(measured(new Sine(2970 * 0.97, 0.5), 2), WarningCode.NOMINAL_ASSUMED))
                .containsExactly("the tape is taken for one of 3000 Hz, which makes the speed error -3.97 %;"
                        + " were it one of 3150 Hz, -8.54 %");
        // Above 3450 Hz the tape can be no other.
        assertThat(messages(measured(new Sine(3500, 0.5), 2), WarningCode.NOMINAL_ASSUMED))
                .containsExactly("the tape is taken for one of 3150 Hz, which makes the speed error +11.11 %");
        assertThat(measured(new Sine(3150 * 1.0099, 0.5), 2).warnings()).isEmpty();
        assertThat(measured(new Sine(3150 * 1.02, 0.5), 0.7).warnings()).isEmpty(); // too short to tell
    }

    /** A second tone that may itself be the carrier, or of which the first may be a harmonic, makes the speed ambiguous. */
    @ParameterizedTest
    @CsvSource({
        "2750, AMBIGUOUS", // within 15 % of 3000 Hz
        "1050, AMBIGUOUS", // a third
        "1062, AMBIGUOUS", // within 1.5 % of a third
        "1110, VALID",
        "1700, VALID"
    })
    void aSecondToneIsTold(double hz, Status status) {
        Measurement measured = measured(new Sine(3150, 0.5).plus(new Sine(hz, 0.1)), 9);
        assertStatus(measured, EnumSet.of(SPEED_ERROR), status);
        assertStatus(measured, EnumSet.of(FLUTTER_WEIGHTED_RMS, FLUTTER_WEIGHTED_AVERAGE), status);
        assertStatus(measured, EnumSet.of(TONE_FREQUENCY, LEVEL), Status.VALID);
        List<String> messages = messages(measured, WarningCode.SECOND_TONE);
        assertThat(messages.get(0)).matches("a second tone at about \\d+ Hz");
        assertThat(Double.parseDouble(messages.get(0).replaceAll("\\D", ""))).isCloseTo(hz, within(4.0));
        Measurement told = measured(new Sine(3150, 0.5).plus(new Sine(hz, 0.1)), 2, 3150);
        assertStatus(
                told, EnumSet.of(SPEED_ERROR), hz < 2677 && status == Status.AMBIGUOUS ? Status.AMBIGUOUS : status);
    }

    /** The second harmonic of a tone is none of a lower one, and its own harmonic no second tone. */
    @Test
    void harmonicsAreNoSecondTones() {
        Measurement measured = measured(new Sine(1000, 0.5).plus(new Sine(2000, 0.2)), 2, 1000);
        assertThat(measured.warnings()).isEmpty();
        assertThat(Recordings.value(measured, SPEED_ERROR)).isCloseTo(0, within(1e-4));
    }

    /** 10 Hz beside the tone and 10 dB below: amplitude and frequency swing together. */
    @Test
    void aNearSecondToneIsTold() {
        Measurement measured = measured(new Sine(3150, 0.5).plus(new Sine(3160, 0.158)), 12);
        assertStatus(measured, SPEED, Status.AMBIGUOUS);
        assertStatus(measured, FLUTTER, Status.AMBIGUOUS);
        assertThat(messages(measured, WarningCode.SECOND_TONE))
                .containsExactly("amplitude and frequency swing together, as they do where a second tone stands within"
                        + " some 30 Hz of the first");
    }

    /** Elsewhere in the recording two tones stand at once. */
    @Test
    void twoTonesElsewhereAreTold() {
        Signal signal =
                during(0, 3, new Sine(3150, 0.4).plus(new Sine(2850, 0.4))).plus(during(4, 7, new Sine(3150, 0.5)));
        Measurement measured = measured(signal, 7);
        assertThat(Recordings.value(measured, SPEED_ERROR)).isCloseTo(0, within(1e-3));
        String message = messages(measured, WarningCode.SECOND_TONE).get(0);
        assertThat(message)
                .matches(
                        "elsewhere two tones stand at once, of which neither can be followed; one is at about \\d+ Hz");
        double hz = Double.parseDouble(message.replaceAll("\\D", ""));
        assertThat(Math.min(Math.abs(hz - 2850), Math.abs(hz - 3150))).isLessThan(4.0); // a line of the look
    }

    /** Each gap with its time; the first twenty of 23, and how many there are in all. */
    @Test
    void gapsAreTold() {
        Signal tone = new Sine(3150, 0.5);
        Measurement one = measured(t -> t > 2 && t < 2.1 ? 0 : tone.at(t), 5);
        Warning gap = warnings(one, WarningCode.CARRIER_LOST).get(0);
        assertThat(one.warnings()).hasSize(1);
        assertThat(gap.fromSeconds().orElseThrow()).isCloseTo(2, within(0.015));
        assertThat(gap.toSeconds().orElseThrow()).isCloseTo(2.1, within(0.015));
        double seconds = gap.toSeconds().orElseThrow() - gap.fromSeconds().orElseThrow();
        assertThat(gap.message()).isEqualTo(String.format("the tone was away for %.3f s", seconds));
        Measurement many = measured(t -> t > 0.5 && t < 12 && t % 0.5 < 0.04 ? 0 : tone.at(t), 12.5);
        List<Warning> told = warnings(many, WarningCode.CARRIER_LOST);
        assertThat(told).hasSize(21);
        Warning sum = told.get(20);
        assertThat(sum.message()).matches("23 gaps in all, 1\\.\\d\\d s together; the first 20 are listed");
        assertThat(sum.fromSeconds().orElseThrow()).isCloseTo(0, within(0.02));
        assertThat(sum.toSeconds().orElseThrow()).isCloseTo(12.5, within(0.05));
        assertThat(Recordings.status(many, FLUTTER_WEIGHTED_RMS)).isEqualTo(Status.INTERRUPTED);
        Measurement twenty = measured(t -> t > 0.5 && t < 10.5 && t % 0.5 < 0.04 ? 0 : tone.at(t), 11);
        assertThat(warnings(twenty, WarningCode.CARRIER_LOST)).hasSize(20);
    }

    /** Gaps of 4 % of the time leave the figures, 6 % do not. */
    @ParameterizedTest
    @CsvSource({"0.32, VALID", "0.72, INTERRUPTED"})
    void manyGapsLeaveNoFlutter(double seconds, Status status) {
        Signal tone = new Sine(3150, 0.5);
        Measurement measured = measured(t -> t > 6 && t < 6 + seconds ? 0 : tone.at(t), 10);
        assertStatus(measured, EnumSet.of(FLUTTER_WEIGHTED_RMS, FLUTTER_RMS), status);
        assertStatus(measured, EnumSet.of(SPEED_ERROR, LEVEL), Status.VALID);
    }

    /** A tenth of a period is lost: each moment, the first twenty of 22, and how many in all. */
    @Test
    void jumpsAreTold() {
        Signal tone = new Sine(3150, 0.5);
        double jump = 0.1 / 3150;
        Measurement one = measured(t -> tone.at(t < 2 ? t : t + jump), 4);
        Warning warning = warnings(one, WarningCode.TIME_JUMP).get(0);
        assertThat(one.warnings()).hasSize(1);
        assertThat(warning.message())
                .isEqualTo("the phase of the tone jumps, as where samples were lost or tape was joined; flutter figures"
                        + " hold the jump");
        assertThat(warning.fromSeconds().orElseThrow()).isCloseTo(2, within(0.005));
        assertThat(warning.toSeconds()).isEqualTo(warning.fromSeconds());
        Measurement many = measured(t -> tone.at(t + jump * Math.max(0, Math.min(22, Math.floor(t / 0.4 - 0.5)))), 10);
        List<Warning> told = warnings(many, WarningCode.TIME_JUMP);
        assertThat(told).hasSize(21);
        assertThat(told.get(20).message()).isEqualTo("22 jumps in all; the first 20 are listed");
        Measurement twenty =
                measured(t -> tone.at(t + jump * Math.max(0, Math.min(20, Math.floor(t / 0.4 - 0.5)))), 10);
        assertThat(warnings(twenty, WarningCode.TIME_JUMP)).hasSize(20);
    }

    /** From 8 % low within 0.15 s, or down by it at the end. */
    @Test
    void glidesAreTold() {
        Signal tone = new Sine(3150, 0.5);
        double low = 0.08;
        double end = 0.15;
        Measurement starting =
                measured(t -> tone.at(t < end ? t - low * (t - t * t / (2 * end)) : t - low * end / 2), 5);
        Warning first = warnings(starting, WarningCode.SPEED_GLIDE).get(0);
        assertThat(starting.warnings()).hasSize(1);
        assertThat(first.message())
                .isEqualTo(
                        "the speed at the beginning is not that of the rest, as where the machine is still starting");
        assertThat(first.fromSeconds().orElseThrow()).isCloseTo(0, within(0.02));
        assertThat(first.toSeconds().orElseThrow() - first.fromSeconds().orElseThrow())
                .isCloseTo(0.4, within(1e-9));
        double last = 5 - end;
        Measurement stopping = measured(t -> tone.at(t < last ? t : t - low * (t - last) * (t - last) / (2 * end)), 5);
        Warning second = warnings(stopping, WarningCode.SPEED_GLIDE).get(0);
        assertThat(stopping.warnings()).hasSize(1);
        assertThat(second.message())
                .isEqualTo("the speed at the end is not that of the rest, as where the machine is stopping");
        assertThat(second.toSeconds().orElseThrow()).isCloseTo(5, within(0.05));
        assertThat(second.toSeconds().orElseThrow() - second.fromSeconds().orElseThrow())
                .isCloseTo(0.4, within(1e-9));
    }

    /** The longest stretch counts, the others are told: twenty of 21, once the last one has ended. */
    @Test
    void otherStretchesAreTold() {
        Signal both = during(1, 1.6, new Sine(3000, 0.5)).plus(during(2.8, 4.8, new Sine(3150, 0.5)));
        Measurement two = measured(both, 5);
        Warning other = warnings(two, WarningCode.SEVERAL_STRETCHES).get(0);
        assertThat(two.warnings()).hasSize(1);
        assertThat(other.message())
                .matches("another stretch of tone, 3000\\.0 Hz for 0\\.(58|59|60) s, was left out: the one of"
                        + " (1\\.9[89]|2\\.00) s counts");
        assertThat(other.fromSeconds().orElseThrow()).isCloseTo(1, within(0.02));
        assertThat(other.toSeconds().orElseThrow()).isCloseTo(1.6, within(0.02));
        Signal tone = new Sine(3150, 0.5);
        Measurement many = measured(t -> t < 30 ? (t % 1.5 < 0.3 ? tone.at(t) : 0) : t < 31.5 ? 0 : tone.at(t), 32.3);
        assertThat(warnings(many, WarningCode.SEVERAL_STRETCHES)).hasSize(20);
        Measurement more =
                measured(t -> t < 31.5 ? (t % 1.5 < 0.3 ? tone.at(t) : 0) : t < 33 || t > 35 ? 0 : tone.at(t), 36.5);
        List<Warning> told = new ArrayList<>(warnings(more, WarningCode.SEVERAL_STRETCHES));
        assertThat(told.get(told.size() - 1).message()).isEqualTo("21 other stretches in all; 20 of them are listed");
        assertThat(told).hasSize(21);
    }

    /** Flat tops leave no level; three samples at full scale are told. */
    @Test
    void anOverloadLeavesNoLevel() {
        float[] x = samples(new Sine(500, 1.2), 3);
        for (int i = 0; i < x.length; i++) {
            x[i] = Math.max(-1, Math.min(1, x[i]));
        }
        Measurement measured = measuredAt500(x);
        assertStatus(measured, LEVELS, Status.OVERLOAD);
        assertThat(messages(measured, WarningCode.OVERLOAD))
                .containsExactly(
                        "more than 1 % of the periods have flat tops: the level is not known",
                        "three or more samples in a row, or more than one of twenty, stand at full scale");
        Warning flat = warnings(measured, WarningCode.OVERLOAD).get(0);
        assertThat(flat.fromSeconds().orElseThrow()).isCloseTo(0, within(0.04)); // the narrow filters of 500 Hz
        assertThat(flat.toSeconds().orElseThrow()).isCloseTo(3, within(0.05));
        Warning full = warnings(measured, WarningCode.OVERLOAD).get(1);
        assertThat(full.fromSeconds().orElseThrow()).isCloseTo(0, within(0.003));
        assertThat(full.toSeconds().orElseThrow()).isCloseTo(3, within(0.05));
        float[] silent = new float[8000];
        Arrays.fill(silent, 4000, 4004, 1);
        Measurement none = measured(silent);
        assertThat(Recordings.status(none, LEVEL)).isEqualTo(Status.NO_CARRIER);
        assertThat(messages(none, WarningCode.OVERLOAD))
                .containsExactly("three or more samples in a row, or more than one of twenty, stand at full scale");
    }

    private static Measurement measuredAt500(float[] x) {
        ToneMeter meter = ToneMeter.builder(RATE).nominalHz(500).build();
        meter.accept(x, 0, x.length);
        return meter.reading();
    }

    /** Twenty steps are high enough. A sine of amplitude a steps has a mean power of a^2. */
    @ParameterizedTest
    @CsvSource({"19, true", "21, false"})
    void aFewStepsAreTold(double steps, boolean told) {
        float[] x = samples(new Sine(3140.7, 1), 2);
        for (int i = 0; i < x.length; i++) {
            x[i] = Math.round(steps * x[i]) / 32768f;
        }
        List<String> messages = messages(measured(x), WarningCode.COARSE_STEPS);
        if (told) {
            assertThat(messages)
                    .containsExactly("the tone is only 19.0 steps of the recording's resolution high: record it louder"
                            + " or with more bits");
        } else {
            assertThat(messages).isEmpty();
        }
    }
}
