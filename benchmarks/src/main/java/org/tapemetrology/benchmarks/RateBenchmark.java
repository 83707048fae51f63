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
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.tapemetrology.core.flutter.ToneMeter;

/** The full reading of a minute of test tone at every usual sampling rate and in blocks of several sizes. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
public class RateBenchmark {
    /** Sampling rate in Hz. */
    @Param({"8000", "32000", "44100", "48000", "88200", "96000", "192000"})
    public int rate;

    /** Samples in a block that is pushed. */
    @Param({"64", "4096"})
    public int block;

    private float[] samples = new float[0];

    /** Makes the recording. */
    @Setup
    public void record() {
        samples = TestTone.minute(rate);
    }

    /**
     * The yardstick on the same samples.
     *
     * @return the sum
     */
    @Benchmark
    public float sumOfSquares() {
        return YardstickBenchmark.sumOfSquares(samples);
    }

    /**
     * The full reading.
     *
     * @return the readings
     */
    @Benchmark
    public org.tapemetrology.core.quantity.Measurement fullReading() {
        ToneMeter meter = ToneMeter.builder(rate).build();
        for (int at = 0; at < samples.length; at += block) {
            meter.accept(samples, at, Math.min(block, samples.length - at));
        }
        return meter.reading();
    }
}
