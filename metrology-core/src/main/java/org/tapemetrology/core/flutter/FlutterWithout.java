/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.tapemetrology.core.filter.FirDesign;
import org.tapemetrology.core.quantity.Measurement;

/**
 * What a machine would read without a part of its flutter: the kept deviation, less that part, goes once more through the
 * bands and detectors of the meter, which take it at four times its rate or more.
 *
 * <p>Readings are those of {@link ToneMeter} in % (IEC 60386). Immutable; any number of threads may use it. Cost: for
 * each part as much as the filters and detectors of a meter take over the whole series. A deviation or part that is
 * not finite is refused with an {@link IllegalArgumentException} that names the figure.
 *
 * <p>Not for scrape flutter, which lies beyond the band of the series.
 */
public final class FlutterWithout {
    private static final double LEAST_RATE_HZ = 4000;
    private static final double ATTENUATION_DB = 80;
    private static final int BLOCK = 512;
    private static final double PRESET_SECONDS = 0.5;

    private final DeviationSeries series;
    private final int factor;
    private final double[][] taps;
    private final double delaySeconds;

    /**
     * Prepares a series.
     *
     * @param series deviation of a stretch
     */
    public FlutterWithout(DeviationSeries series) {
        this.series = series;
        this.factor = (int) Math.ceil(LEAST_RATE_HZ / series.rateHz());
        double pass = WeightedPath.BAND_HZ;
        double[] prototype = FirDesign.lowPass(pass, series.rateHz() - pass, ATTENUATION_DB, factor * series.rateHz());
        this.taps = polyphase(prototype, factor);
        this.delaySeconds = (prototype.length - 1) / 2.0 / (factor * series.rateHz());
    }

    /** Taps of each phase, last first, with the gain that the zeros between the samples cost. */
    private static double[][] polyphase(double[] prototype, int factor) {
        int each = (prototype.length + factor - 1) / factor;
        double[][] phases = new double[factor][each];
        for (int k = 0; k < prototype.length; k++) {
            phases[k % factor][each - 1 - k / factor] = factor * prototype[k];
        }
        return phases;
    }

    /**
     * The readings without each of some parts of the flutter. Scrape flutter, beyond the band of the series, is not among
     * them.
     *
     * @param parts what is left out in each case: relative deviation over time, in s from the first value of the series
     * @return readings for each case, in order
     */
    public List<Measurement> without(List<DoubleUnaryOperator> parts) {
        double rateHz = factor * series.rateHz();
        List<FlutterBands> meters = new ArrayList<>();
        for (int i = 0; i < parts.size(); i++) {
            FlutterBands meter = new FlutterBands(rateHz);
            meter.presetTo(firstMean(parts.get(i)));
            meters.add(meter);
        }
        int each = taps[0].length;
        double[] values = new double[BLOCK + each];
        double[] raised = new double[BLOCK * factor];
        double[] left = new double[BLOCK * factor];
        for (int at = 0; at + each <= series.size(); at += BLOCK) {
            int count = Math.min(BLOCK, series.size() - each - at + 1);
            for (int i = 0; i < count + each - 1; i++) {
                values[i] = series.value(at + i);
            }
            raise(values, count, raised);
            for (int m = 0; m < parts.size(); m++) {
                DoubleUnaryOperator part = parts.get(m);
                for (int i = 0; i < count * factor; i++) {
                    double seconds = (at + each - 1) / series.rateHz() + i / rateHz - delaySeconds;
                    left[i] = raised[i] - part.applyAsDouble(seconds);
                }
                meters.get(m).accept(left, 0, count * factor, false);
            }
        }
        List<Measurement> measurements = new ArrayList<>();
        for (FlutterBands meter : meters) {
            ReportLines lines = new ReportLines();
            new FlutterReport(lines).figures(meter, series.startSeconds(), 100);
            measurements.add(lines.measurement());
        }
        return measurements;
    }

    /** Mean of the first half second, from which the filters start. */
    private double firstMean(DoubleUnaryOperator part) {
        int length = (int) Math.min(series.size(), Math.round(PRESET_SECONDS * series.rateHz()));
        double sum = 0;
        for (int i = 0; i < length; i++) {
            sum += series.value(i) - part.applyAsDouble(i / series.rateHz());
        }
        return length == 0 ? 0 : sum / length;
    }

    private void raise(double[] values, int count, double[] raised) {
        for (int i = 0; i < count; i++) {
            for (int phase = 0; phase < factor; phase++) {
                double[] h = taps[phase];
                double sum = 0;
                for (int k = 0; k < h.length; k++) {
                    sum += h[k] * values[i + k];
                }
                raised[i * factor + phase] = sum;
            }
        }
    }
}
