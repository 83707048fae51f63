/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.quantity.Quantity.*;

import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.tapemetrology.core.carrier.CarrierBand;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;

/**
 * The figures of deviations and amplitude deviations as a demodulator gives them at 4 kHz, of a tone of 3150 Hz that is 0.5 %
 * off. The expected figures are those of a sine: peak 1, RMS 1/sqrt(2), mean magnitude 2/pi, exceeded 5 % of the time
 * sin(0.95 pi/2).
 */
class FlutterReportTest {
    private static final int RATE = 4000;
    private static final double MEAN_HZ = 3150 * 1.005;
    private static final double PEAK_PERCENT = 0.2;
    private static final Offset<Double> ROUNDING = within(1e-12);

    private static Stretch longest;

    private static double[] sine(double seconds, double hz, double mean, double swing) {
        double[] x = new double[(int) Math.round(seconds * RATE)];
        for (int i = 0; i < x.length; i++) {
            x[i] = mean + swing * Math.sin(2 * Math.PI * hz * i / RATE);
        }
        return x;
    }

    /** A stretch whose speed swings at a rate, with an amplitude that swings at 400 Hz as noise would. */
    private static Stretch stretch(double seconds, double hz, double percent, double amplitudeHz) {
        Stretch stretch = new Stretch(CarrierBand.of(16_000, 3150), 7, false);
        double[] d = sine(seconds, hz, MEAN_HZ - 3150, percent / 100 * MEAN_HZ);
        double[] a = sine(seconds, 400, 0, amplitudeHz);
        double[] p = sine(seconds, 0, 0.25, 0);
        for (int at = 0; at < d.length; at += 400) {
            stretch.accept(d, a, p, at, Math.min(400, d.length - at), false);
        }
        return stretch;
    }

    private static Measurement report(Stretch stretch) {
        ReportLines lines = new ReportLines();
        new FlutterReport(lines).of(stretch);
        return lines.measurement();
    }

    private static Reading reading(Measurement measurement, Quantity quantity) {
        return measurement.find(quantity).orElseThrow();
    }

    private static List<String> messages(Measurement measurement, WarningCode code) {
        return measurement.warnings().stream()
                .filter(warning -> warning.code() == code)
                .map(Warning::message)
                .toList();
    }

    @BeforeAll
    static void measure() {
        longest = stretch(45, 4, PEAK_PERCENT, 0);
    }

    /** 4 Hz, where the weighting of IEC 60386 is 1. To 2 %: flatness of the filters, a mean indication lies by 2.5 % lower, for the detector falls between crests. */
    @Test
    void figuresAreThoseOfASine() {
        Measurement measured = report(longest);
        double rms = PEAK_PERCENT / Math.sqrt(2);
        // A mean magnitude is scaled so that a sine reads its RMS value (NAB).
        Map<Quantity, Double> expected = Map.ofEntries(
                Map.entry(FLUTTER_WEIGHTED_QUASI_PEAK, PEAK_PERCENT),
                Map.entry(FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM, PEAK_PERCENT),
                Map.entry(FLUTTER_WEIGHTED_QUASI_PEAK_MEAN, 0.975 * PEAK_PERCENT),
                Map.entry(FLUTTER_WEIGHTED_TWO_SIGMA, PEAK_PERCENT * Math.sin(0.95 * Math.PI / 2)),
                Map.entry(FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM, PEAK_PERCENT * Math.sin(0.95 * Math.PI / 2)),
                Map.entry(FLUTTER_WEIGHTED_RMS, rms),
                Map.entry(FLUTTER_WEIGHTED_AVERAGE, rms),
                Map.entry(FLUTTER_UNWEIGHTED_PEAK, PEAK_PERCENT),
                Map.entry(FLUTTER_UNWEIGHTED_RMS, rms),
                Map.entry(FLUTTER_UNWEIGHTED_AVERAGE, rms),
                Map.entry(WOW_RMS, rms));
        expected.forEach((quantity, percent) -> assertThat(
                        reading(measured, quantity).value().orElseThrow())
                .as(quantity.id())
                .isCloseTo(percent, within(0.02 * percent)));
        // The band from 10 Hz on leaves (4/10)^4 of it.
        assertThat(reading(measured, FLUTTER_RMS).value().orElseThrow()).isLessThan(0.03 * rms);
        assertThat(reading(measured, FLUTTER_SCRAPE_RMS).value().orElseThrow()).isLessThan(1e-6);
        assertThat(measured.find(TONE_SIGNAL_TO_NOISE)).isEmpty();
        assertThat(measured.readings()).hasSize(13);
        assertThat(measured.warnings()).isEmpty();
        for (Reading reading : measured.readings()) {
            assertThat(reading.noiseReach()).as(reading.quantity().id()).isZero();
        }
    }

    /** The worst moment is told in the time of the recording. */
    @Test
    void theWorstMomentIsThatOfTheRecording() {
        Reading highest = reading(report(longest), FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM);
        double moment =
                longest.startSeconds() + longest.flutter().orElseThrow().bands().worstMomentSeconds();
        assertThat(highest.atSeconds()).hasValue(moment);
        assertThat(moment).isBetween(7 + 3.0, 7 + 45.1);
    }

    /** Each scatter is that of its statistic, in per cent. */
    @Test
    void scatterIsToldInPerCent() {
        Measurement measured = report(longest);
        FlutterBands bands = longest.flutter().orElseThrow().bands();
        double toPercent = 100 / longest.meanHz();
        assertThat(reading(measured, WOW_RMS).typeA().orElseThrow().value())
                .isCloseTo(
                        bands.wow().statistic().rmsUncertainty().orElseThrow().value() * toPercent, ROUNDING);
        assertThat(reading(measured, FLUTTER_WEIGHTED_RMS).typeA().orElseThrow().value())
                .isCloseTo(bands.weighted().rmsUncertainty().orElseThrow().value() * toPercent, ROUNDING);
        double scaled = toPercent * Math.PI / Math.sqrt(8);
        assertThat(reading(measured, FLUTTER_WEIGHTED_AVERAGE)
                        .typeA()
                        .orElseThrow()
                        .value())
                .isCloseTo(bands.weightedAverage().uncertainty().orElseThrow().value() * scaled, ROUNDING);
        assertThat(reading(measured, FLUTTER_SCRAPE_RMS).typeA()).isPresent();
    }

    @ParameterizedTest
    @EnumSource(
            value = Status.class,
            names = {"AMBIGUOUS", "NO_CARRIER", "INTERRUPTED", "INVALID_INPUT"})
    void withoutFiguresEachSaysWhy(Status status) {
        ReportLines lines = new ReportLines();
        new FlutterReport(lines).without(status);
        Measurement none = lines.measurement();
        assertThat(none.readings()).hasSize(12).allMatch(reading -> reading.status() == status);
        Map<Quantity, String> methods =
                report(longest).readings().stream().collect(Collectors.toMap(Reading::quantity, Reading::method));
        for (Reading reading : none.readings()) {
            assertThat(reading.method()).isEqualTo(methods.get(reading.quantity()));
        }
        assertThat(methods.get(FLUTTER_SCRAPE_RMS)).isEqualTo("200 Hz to 1 kHz, true RMS");
        assertThat(methods.get(FLUTTER_WEIGHTED_RMS)).isNotEqualTo(methods.get(FLUTTER_WEIGHTED_AVERAGE));
        assertThat(methods.get(FLUTTER_WEIGHTED_QUASI_PEAK)).isNotEqualTo(methods.get(FLUTTER_WEIGHTED_TWO_SIGMA));
        assertThat(methods.get(WOW_RMS)).isEqualTo(methods.get(FLUTTER_RMS));
    }

    /**
     * Noise adds in power: what it takes from a figure v is at most v - sqrt(v^2 - n^2); on crests it is n itself for the percentile
     * and 1.5 n for a peak, less in proportion below a tenth of the figure.
     */
    @ParameterizedTest
    @CsvSource({"0.2, 60", "0.05, 60", "0.02, 90", "1, 20"})
    void noiseReachesIntoTheFigures(double percent, double amplitudeHz) {
        Stretch stretch = stretch(36, 4, percent, amplitudeHz);
        Measurement measured = report(stretch);
        FlutterMeter meter = stretch.flutter().orElseThrow();
        double weighted = meter.weightedNoiseHz() * 100 / stretch.meanHz();
        double flat = meter.flatNoiseHz() * 100 / stretch.meanHz();
        assertThat(weighted).isGreaterThan(0);
        assertThat(flat).isGreaterThan(2 * weighted); // it rises with the rate, the weighting falls
        assertReach(measured, FLUTTER_WEIGHTED_RMS, weighted, 0);
        assertReach(measured, FLUTTER_WEIGHTED_AVERAGE, weighted, 0);
        assertReach(measured, FLUTTER_WEIGHTED_QUASI_PEAK_MEAN, weighted, 0);
        assertReach(measured, FLUTTER_WEIGHTED_TWO_SIGMA, weighted, 1);
        assertReach(measured, FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM, weighted, 1);
        assertReach(measured, FLUTTER_WEIGHTED_QUASI_PEAK, weighted, 1.5);
        assertReach(measured, FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM, weighted, 1.5);
        assertReach(measured, FLUTTER_UNWEIGHTED_PEAK, flat, 1.5);
        assertReach(measured, FLUTTER_UNWEIGHTED_RMS, flat, 0);
        assertReach(measured, FLUTTER_UNWEIGHTED_AVERAGE, flat, 0);
        assertReach(measured, FLUTTER_RMS, flat, 0);
        assertReach(measured, WOW_RMS, 0, 0);
        assertThat(reading(measured, TONE_SIGNAL_TO_NOISE).value())
                .isEqualTo(meter.noise().toneToNoiseDb());
        assertThat(reading(measured, TONE_SIGNAL_TO_NOISE).method()).isEqualTo("amplitude noise beside the tone");
        // A relative change of an amplitude, in dB: 20/ln 10 times that.
        assertThat(reading(measured, TONE_SIGNAL_TO_NOISE).typeA().orElseThrow().value())
                .isCloseTo(
                        8.685889638
                                * meter.noise().noiseUncertainty().orElseThrow().value(),
                        within(1e-9));
    }

    private static void assertReach(Measurement measured, Quantity quantity, double noise, double crests) {
        Reading reading = reading(measured, quantity);
        double value = reading.value().orElseThrow();
        double inPower = noise < value ? value - Math.sqrt(value * value - noise * noise) : value;
        double onCrests = crests * noise * Math.min(1, 10 * noise / value);
        double expected = Math.min(value, Math.max(inPower, onCrests));
        assertThat(reading.noiseReach()).as(quantity.id()).isCloseTo(expected, ROUNDING);
    }

    /** A twentieth of the power is worth a warning, where it is more than a thousandth of a per cent. */
    @ParameterizedTest
    @CsvSource({"0.2, 0.21, false", "0.2, 0.24, true", "0.0002, 0.9, false", "0.2, 0, false"})
    void noiseIsToldWhereItMakesUpAFigure(double percent, double share, boolean told) {
        double seconds = 36;
        FlutterMeter unit = stretch(seconds, 4, 0.2, 10).flutter().orElseThrow();
        double figure = percent / Math.sqrt(2);
        // By the weighted figure's own noise first, then by that of the flat band.
        double amplitude = 10 * share * figure / (unit.weightedNoiseHz() * 100 / MEAN_HZ);
        Measurement measured = report(stretch(seconds, 4, percent, amplitude));
        String weighted = "noise beside the tone makes up about %.4f %% of the weighted flutter of %.4f %% RMS"
                .formatted(share * figure, figure);
        assertThat(messages(measured, WarningCode.NOISE).contains(weighted)).isEqualTo(told);
        amplitude = 10 * share * figure / (unit.flatNoiseHz() * 100 / MEAN_HZ);
        Measurement flat = report(stretch(seconds, 4, percent, amplitude));
        assertThat(messages(flat, WarningCode.NOISE).stream().anyMatch(text -> text.contains("unweighted")))
                .isEqualTo(told);
        assertThat(messages(flat, WarningCode.NOISE).stream().anyMatch(text -> text.contains("the weighted")))
                .isFalse();
    }

    /** Before a figure is there nothing is said of its noise. */
    @Test
    void noiseIsNotToldOfFiguresThatAreNotThere() {
        assertThat(messages(report(stretch(7.5, 4, 0.001, 300)), WarningCode.NOISE))
                .isEmpty();
        assertThat(messages(report(stretch(9, 4, 0.001, 300)), WarningCode.NOISE))
                .hasSize(1)
                .allMatch(text -> text.contains("the weighted"));
        assertThat(report(stretch(7.5, 4, 0.001, 300)).find(TONE_SIGNAL_TO_NOISE))
                .isEmpty();
    }

    /** A sine of 450 Hz is scrape; noise of more than half of its power makes it ambiguous. */
    @Test
    void scrapeIsToldAboveTheNoise() {
        Stretch stretch = stretch(10, 450, 0.1, 1);
        Reading scrape = reading(report(stretch), FLUTTER_SCRAPE_RMS);
        double noise = stretch.flutter().orElseThrow().noise().scrapeNoiseHz() * 100 / stretch.meanHz();
        // The band of fourth order at either edge loses 0.1 % at 450 Hz.
        assertThat(scrape.value().orElseThrow()).isCloseTo(0.1 / Math.sqrt(2), within(0.0002));
        double value = scrape.value().orElseThrow();
        assertThat(scrape.noiseReach()).isCloseTo(value - Math.sqrt(value * value - noise * noise), ROUNDING);
        Reading hidden = reading(report(stretch(10, 450, 0.1, 2.5)), FLUTTER_SCRAPE_RMS);
        assertThat(hidden.status()).isEqualTo(Status.AMBIGUOUS);
        assertThat(hidden.method()).isEqualTo("200 Hz to 1 kHz, true RMS");
        assertThat(reading(report(stretch(7, 450, 0.1, 2.5)), FLUTTER_SCRAPE_RMS)
                        .status())
                .isEqualTo(Status.INSUFFICIENT_DATA);
    }

    /** From 10 kHz on the band is wide; where it does not fit there is no reading of it, and where 200 Hz do not fit none at all. */
    @Test
    void theBandOfScrapeGoesWithTheTone() {
        Stretch high = new Stretch(CarrierBand.of(48_000, 12_500), 0, false);
        double rate = high.band().rateHz();
        double[] d = new double[(int) (9 * rate)];
        double[] p = new double[d.length];
        for (int i = 0; i < d.length; i++) {
            d[i] = 10 * Math.sin(2 * Math.PI * 3000 * i / rate);
            p[i] = 0.2;
        }
        high.accept(d, new double[d.length], p, 0, d.length, false);
        Reading scrape = reading(report(high), FLUTTER_SCRAPE_RMS);
        assertThat(scrape.method()).isEqualTo("200 Hz to 5 kHz, true RMS");
        assertThat(scrape.value().orElseThrow()).isCloseTo(0.08 / Math.sqrt(2), within(0.001));

        Stretch narrow = new Stretch(CarrierBand.of(8000, 1000), 0, false);
        double[] x = sine(9, 4, 0, 1);
        narrow.accept(x, new double[x.length], sine(9, 0, 0.2, 0), 0, x.length, false);
        assertThat(report(narrow).find(FLUTTER_SCRAPE_RMS)).isEmpty();
        assertThat(reading(report(narrow), FLUTTER_WEIGHTED_RMS).isValid()).isTrue();

        Stretch none = new Stretch(CarrierBand.of(8000, 300), 0, false);
        none.accept(x, new double[x.length], sine(9, 0, 0.2, 0), 0, x.length, false);
        Measurement nothing = report(none);
        assertThat(nothing.readings()).isEmpty();
        assertThat(messages(nothing, WarningCode.BAND_TOO_NARROW))
                .containsExactly(
                        "a tone of 300 Hz leaves no room for deviation rates up to 200 Hz: no flutter figures");
    }

    /**
     * A second tone at a distance of 130 Hz, by its definition: amplitude and deviation go together. Where it explains most of the
     * deviation there is no figure; where it explains less, but more than a twentieth of the power of the flutter, it is told.
     */
    @ParameterizedTest
    @CsvSource({
        "12, 0.0001, 0.02, AMBIGUOUS, true",
        "12, 0.3, 0.02, VALID, true",
        "12, 3, 0.002, VALID, false", // no more than chance makes
        "40, 0.5, 0.02, VALID, false", // beyond chance, and 3 % of the power
        "12, 0.0011, 0.00003, VALID, false" // half of a thousandth of a per cent
    })
    void aSecondToneIsToldByWhatItExplains(double seconds, double percent, double ratio, Status status, boolean told) {
        double hz = 130;
        Stretch stretch = new Stretch(CarrierBand.of(16_000, 3150), 0, false);
        double[] d = sine(seconds, 31, 0, percent / 100 * 3150);
        double[] p = new double[d.length];
        for (int i = 0; i < d.length; i++) {
            double c = ratio * Math.cos(2 * Math.PI * hz * i / RATE);
            d[i] += hz * c;
            p[i] = 0.25 * (1 + 2 * c);
        }
        stretch.accept(d, new double[d.length], p, 0, d.length, false);
        Measurement measured = report(stretch);
        assertThat(reading(measured, FLUTTER_WEIGHTED_RMS).status()).isEqualTo(status);
        List<String> messages = messages(measured, WarningCode.SECOND_TONE);
        if (!told) {
            assertThat(messages).isEmpty();
        } else if (status == Status.VALID) {
            double explained = 100 * hz * ratio / Math.sqrt(2) / 3150;
            double all = Math.hypot(percent / Math.sqrt(2), explained);
            assertThat(messages).hasSize(1);
            List<String> words = List.of(messages.get(0).split(" ", -1));
            assertThat(messages.get(0))
                    .matches("a weak second tone may make up about \\S+ % of the unweighted flutter of \\S+ % RMS");
            // Windows of 50 ms with their parabola taken out, and means over 1 ms: 5 %.
            assertThat(Double.parseDouble(words.get(8))).isCloseTo(explained, within(0.05 * explained));
            assertThat(Double.parseDouble(words.get(15))).isCloseTo(all, within(0.02 * all));
        } else {
            assertThat(messages)
                    .containsExactly(
                            "frequency and amplitude move together, as they do where a second tone stands beside the first");
        }
    }
}
