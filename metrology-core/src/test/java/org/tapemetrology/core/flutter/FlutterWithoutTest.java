/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;

/** The kept deviation, and what a machine would read without a part of its flutter. */
class FlutterWithoutTest {
    private static final double SECONDS = 60;

    private static ToneMeter measured(int rate, boolean withFault) {
        FmTone.Builder tone = FmTone.builder(3150).speedError(0.01).amplitude(0.3);
        tone.sine(0.7, 5e-4, 0.3);
        tone.sine(23, 3e-4, 1);
        if (withFault) {
            tone.sine(7.6, 15e-4, 2);
        }
        ToneMeter meter =
                ToneMeter.builder(rate).nominalHz(3150).keepDeviation().build();
        Recordings.measure(SampledSignal.of(tone.build(), rate), SECONDS, meter);
        return meter;
    }

    /** The filter's ripple is 1e-4; float keeps 1e-7 of the deviation. */
    @ParameterizedTest
    @ValueSource(ints = {8000, 44100, 48000, 96000})
    void theKeptDeviationIsTheDeviation(int rate) {
        DeviationSeries series = measured(rate, true).deviation().orElseThrow();
        assertThat(series.rateHz()).isBetween(1000.0, 2000.0);
        assertThat(series.seconds()).isCloseTo(SECONDS, within(0.5));
        for (int i = 1000; i < series.size() - 1000; i += 997) {
            double t = series.startSeconds() + i / series.rateHz();
            double expected = 5e-4 * Math.sin(2 * Math.PI * 0.7 * t + 0.3)
                    + 3e-4 * Math.sin(2 * Math.PI * 23 * t + 1)
                    + 15e-4 * Math.sin(2 * Math.PI * 7.6 * t + 2);
            // 0.1 % of the largest component: the mean is that of the span, not of whole periods.
            assertThat(series.value(i)).as("at %s s", t).isCloseTo(expected, within(6e-6));
        }
    }

    /** What the meter reads of the recording made without the fault is the truth; 3 % would do, both paths agree closer. */
    @Test
    void withoutAPartTheReadingsAreThoseOfTheMachineWithoutIt() {
        DeviationSeries series = measured(48000, true).deviation().orElseThrow();
        Measurement repaired = measured(48000, false).reading();
        Measurement as = measured(48000, true).reading();
        List<Measurement> predicted = new FlutterWithout(series)
                .without(List.of(t -> 15e-4 * Math.sin(2 * Math.PI * 7.6 * (t + series.startSeconds()) + 2), t -> 0));
        int compared = 0;
        for (Reading reading : predicted.get(0).readings()) {
            double truth = Recordings.value(repaired, reading.quantity());
            assertThat(reading.value().orElseThrow())
                    .as(reading.quantity().id())
                    .isCloseTo(truth, within(0.01 * truth));
            assertThat(predicted
                            .get(1)
                            .find(reading.quantity())
                            .orElseThrow()
                            .value()
                            .orElseThrow())
                    .as("with nothing taken out, %s", reading.quantity().id())
                    .isCloseTo(
                            Recordings.value(as, reading.quantity()),
                            within(0.005 * Recordings.value(as, reading.quantity())));
            compared++;
        }
        assertThat(compared).isEqualTo(12);
        assertThat(Recordings.value(repaired, Quantity.FLUTTER_WEIGHTED_QUASI_PEAK))
                .isLessThan(0.5 * Recordings.value(as, Quantity.FLUTTER_WEIGHTED_QUASI_PEAK));
    }

    @Test
    void nothingIsKeptUnlessAskedFor() {
        ToneMeter meter = ToneMeter.builder(48000).build();
        Recordings.measure(SampledSignal.of(FmTone.builder(3150).build(), 48000), 3, meter);
        assertThat(meter.deviation()).isEmpty();
    }
}
