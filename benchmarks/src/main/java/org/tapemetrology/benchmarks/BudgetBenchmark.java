/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.WhiteNoise;

/** What the uncertainty budgets of all readings take beside the measurement of a minute of tone at 48 kHz mono. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Fork(2)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
public class BudgetBenchmark {
    private static final int RATE = 48_000;

    private final float[] samples = minute();
    private final ReadingBudgets budgets =
            RecordingMeter.builder(RATE, 1).build().budgets();
    private final org.tapemetrology.core.quantity.Measurement measured = wholeMeasurement();

    private static float[] minute() {
        FmTone tone = FmTone.builder(3150)
                .amplitude(0.5)
                .speedError(0.003)
                .sine(4, 0.0005)
                .sine(0.7, 0.0003)
                .build();
        float[] samples = new float[60 * RATE];
        SampledSignal.of(tone.plus(new WhiteNoise(1, 5e-4, RATE)), RATE).fill(0, samples, 0, samples.length);
        return samples;
    }

    /**
     * The whole measurement, budgets included.
     *
     * @return every reading
     */
    @Benchmark
    public final org.tapemetrology.core.quantity.Measurement wholeMeasurement() {
        RecordingMeter meter = RecordingMeter.builder(RATE, 1).build();
        meter.accept(samples, 0, samples.length);
        return meter.reading();
    }

    /**
     * The budgets of its readings.
     *
     * @return the same readings with their expanded uncertainties
     */
    @Benchmark
    public org.tapemetrology.core.quantity.Measurement budgetsOfItsReadings() {
        return budgets.applied(measured);
    }
}
