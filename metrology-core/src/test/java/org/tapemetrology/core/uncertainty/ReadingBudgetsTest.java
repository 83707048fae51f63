/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.quantity.Quantity.*;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/** Budgets by hand: JCGM 100:2008 for the arithmetic, closed forms for the models. */
class ReadingBudgetsTest {
    private static final String BY_HAND = "by hand";

    private static Reading reading(Quantity quantity, double value, double scatter) {
        return Reading.valid(quantity, value, "test").onChannel(1).withTypeA(new StandardUncertainty(scatter, 20));
    }

    private static Measurement of(Reading... readings) {
        return new Measurement(List.of(readings), List.of());
    }

    private static TestTape tape(StatedValue frequency, StatedValue ownFlutter, StatedValue delay) {
        TestTape usual = TestTape.assumed();
        return new TestTape(
                "tape",
                frequency,
                usual.slowSpeed(),
                ownFlutter,
                StatedValue.certified(0.1, 0.2, 2, BY_HAND),
                usual.levelFluctuation(),
                StatedValue.certified(0.3, 0.1, 2, BY_HAND),
                usual.response(),
                delay);
    }

    private static final TestTape TAPE = tape(
            StatedValue.certified(0.2, 0.1, 2, BY_HAND),
            StatedValue.certified(0.03, 0.01, 2, BY_HAND),
            StatedValue.certified(2, 1, 2, BY_HAND));

    private static Converter converter() {
        Converter usual = Converter.assumed();
        return new Converter(
                "converter",
                StatedValue.certified(100, 20, 2, BY_HAND),
                usual.clockStability(),
                StatedValue.atMost(0, BY_HAND),
                StatedValue.within(0.1, BY_HAND),
                StatedValue.within(0.3, BY_HAND),
                StatedValue.certified(-0.1, 0.02, 2, BY_HAND),
                StatedValue.certified(-0.5, 0.2, 2, BY_HAND),
                StatedValue.atMost(0.02, BY_HAND),
                -90,
                80);
    }

    private static final ReadingBudgets BUDGETS = new ReadingBudgets(TAPE, converter());

    private static double corrected(Reading reading) {
        return BUDGETS.applied(of(reading)).readings().get(0).value().orElseThrow();
    }

    /** Every correction in closed form; exact but for rounding. */
    @Test
    void knownErrorsAreCorrected() {
        assertThat(corrected(reading(TONE_FREQUENCY, 3150, 0.01))).isCloseTo(3150 * 1.0001, within(1e-9));
        assertThat(corrected(reading(SPEED_ERROR, 0.5, 0.01)))
                .isCloseTo(100 * (1.005 * 1.0001 / 1.002 - 1), within(1e-9));
        assertThat(corrected(reading(FLUTTER_WEIGHTED_RMS, 0.05, 0.001)))
                .as("0.05^2 = 0.04^2 + 0.03^2")
                .isCloseTo(0.04, within(1e-12));
        assertThat(corrected(reading(CHANNEL_BALANCE, 1, 0.01))).isCloseTo(1 - 0.3 + 0.1, within(1e-12));
        assertThat(corrected(reading(AZIMUTH_DELAY, 10, 0.1))).isCloseTo(10 - 2 + 0.5, within(1e-12));
        assertThat(corrected(reading(LEVEL, -10, 0.01))).isEqualTo(-10);
    }

    /** Own flutter is subtracted from the RMS figure alone. */
    @Test
    void ownFlutterIsOneSidedElsewhere() {
        Measurement measured =
                of(reading(FLUTTER_WEIGHTED_TWO_SIGMA, 0.1, 0.001), reading(FLUTTER_WEIGHTED_RMS, 0.05, 0.001));
        Measurement applied = BUDGETS.applied(measured);
        assertThat(applied.readings().get(0).value().orElseThrow()).isEqualTo(0.1);
        UncertaintyComponent own =
                BUDGETS.budget(applied.readings().get(0), applied).orElseThrow().component("flutter of the test tape");
        assertThat(own.distribution()).isEqualTo(Distribution.ONE_SIDED);
        // The share of the RMS value that is left, 0.04, has 0.03 in it: 1 - sqrt(1 - (3/4)^2) of 0.1.
        assertThat(own.standardUncertainty())
                .isCloseTo(0.1 * (1 - Math.sqrt(1 - 0.5625)) / Math.sqrt(3), within(1e-12));
        UncertaintyComponent ofRms =
                BUDGETS.budget(applied.readings().get(1), applied).orElseThrow().component("flutter of the test tape");
        assertThat(ofRms.distribution()).isEqualTo(Distribution.NORMAL);
        assertThat(ofRms.contribution()).isCloseTo(0.005 * 0.03 / 0.04, within(1e-12));
    }

    /** Speed: scatter 0.01 %, tape 0.05 %, clock 10 ppm, to 0.1 % of second order. */
    @Test
    void speedErrorAddsScatterTapeAndClock() {
        Measurement applied = BUDGETS.applied(of(reading(SPEED_ERROR, 0, 0.01)));
        Budget budget = BUDGETS.budget(applied.readings().get(0), applied).orElseThrow();
        assertThat(budget.combined())
                .isCloseTo(Math.sqrt(0.01 * 0.01 + 0.05 * 0.05 + 0.001 * 0.001), within(0.002 * 0.05));
        assertThat(applied.readings().get(0).uncertainty().orElseThrow().assumed())
                .isFalse();
    }

    @Test
    void withoutCertificatesTheReadingSaysSo() {
        ReadingBudgets usual = new ReadingBudgets(TestTape.assumed(), Converter.assumed());
        Reading speed =
                usual.applied(of(reading(SPEED_ERROR, 0, 0.01))).readings().get(0);
        assertThat(speed.uncertainty().orElseThrow().assumed()).isTrue();
        // 0.2 % of the tape dominates: the interval is hardly wider than that.
        assertThat(speed.uncertainty().orElseThrow().halfWidth()).isBetween(0.185, 0.21);
        assertThat(speed.value().orElseThrow()).isZero();
    }

    /** The detector counts on what is no sine: there the two peak figures and the RMS value have the ratio of one. */
    @Test
    void quasiPeakOfASineIsNotDoubtfulByItsDetector() {
        Measurement sine = of(
                reading(FLUTTER_WEIGHTED_QUASI_PEAK, 0.1, 0.001),
                reading(FLUTTER_WEIGHTED_TWO_SIGMA, 0.0997, 0.001),
                reading(FLUTTER_WEIGHTED_RMS, 0.0707, 0.001));
        Measurement random = of(
                reading(FLUTTER_WEIGHTED_QUASI_PEAK, 0.1, 0.001),
                reading(FLUTTER_WEIGHTED_TWO_SIGMA, 0.07, 0.001),
                reading(FLUTTER_WEIGHTED_RMS, 0.036, 0.001));
        assertThat(names(sine)).doesNotContain("detector realisation");
        assertThat(names(random)).contains("detector realisation");
        assertThat(BUDGETS.budget(random.readings().get(0), random)
                        .orElseThrow()
                        .component("detector realisation")
                        .standardUncertainty())
                .as("rectangular, half-width 10 %% of the reading")
                .isCloseTo(0.01 / Math.sqrt(3), within(1e-12));
    }

    private static List<String> names(Measurement measurement) {
        return BUDGETS.budget(measurement.readings().get(0), measurement).orElseThrow().components().stream()
                .map(UncertaintyComponent::name)
                .toList();
    }

    /** Noise of the converter 3.01 dB below the reading is half of its power, which would be 3.01 dB less without. */
    @Test
    void noiseOfTheConverterIsOneSided() {
        double reading = -90 + 10 * Math.log10(2);
        Measurement measured = of(reading(NOISE_A_WEIGHTED, reading, 0.1));
        UncertaintyComponent own = BUDGETS.budget(measured.readings().get(0), measured)
                .orElseThrow()
                .component("noise of the converter");
        assertThat(own.standardUncertainty()).isCloseTo(10 * Math.log10(2) / Math.sqrt(3), within(1e-9));
    }

    /** Angle and loss follow the delay in proportion to their scatter. */
    @Test
    void angleIsAsDoubtfulAsTheDelay() {
        Measurement measured = of(
                Reading.valid(AZIMUTH_DELAY, 10, "test").withTypeA(StandardUncertainty.of(0.5)),
                Reading.valid(AZIMUTH_ANGLE, 2, "test").withTypeA(StandardUncertainty.of(0.1)));
        Budget angle = BUDGETS.budget(measured.readings().get(1), measured).orElseThrow();
        assertThat(angle.component("azimuth of the test tape").contribution()).isCloseTo(0.5 * 0.2, within(1e-12));
    }

    @Test
    void whatHasNoValueOrNoScatterHasNoBudget() {
        Measurement measured =
                of(Reading.without(LEVEL, Status.NO_CARRIER, "test"), Reading.valid(CHANNEL_POLARITY, 1, "test"));
        assertThat(BUDGETS.budget(measured.readings().get(0), measured)).isEmpty();
        assertThat(BUDGETS.budget(measured.readings().get(1), measured)).isEmpty();
        assertThat(BUDGETS.applied(measured)).isEqualTo(measured);
    }

    /** The analytic interval against JCGM 101 drawing of the same budget: within the 2 % that Budget promises. */
    @Test
    @Tag("slow")
    void monteCarloAgrees() {
        Measurement measured = of(
                reading(FLUTTER_WEIGHTED_QUASI_PEAK, 0.1, 0.005),
                reading(FLUTTER_WEIGHTED_TWO_SIGMA, 0.07, 0.002),
                reading(FLUTTER_WEIGHTED_RMS, 0.036, 0.001),
                reading(LEVEL, -10, 0.05));
        Measurement applied = BUDGETS.applied(measured);
        MonteCarlo draws = MonteCarlo.fixed(20261125, 300_000);
        Measurement drawn = BUDGETS.expanded(applied, budget -> draws.expanded(budget, ReadingBudgets.COVERAGE));
        for (int i = 0; i < measured.readings().size(); i++) {
            double analytic =
                    applied.readings().get(i).uncertainty().orElseThrow().halfWidth();
            assertThat(drawn.readings().get(i).uncertainty().orElseThrow().halfWidth())
                    .as(measured.readings().get(i).quantity().id())
                    .isCloseTo(analytic, within(0.02 * analytic));
        }
    }

    /** What a figure is made of besides its scatter: names and contributions, those of zero left out. */
    private static void assertBudget(Reading reading, Object... namesAndContributions) {
        Map<String, Double> expected = new TreeMap<>();
        for (int i = 0; i < namesAndContributions.length; i += 2) {
            expected.put((String) namesAndContributions[i], (Double) namesAndContributions[i + 1]);
        }
        Map<String, Double> seen = new TreeMap<>();
        for (UncertaintyComponent component :
                BUDGETS.budget(reading, of(reading)).orElseThrow().components()) {
            if (component.contribution() > 0 && component.evaluation() == Evaluation.TYPE_B) {
                seen.put(component.name(), component.contribution());
            }
        }
        String id = reading.quantity().id();
        assertThat(seen.keySet()).as(id).isEqualTo(expected.keySet());
        expected.forEach((name, contribution) -> assertThat(seen.get(name))
                .as("%s: %s", id, name)
                .isCloseTo(contribution, within(1e-9 * contribution))); // rounding
    }

    private static Reading reading(Quantity quantity, double value) {
        return reading(quantity, value, 0.01);
    }

    private static final double ROOT_3 = Math.sqrt(3);

    /** Speed and levels; standard uncertainties of certificates, half-widths over the root of 3 of limits. */
    @Test
    void everyBudgetOfSpeedLevelAndDelay() {
        assertBudget(reading(TONE_FREQUENCY, 3150), "clock of the converter", 3150 * 10e-6);
        assertBudget(
                reading(SPEED_ERROR, 1),
                "frequency of the test tape",
                0.05 * 1.01,
                "clock of the converter",
                1e-3 * 1.01);
        assertBudget(
                reading(SPEED_DRIFT, 0.1),
                "slow speed variation of the test tape",
                0.02 / ROOT_3,
                "stability of the converter's clock",
                2e-4 / ROOT_3);
        // Both ends of a range err.
        assertBudget(
                reading(SPEED_RANGE, 0.1),
                "slow speed variation of the test tape",
                0.02 / ROOT_3,
                "stability of the converter's clock",
                4e-4 / ROOT_3);
        assertBudget(reading(TONE_SIGNAL_TO_NOISE, 50), "band beside the tone", 0.5 / ROOT_3);
        for (Quantity level : List.of(LEVEL, LEVEL_MEDIAN, LEVEL_RE_REFERENCE, LEVEL_MAXIMUM_OUTPUT)) {
            assertBudget(reading(level, -10), "level of the test tape", 0.1, "gain of the converter", 0.1 / ROOT_3);
        }
        assertBudget(
                reading(LEVEL_VOLTAGE, 0.5),
                "level of the test tape",
                0.1,
                "gain of the converter",
                0.1 / ROOT_3,
                "full scale of the converter",
                0.3 / ROOT_3);
        // Half of the figure adds in power: 1 - sqrt(1 - 1/4), of a limit nine tenths.
        assertBudget(
                reading(LEVEL_FLUCTUATION, 1), "fluctuation of the test tape", 0.9 * (1 - Math.sqrt(0.75)) / ROOT_3);
        assertBudget(reading(CHANNEL_BALANCE, 1), "balance of the test tape", 0.05, "balance of the converter", 0.01);
        assertBudget(
                reading(AZIMUTH_DELAY, 10),
                "azimuth of the test tape",
                0.5,
                "delay between the converter's channels",
                0.1);
        assertBudget(reading(AZIMUTH_ANGLE, 2)); // without the delay nothing is known of it
        assertBudget(
                reading(RESPONSE, -1), "response of the test tape", 1 / ROOT_3, "gain of the converter", 0.1 / ROOT_3);
        for (Quantity ratio : List.of(HUM, ERASURE, PRINT_THROUGH_BEFORE, PRINT_THROUGH_AFTER, COMPANDING_TRACKING)) {
            assertBudget(reading(ratio, -60), "gain of the converter", 0.1 / ROOT_3);
        }
        assertBudget(reading(AZIMUTH_WANDER, 1)); // a figure of the recording alone
    }

    /** What the converter adds in any phase (sinusoid, over the root of 2) or in power (one-sided). */
    @Test
    void everyBudgetOfDistortionNoiseAndSeparation() {
        double root2 = Math.sqrt(2);
        for (Quantity distortion : List.of(
                DISTORTION_THIRD_HARMONIC, DISTORTION_THD, DISTORTION_DIFFERENCE_FREQUENCY, DISTORTION_MODULATION)) {
            assertBudget(reading(distortion, 0.5), "distortion of the converter", 0.02 / root2);
            assertBudget(reading(distortion, 0.01), "distortion of the converter", 0.01 / root2); // no more than all
        }
        assertBudget(
                reading(DISTORTION_THD_PLUS_NOISE, 0.04),
                "distortion of the converter",
                0.04 * 0.9 * (1 - Math.sqrt(0.75)) / ROOT_3);
        // Ten decibels above the converter's noise of -90 dBFS a tenth of the power is its own.
        double own = -10 * Math.log10(0.9) / ROOT_3;
        for (Quantity noise : List.of(NOISE_A_WEIGHTED, NOISE_UNWEIGHTED, NOISE_AVERAGE)) {
            assertNoise(reading(noise, -80), 0.1, own);
        }
        for (Quantity noise : List.of(NOISE_QUASI_PEAK, NOISE_QUASI_PEAK_MAXIMUM, NOISE_THIRD_OCTAVE)) {
            assertNoise(reading(noise, -80), 0.3, own);
        }
        assertNoise(reading(NOISE_UNWEIGHTED, -90), 0.1, 10 / ROOT_3); // a tenth at least is the machine's
        assertBudget(
                reading(NOISE_UNWEIGHTED, -50).re(-10), // re a level, its own noise cannot be told from it
                "gain of the converter",
                0.1 / ROOT_3,
                "weighting and detector",
                0.1 / ROOT_3);
        // Crosstalk of 80 dB is a tenth of one of 60.
        assertSeparation(60, 0.1);
        assertSeparation(100, 0.9); // nine tenths at most
    }

    private static void assertNoise(Reading reading, double filterDb, double own) {
        assertBudget(
                reading,
                "gain of the converter",
                0.1 / ROOT_3,
                "weighting and detector",
                filterDb / ROOT_3,
                "noise of the converter",
                own);
    }

    private static void assertSeparation(double db, double share) {
        assertBudget(
                reading(SEPARATION, db),
                "gain of the converter",
                0.1 / ROOT_3,
                "crosstalk of the converter",
                20 * Math.log10(1 + share) / Math.sqrt(2));
    }

    /** Flutter: filters 0.2 dB weighted and 0.1 dB flat, half a bin of 0.1 %, the tape's own by its share of the RMS value. */
    @Test
    void everyBudgetOfFlutter() {
        double half = 1 - Math.sqrt(0.75); // the tape's 0.03 is half of 0.06
        for (Quantity flat : List.of(WOW_RMS, FLUTTER_RMS, FLUTTER_SCRAPE_RMS, FLUTTER_UNWEIGHTED_RMS)) {
            assertFlutter(reading(flat, 0.06), 0.0116, 0.06 * half / ROOT_3);
        }
        assertFlutter(reading(FLUTTER_WEIGHTED_TWO_SIGMA, 0.06), 0.0233, 0.06 * half / ROOT_3);
        assertFlutter(reading(FLUTTER_WEIGHTED_AVERAGE, 0.06), 0.0233, 0.06 * half / ROOT_3);
        assertFlutter(reading(FLUTTER_UNWEIGHTED_AVERAGE, 0.06), 0.0116, 0.06 * half / ROOT_3);
        assertFlutter(reading(FLUTTER_WEIGHTED_AVERAGE, 0.02), 0.0233, 0.02 / ROOT_3); // all of it may be the tape's
        assertFlutter(reading(FLUTTER_WEIGHTED_RMS, 0.06), 0.0233, 0.005 / 2);
        assertFlutter(reading(FLUTTER_WEIGHTED_RMS, 0.02), 0.0233, 0.005);
        Reading noisy = reading(WOW_RMS, 0.06).withNoiseReach(0.003);
        assertThat(BUDGETS.budget(noisy, of(noisy))
                        .orElseThrow()
                        .component("noise beside the tone")
                        .contribution())
                .isCloseTo(0.003 / ROOT_3, within(1e-12));
        for (Quantity peak : List.of(
                FLUTTER_WEIGHTED_QUASI_PEAK,
                FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM,
                FLUTTER_WEIGHTED_QUASI_PEAK_MEAN,
                FLUTTER_UNWEIGHTED_PEAK)) {
            Reading reading = reading(peak, 0.06);
            assertThat(names(of(reading))).as(peak.id()).contains("detector realisation");
        }
    }

    private static void assertFlutter(Reading reading, double filter, double tape) {
        double value = reading.value().orElseThrow();
        assertBudget(
                reading,
                "filters",
                filter * value / ROOT_3,
                "resolution",
                0.0005 * value / ROOT_3,
                "flutter of the test tape",
                tape);
    }

    /** Both peak scales must have the ratio of a sine to the RMS value, and of the same channel. */
    @Test
    void aSineIsToldByBothScales() {
        double rms = 0.1 / Math.sqrt(2);
        assertRealisation(0.1, 0.1, rms, false);
        assertRealisation(0.1028, 0.1, rms, false);
        assertRealisation(0.0972, 0.1028, rms, false);
        assertRealisation(0.1032, 0.1, rms, true);
        assertRealisation(0.0968, 0.1, rms, true);
        assertRealisation(0.1, 0.1032, rms, true);
        assertRealisation(0.1, 0.0968, rms, true);
        Reading peak = reading(FLUTTER_WEIGHTED_QUASI_PEAK, 0.1);
        assertThat(names(of(
                        peak,
                        reading(FLUTTER_WEIGHTED_TWO_SIGMA, 0.1),
                        reading(FLUTTER_WEIGHTED_RMS, rms).onChannel(2))))
                .contains("detector realisation");
    }

    private static void assertRealisation(double peak, double twoSigma, double rms, boolean expected) {
        List<String> names = names(of(
                reading(FLUTTER_WEIGHTED_QUASI_PEAK, peak),
                reading(FLUTTER_WEIGHTED_TWO_SIGMA, twoSigma),
                reading(FLUTTER_WEIGHTED_RMS, rms)));
        assertThat(names.contains("detector realisation"))
                .as("%s %s", peak, twoSigma)
                .isEqualTo(expected);
    }

    /** Own flutter of tape and converter together, 0.05 of 0.13; what it would explain whole stays as it is. */
    @Test
    void ownFlutterOfBothIsSubtracted() {
        Converter usual = converter();
        Converter fluttering = new Converter(
                "converter",
                usual.clock(),
                usual.clockStability(),
                StatedValue.certified(0.04, 0.01, 2, BY_HAND),
                usual.gain(),
                usual.fullScale(),
                usual.balance(),
                usual.delay(),
                usual.distortion(),
                -90,
                80);
        ReadingBudgets budgets = new ReadingBudgets(TAPE, fluttering);
        Measurement applied = budgets.applied(of(
                reading(FLUTTER_WEIGHTED_RMS, 0.13),
                reading(FLUTTER_WEIGHTED_RMS, 0.05),
                reading(FLUTTER_WEIGHTED_RMS, 0.0501),
                reading(LEVEL_RE_REFERENCE, -10),
                Reading.without(SPEED_ERROR, Status.NO_CARRIER, "test")));
        List<Reading> readings = applied.readings();
        assertThat(readings.get(0).value().orElseThrow()).isCloseTo(0.12, within(1e-12));
        assertThat(readings.get(1).value().orElseThrow()).isEqualTo(0.05);
        assertThat(readings.get(2).value().orElseThrow()).isLessThan(0.005);
        assertThat(readings.get(3).value().orElseThrow()).isCloseTo(-10.1, within(1e-12)); // the tape is 0.1 dB strong
        assertThat(readings.get(4).value()).isEmpty();
        assertThat(budgets.budget(readings.get(0), applied)
                        .orElseThrow()
                        .component("flutter of the converter's clock")
                        .contribution())
                .isCloseTo(0.005 * 0.04 / 0.12, within(1e-12));
    }

    /** Of a quiet machine with a steady tone of 0 the shares have no meaning, and nothing is added. */
    @Test
    void nothingIsAShareOfNothing() {
        assertBudget(reading(WOW_RMS, 0));
        assertBudget(reading(LEVEL_FLUCTUATION, 0));
        Measurement measured = of(
                Reading.valid(AZIMUTH_DELAY, 0, "test").withTypeA(StandardUncertainty.of(0)),
                Reading.valid(AZIMUTH_ANGLE, 0, "test").withTypeA(StandardUncertainty.of(0)));
        assertThat(BUDGETS.budget(measured.readings().get(1), measured)
                        .orElseThrow()
                        .combined())
                .isZero();
    }

    /** What rests on an assumption says so, whatever it is made into. */
    @Test
    void assumptionsStayAssumptions() {
        ReadingBudgets usual = new ReadingBudgets(TestTape.assumed(), Converter.assumed());
        for (Reading reading : List.of(
                reading(SPEED_DRIFT, 0.1),
                reading(LEVEL_FLUCTUATION, 1),
                reading(DISTORTION_THD, 0.5),
                reading(NOISE_UNWEIGHTED, -80),
                reading(SEPARATION, 60),
                reading(WOW_RMS, 0.06))) {
            List<UncertaintyComponent> components =
                    usual.budget(reading, of(reading)).orElseThrow().components();
            for (UncertaintyComponent component : components) {
                boolean own = component.evaluation() == Evaluation.TYPE_A
                        || component.source().equals("this library's tests")
                        || component.source().equals("amplitude noise in this recording");
                assertThat(component.assumed())
                        .as("%s: %s", reading.quantity().id(), component.name())
                        .isEqualTo(!own);
            }
        }
        ReadingBudgets certified = new ReadingBudgets(TestTape.none(), converter());
        Reading wow = reading(WOW_RMS, 0.06);
        assertThat(certified.budget(wow, of(wow)).orElseThrow().assumed()).isFalse();
    }

    /** An error of the tape or the converter acts the other way on the reading than the figure that it is subtracted from. */
    @Test
    void errorsActInTheirDirection() {
        assertThat(sensitivity(reading(SPEED_ERROR, 1), "frequency of the test tape"))
                .isNegative();
        assertThat(sensitivity(reading(SPEED_ERROR, 1), "clock of the converter"))
                .isPositive();
        assertThat(sensitivity(reading(AZIMUTH_DELAY, 1), "azimuth of the test tape"))
                .isNegative();
        assertThat(sensitivity(reading(AZIMUTH_DELAY, 1), "delay between the converter's channels"))
                .isNegative();
        assertThat(sensitivity(reading(FLUTTER_WEIGHTED_RMS, 0.06), "flutter of the test tape"))
                .isNegative();
        // Flutter of a tape that is known to a limit alone is not subtracted, and raises the figure.
        Reading rms = reading(FLUTTER_WEIGHTED_RMS, 0.06);
        UncertaintyComponent limit = new ReadingBudgets(TestTape.assumed(), converter())
                .budget(rms, of(rms))
                .orElseThrow()
                .component("flutter of the test tape");
        assertThat(limit.sensitivity()).isPositive();
        assertThat(limit.contribution()).isCloseTo(0.9 * 0.06 * (1 - Math.sqrt(0.75)) / ROOT_3, within(1e-12));
    }

    private static double sensitivity(Reading reading, String name) {
        return BUDGETS.budget(reading, of(reading))
                .orElseThrow()
                .component(name)
                .sensitivity();
    }
}
