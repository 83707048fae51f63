/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.WarningCode;

/** Deviations that are kept, samples that are kept, levels of windows, and the lines of a report. */
class DeviationSeriesTest {
    private static DeviationSeries ramp(int size) {
        float[] values = new float[size];
        for (int i = 0; i < size; i++) {
            values[i] = i * 1e-6f;
        }
        return DeviationSeries.of(2, 1000, 3150, values);
    }

    @Test
    void aSeriesGivesItsValuesAndTimes() {
        DeviationSeries series = ramp(1500);
        assertThat(series.size()).isEqualTo(1500);
        assertThat(series.seconds()).isEqualTo(1.5);
        assertThat(series.startSeconds()).isEqualTo(2);
        assertThat(series.rateHz()).isEqualTo(1000);
        assertThat(series.meanHz()).isEqualTo(3150);
        // Values are kept as float of some 5 Hz at most: to 3e-7 Hz, 1e-10 of the tone.
        assertThat(series.value(0)).isZero();
        assertThat(series.value(1499)).isCloseTo(1499e-6, within(2e-10));
        double[] part = series.part(700, 3);
        assertThat(part).hasSize(3);
        assertThat(part[2]).isCloseTo(702e-6, within(2e-10));
        DeviationSeries slice = series.slice(500, 250);
        assertThat(slice.size()).isEqualTo(250);
        assertThat(slice.startSeconds()).isEqualTo(2.5);
        assertThat(slice.value(249)).isCloseTo(749e-6, within(2e-10));
        assertThat(slice.meanHz()).isEqualTo(3150);
        assertThat(ramp(0).seconds()).isZero();
    }

    @Test
    void whatLiesOutsideIsRefused() {
        DeviationSeries series = ramp(10);
        assertThatThrownBy(() -> series.value(10)).isInstanceOf(IndexOutOfBoundsException.class);
        assertThatThrownBy(() -> series.value(-1)).isInstanceOf(IndexOutOfBoundsException.class);
        assertThatThrownBy(() -> series.part(5, 6)).isInstanceOf(IndexOutOfBoundsException.class);
        assertThatThrownBy(() -> series.slice(5, 6)).isInstanceOf(IndexOutOfBoundsException.class);
        assertThat(DeviationSeries.of(0, 2000, 3150, new float[1]).rateHz()).isEqualTo(2000);
        for (double rate : new double[] {999, 2001, Double.NaN}) {
            assertThatThrownBy(() -> DeviationSeries.of(0, rate, 3150, new float[1]))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("rateHz " + rate + " is not in 1000 to 2000");
        }
    }

    /**
     * A slow sine at the input comes out at its time, less the mean frequency re the tuned one: the filter is flat to 0.01 %
     * in its pass band (80 dB), and more than a chunk of 16384 values is kept.
     */
    @ParameterizedTest
    @CsvSource({"6000, 6, 100", "2400, 2, 20", "5999, 5, 1"})
    void theRecorderKeepsWhatItIsGiven(double inputRate, int factor, int seconds) {
        DeviationRecorder recorder = new DeviationRecorder(inputRate);
        assertThat(recorder.series(1, 3150, 3151).size()).isZero();
        double[] block = new double[997];
        long at = 0;
        while (at < seconds * inputRate) {
            for (int i = 0; i < block.length; i++) {
                block[i] = 1 + 2 * Math.sin(2 * Math.PI * 4 * (at + i) / inputRate);
            }
            recorder.accept(block, 0, 500);
            recorder.accept(block, 500, block.length - 500);
            at += block.length;
        }
        DeviationSeries series = recorder.series(1, 3150, 3151);
        assertThat(series.rateHz()).isEqualTo(inputRate / factor);
        assertThat(series.seconds()).isBetween(seconds - 0.1, seconds + 0.5);
        for (int i = 0; i < series.size(); i += 7) {
            double t = series.startSeconds() - 1 + i / series.rateHz();
            assertThat(series.value(i)).isCloseTo(2 * Math.sin(2 * Math.PI * 4 * t) / 3151, within(2.5e-4 / 3151));
        }
    }

    /** However samples come, the last ones of the capacity can be found by their number. */
    @Test
    void theHistoryHoldsTheLastSamples() {
        SampleHistory history = new SampleHistory(50);
        float[] source = new float[400];
        double[] wide = new double[400];
        for (int i = 0; i < 400; i++) {
            source[i] = i;
            wide[i] = i;
        }
        float[] pairs = new float[800];
        for (int i = 0; i < 400; i++) {
            pairs[2 * i + 1] = i;
        }
        int at = 0;
        for (int block = 1; at + block <= 400; block = block % 37 + 5) {
            switch (at % 3) {
                case 0 -> history.append(source, at, block);
                case 1 -> history.append(wide, at, block);
                default -> history.append(pairs, 2 * at + 1, 2, block);
            }
            at += block;
            assertThat(history.endIndex()).isEqualTo(at);
            for (int back = 1; back <= Math.min(50, at); back++) {
                assertThat(history.array()[history.position(at - back)]).isEqualTo(at - back);
            }
        }
    }

    /** Windows of 100 ms: a bridged part begins a new one, silence counts for none. */
    @Test
    void levelsAreThoseOfWholeWindows() {
        ToneLevelMeter meter = new ToneLevelMeter(100); // ten samples a window
        assertThat(meter.meanPower()).isZero();
        double[] power = new double[40];
        for (int i = 0; i < 40; i++) {
            power[i] = i < 10 ? 2 : i < 20 ? 4 : i < 30 ? 0 : 6;
        }
        meter.accept(power, 0, 15, false);
        assertThat(meter.windows()).isEqualTo(1);
        assertThat(meter.meanPower()).isEqualTo(2);
        meter.accept(power, 15, 25, false);
        assertThat(meter.windows()).isEqualTo(3);
        assertThat(meter.sumOfWindows()).isCloseTo(12, within(1e-12));
        assertThat(meter.meanPower()).isCloseTo(4, within(1e-12));
        meter.accept(power, 30, 9, false);
        meter.accept(power, 0, 5, true);
        meter.accept(power, 0, 9, false);
        assertThat(meter.windows()).isEqualTo(3);
        meter.accept(power, 0, 1, false);
        assertThat(meter.windows()).isEqualTo(4);
        assertThat(meter.sumOfWindows()).isCloseTo(14, within(1e-12));
    }

    @Test
    void linesOfAReport() {
        ReportLines lines = new ReportLines();
        StandardUncertainty scatter = StandardUncertainty.of(0.1);
        lines.add(Quantity.WOW_RMS, "m", true, OptionalDouble.of(2), Optional.of(scatter));
        lines.add(Quantity.FLUTTER_RMS, "m", true, OptionalDouble.of(3), Optional.empty());
        lines.add(Quantity.SPEED_ERROR, "m", false, OptionalDouble.of(2), Optional.of(scatter));
        lines.add(Quantity.SPEED_DRIFT, "m", true, OptionalDouble.empty(), Optional.empty());
        lines.without(Quantity.LEVEL, Status.NO_CARRIER, "none");
        lines.warn(WarningCode.NOMINAL_ASSUMED, "%.1f dB", 1.25);
        lines.warnDuring(1, 2.5, WarningCode.CARRIER_LOST, "of %d", 7);
        Measurement measurement = lines.measurement();
        assertThat(measurement.readings())
                .containsExactly(
                        Reading.valid(Quantity.WOW_RMS, 2, "m").withTypeA(scatter),
                        Reading.valid(Quantity.FLUTTER_RMS, 3, "m"),
                        Reading.without(Quantity.SPEED_ERROR, Status.INSUFFICIENT_DATA, "m"),
                        Reading.without(Quantity.SPEED_DRIFT, Status.INSUFFICIENT_DATA, "m"),
                        Reading.without(Quantity.LEVEL, Status.NO_CARRIER, "none"));
        assertThat(measurement.warnings()).hasSize(2);
        assertThat(measurement.warnsOf(WarningCode.NOMINAL_ASSUMED)).isTrue();
        assertThat(measurement.warnsOf(WarningCode.CARRIER_LOST)).isTrue();
        // A tenth of a second at the ends is not asked for.
        assertThat(ReportLines.lasted(9.9, 10)).isTrue();
        assertThat(ReportLines.lasted(9.89, 10)).isFalse();
        assertThat(ReportLines.scaled(OptionalDouble.of(3), 2)).hasValue(6);
        assertThat(ReportLines.scaled(OptionalDouble.empty(), 2)).isEmpty();
        assertThat(ReportLines.scaled(Optional.of(scatter), 3).orElseThrow().value())
                .isCloseTo(0.3, within(1e-15));
    }
}
