/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.tapemetrology.core.LiveReading.Figure;
import org.tapemetrology.core.fit.SteadyMean;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.core.uncertainty.StatedValue;
import org.tapemetrology.core.uncertainty.TestTape;

/** A balance of which the converter's own is known, 0.2 dB. */
class CorrectionTest {
    private static Converter converter() {
        Converter usual = Converter.assumed();
        return new Converter(
                "known",
                usual.clock(),
                usual.clockStability(),
                usual.ownFlutter(),
                usual.gain(),
                usual.fullScale(),
                StatedValue.certified(0.2, 0.01, 2, "this test"),
                usual.delay(),
                usual.distortion(),
                usual.noiseDbfs(),
                usual.crosstalkDb());
    }

    private final Correction correction = new Correction(new ReadingBudgets(TestTape.none(), converter()));

    private static Reading balance() {
        return Reading.valid(Quantity.CHANNEL_BALANCE, 0, "m").onChannel(2);
    }

    private static SteadyMean mean(int count) {
        SteadyMean mean = new SteadyMean(0.3, 2e-3);
        for (int i = 0; i < count; i++) {
            mean.add(i % 2 == 0 ? 1.01 : 0.99);
        }
        return mean;
    }

    /** Mean and momentary value are shifted alike; ten looks are the least, a second. */
    @Test
    void aFigureIsCorrectedAsItsReadingIs() {
        SteadyMean mean = mean(10);
        Figure figure = correction.figure(balance(), mean, 1, 1.0, 1.5);
        assertThat(figure.steady().value().orElseThrow()).isCloseTo(0.8, within(1e-12));
        assertThat(figure.now().orElseThrow()).isCloseTo(1.3, within(1e-12));
        assertThat(figure.averagedSeconds()).isCloseTo(0.1 * mean.averaged(), within(1e-12));
        assertThat(figure.averagedSeconds()).isPositive();
        assertThat(figure.steady().channel()).hasValue(2);
        assertThat(figure.steady().method()).isEqualTo("mean since the last change");
    }

    @Test
    void aMeanOfLessThanASecondSettles() {
        Figure figure = correction.figure(balance(), mean(9), 1, 1.0, 1.5);
        assertThat(figure.steady().status()).isEqualTo(Status.SETTLING);
        assertThat(figure.steady().channel()).hasValue(2);
        assertThat(figure.now()).isEmpty();
        assertThat(figure.averagedSeconds()).isZero();
        // What is no reading for another reason keeps it, however many values there are.
        Reading without = Reading.without(Quantity.CHANNEL_BALANCE, Status.NO_CARRIER, "m");
        assertThat(Correction.steady(without, mean(3), 1, 1.0).status()).isEqualTo(Status.NO_CARRIER);
        Reading steady = Correction.steady(without, mean(30), 1, 1.0);
        assertThat(steady.status()).isEqualTo(Status.NO_CARRIER);
        assertThat(steady.channel()).isEmpty();
        assertThat(steady.typeA()).isEmpty();
    }

    /** The scatter of the mean times what a unit of it is of the reading, whichever its sign. */
    @Test
    void theScatterIsThatOfTheMean() {
        SteadyMean mean = mean(50);
        double scatter = mean.uncertainty().orElseThrow().value();
        assertThat(scatter).isPositive();
        for (double perUnit : new double[] {1, 3, -3}) {
            Reading steady = Correction.steady(balance(), mean, perUnit, 1.0);
            assertThat(steady.value()).hasValue(1.0);
            assertThat(steady.typeA().orElseThrow().value()).isCloseTo(Math.abs(perUnit) * scatter, within(1e-15));
        }
    }
}
