/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.signals.conformance.ConformanceReport;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.FlutterMeterUnderTest;
import org.tapemetrology.signals.conformance.RecordingFormat;
import org.tapemetrology.signals.conformance.Suites;

/**
 * What a first attempt at a flutter meter looks like: it times the zero crossings of one channel and shows half of the
 * difference between the highest and the lowest speed. The laboratory exercise {@code labs/own-meter.md} begins here.
 */
public final class NaiveFlutterMeter implements FlutterMeterUnderTest {
    private static final int CYCLES_PER_GATE = 20;
    private static final double SETTLING_SECONDS = 3;

    private final List<Double> hertz = new ArrayList<>();
    private double rateHz;
    private long taken;
    private double last;
    private int cycles;
    private double gateBegan;

    /** A meter at rest. */
    public NaiveFlutterMeter() {}

    @Override
    public void start(RecordingFormat format) {
        hertz.clear();
        rateHz = format.sampleRateHz();
        taken = 0;
        cycles = -1;
    }

    @Override
    public void accept(double[][] block, int length) {
        for (int i = 0; i < length; i++, taken++) {
            double x = block[0][i];
            if (last < 0 && x >= 0) {
                double seconds = (taken - x / (x - last)) / rateHz;
                cycles++;
                if (cycles == CYCLES_PER_GATE && seconds > SETTLING_SECONDS) {
                    hertz.add(CYCLES_PER_GATE / (seconds - gateBegan));
                }
                if (cycles % CYCLES_PER_GATE == 0) {
                    cycles = 0;
                    gateBegan = seconds;
                }
            }
            last = x;
        }
    }

    @Override
    public Optional<Figure> read(Asked asked, int channel) {
        if (asked != Asked.QUASI_PEAK || channel != 0) {
            return Optional.empty();
        }
        DoubleSummaryStatistics all =
                hertz.stream().mapToDouble(Double::doubleValue).summaryStatistics();
        return Optional.of(new Figure(100 * (all.getMax() - all.getMin()) / 2 / all.getAverage(), "%"));
    }

    /**
     * Runs the suite and prints the report.
     *
     * @param arguments none
     */
    public static void main(String[] arguments) {
        System.out.print(
                new ConformanceReport(List.of(Suites.iec60386QuasiPeak().run(new NaiveFlutterMeter()))).toText());
    }
}
