/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.ProgrammeMeasurement.StepMeasurement;
import org.tapemetrology.core.programme.RecognisedStep;
import org.tapemetrology.core.programme.Step;
import org.tapemetrology.core.programme.StepSignal;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/** The level of 3 % third harmonic between the tones of a programme (IEC 60094-5, from memory). */
class MaximumOutputTest {
    private static List<Reading> found(double... percent) {
        List<Step> steps = new ArrayList<>();
        List<StepMeasurement> measured = new ArrayList<>();
        for (int i = 0; i < percent.length; i++) {
            double dbfs = -12 + 3 * i;
            Step step = new Step("tone " + i, new StepSignal.Tone(315, dbfs), Step.Side.LEFT, 5);
            steps.add(step);
            List<Reading> readings = List.of(
                    Reading.valid(Quantity.LEVEL, dbfs, "test").onChannel(1).withTypeA(StandardUncertainty.of(0.1)),
                    Reading.valid(Quantity.DISTORTION_THIRD_HARMONIC, percent[i], "test")
                            .onChannel(1)
                            .withTypeA(StandardUncertainty.of(0.01)));
            measured.add(new StepMeasurement(
                    new RecognisedStep(i, step.name(), 5.0 * i, 5.0 * i + 5, 1, 1, true),
                    new Measurement(readings, List.of())));
        }
        return MaximumOutput.added(new Programme("test", steps, OptionalDouble.empty()), measured).stream()
                .flatMap(one -> one.measurement().readings().stream())
                .filter(reading -> reading.quantity() == Quantity.LEVEL_MAXIMUM_OUTPUT)
                .toList();
    }

    @Test
    void itLiesBetweenTheLevelsThatEncloseIt() {
        // From 2 % at -9 dB to 4 % at -6 dB: -9 + 3 lg(3/2)/lg(2) = -7.245.
        Reading reading = found(1, 2, 4).get(0);
        assertThat(reading.value().orElseThrow()).isCloseTo(-7.245, within(0.001));
        // 0.01 % of 4 % is 0.022 dB of the harmonic and half of it of the level, in quadrature with 0.1 dB.
        assertThat(reading.typeA().orElseThrow().value()).isCloseTo(0.1006, within(0.0005));
        assertThat(found(0.1, 0.2, 0.4))
                .singleElement()
                .satisfies(none -> assertThat(none.status()).isEqualTo(Status.INSUFFICIENT_DATA));
        assertThat(found(1, 4)).isEmpty();
    }
}
