/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.quantity.Quantity.*;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/** A deviation of two sines, and what is read of it without one or both: a sine of peak p has an RMS value of p/sqrt(2). */
class FlutterWithoutPartTest {
    private static final double START = 3;

    private static double slow(double t) {
        return 0.001 * Math.sin(2 * Math.PI * 4 * t + 0.4);
    }

    private static double fast(double t) {
        return 0.002 * Math.sin(2 * Math.PI * 90 * t + 1);
    }

    private static DeviationSeries series(double rateHz, double seconds, DoubleUnaryOperator deviation) {
        float[] values = new float[(int) Math.round(seconds * rateHz)];
        for (int i = 0; i < values.length; i++) {
            values[i] = (float) deviation.applyAsDouble(i / rateHz);
        }
        return DeviationSeries.of(START, rateHz, 3150, values);
    }

    private static double value(Measurement measurement, Quantity quantity) {
        return Recordings.value(measurement, quantity);
    }

    /** 40 s are more than the 35 s that the slow figures need. The bands are flat within 0.5 % there, and rounding of float is 1e-7. */
    @ParameterizedTest
    @ValueSource(doubles = {1000, 1333.3, 2000})
    void withoutEachPartTheOtherIsLeft(double rateHz) {
        DeviationSeries series = series(rateHz, 40, t -> slow(t) + fast(t));
        List<Measurement> cases = new FlutterWithout(series)
                .without(List.of(
                        t -> 0, FlutterWithoutPartTest::slow, FlutterWithoutPartTest::fast, t -> slow(t) + fast(t)));
        assertThat(cases).hasSize(4);
        double slow = 0.1 / Math.sqrt(2);
        double fast = 0.2 / Math.sqrt(2);
        assertThat(value(cases.get(0), WOW_RMS)).isCloseTo(slow, within(0.005 * slow));
        assertThat(value(cases.get(0), FLUTTER_RMS)).isCloseTo(fast, within(0.005 * fast));
        assertThat(value(cases.get(0), FLUTTER_UNWEIGHTED_RMS)).isCloseTo(Math.hypot(slow, fast), within(0.005 * fast));
        // The weighting of IEC 60386 is 1 at 4 Hz and below a quarter at 90 Hz.
        assertThat(value(cases.get(0), FLUTTER_WEIGHTED_RMS)).isBetween(slow, 1.15 * slow);
        assertThat(value(cases.get(1), WOW_RMS)).isLessThan(1e-4);
        assertThat(value(cases.get(1), FLUTTER_UNWEIGHTED_RMS)).isCloseTo(fast, within(0.005 * fast));
        assertThat(value(cases.get(2), FLUTTER_RMS)).isLessThan(0.03 * slow); // (4/10)^4 of the slow one
        assertThat(value(cases.get(2), FLUTTER_UNWEIGHTED_RMS)).isCloseTo(slow, within(0.005 * slow));
        assertThat(value(cases.get(2), FLUTTER_WEIGHTED_RMS)).isCloseTo(slow, within(0.005 * slow));
        // Of both the filter leaves its ripple of 1e-4 and what stands beyond 90 Hz of its images.
        assertThat(value(cases.get(3), FLUTTER_UNWEIGHTED_RMS)).isLessThan(1e-3 * fast);
        for (Measurement each : cases) {
            assertThat(each.readings()).hasSize(12).allMatch(Reading::isValid);
            assertThat(each.warnings()).isEmpty();
        }
    }

    /** The gain at the upper end of the band, whatever the rate is raised to: 400 Hz of 1000 values a second. */
    @Test
    void theBandIsRaisedFlat() {
        double rateHz = 1000;
        DoubleUnaryOperator edge = t -> 0.003 * Math.sin(2 * Math.PI * 400 * t);
        List<Measurement> cases =
                new FlutterWithout(series(rateHz, 40, t -> slow(t) + edge.applyAsDouble(t))).without(List.of(edge));
        double slow = 0.1 / Math.sqrt(2);
        assertThat(value(cases.get(0), FLUTTER_UNWEIGHTED_RMS)).isCloseTo(slow, within(0.005 * slow));
    }

    /** The filters start from the mean of what is left: a steady deviation makes no flutter, whichever part it is. */
    @Test
    void aSteadyPartMakesNoFlutter() {
        DeviationSeries series = series(1000, 9, t -> 0.02 + slow(t));
        List<Measurement> cases =
                new FlutterWithout(series).without(List.of(t -> slow(t), t -> -0.03 + slow(t), t -> 0.05 + slow(t)));
        for (Measurement each : cases) {
            assertThat(value(each, FLUTTER_WEIGHTED_RMS)).isLessThan(1e-4);
            assertThat(value(each, FLUTTER_RMS)).isLessThan(1e-4);
            assertThat(each.find(WOW_RMS).orElseThrow().status()).isEqualTo(Status.INSUFFICIENT_DATA);
        }
    }

    /** The worst moment is told in the time of the recording. */
    @Test
    void theWorstMomentIsThatOfTheRecording() {
        DeviationSeries series = series(1000, 20, t -> slow(t) * (t > 12 && t < 13 ? 3 : 1));
        Measurement measured =
                new FlutterWithout(series).without(List.of(t -> 0)).get(0);
        double moment = measured.find(FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM)
                .orElseThrow()
                .atSeconds()
                .orElseThrow();
        assertThat(moment).isBetween(START + 12.3, START + 13.2);
    }

    /** Fewer values than the filter has taps give no figure; how many there are of them makes no difference else. */
    @Test
    void shortSeriesGiveNoFigures() {
        for (int length : new int[] {0, 10, 500, 700}) {
            DeviationSeries series = series(1000, length / 1000.0, t -> slow(t));
            Measurement measured =
                    new FlutterWithout(series).without(List.of(t -> 0)).get(0);
            assertThat(measured.readings()).hasSize(12).noneMatch(Reading::isValid);
        }
        assertThat(new FlutterWithout(series(1000, 1, t -> 0)).without(List.of()))
                .isEmpty();
    }

    /** Fast figures need 8 s, less 0.1 s for the ends: of a series the filter takes some 0.1 s. */
    @Test
    void everyValueOfTheSeriesIsTaken() {
        assertThat(new FlutterWithout(series(1000, 8.08, FlutterWithoutPartTest::slow))
                        .without(List.of(t -> 0))
                        .get(0)
                        .find(FLUTTER_WEIGHTED_RMS)
                        .orElseThrow()
                        .isValid())
                .isTrue();
        assertThat(new FlutterWithout(series(1000, 7.88, FlutterWithoutPartTest::slow))
                        .without(List.of(t -> 0))
                        .get(0)
                        .find(FLUTTER_WEIGHTED_RMS)
                        .orElseThrow()
                        .isValid())
                .isFalse();
    }
}
