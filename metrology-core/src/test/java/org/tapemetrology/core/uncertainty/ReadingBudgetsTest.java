/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.quantity.Quantity.*;

import java.util.List;
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
}
