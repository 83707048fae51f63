/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.tapemetrology.core.RecordingMeter;

/** All flutter, speed and level figures of a minute of test tone, pushed in blocks, one channel. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(2)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
public class FlutterReadingBenchmark {
    /** Frames in a block that is pushed. */
    @Param({"4096"})
    public int block;

    private final float[] samples48k = TestTone.minute(48_000);
    private final float[] samples96k = TestTone.minute(96_000);

    /**
     * The full reading at 48 kHz.
     *
     * @return the readings
     */
    @Benchmark
    public org.tapemetrology.core.quantity.Measurement fullReading48k() {
        return read(samples48k, 48_000);
    }

    /**
     * The full reading at 96 kHz.
     *
     * @return the readings
     */
    @Benchmark
    public org.tapemetrology.core.quantity.Measurement fullReading96k() {
        return read(samples96k, 96_000);
    }

    private org.tapemetrology.core.quantity.Measurement read(float[] samples, int rate) {
        RecordingMeter meter = RecordingMeter.builder(rate, 1).build();
        for (int at = 0; at < samples.length; at += block) {
            meter.accept(samples, at, Math.min(block, samples.length - at));
        }
        return meter.reading();
    }
}
