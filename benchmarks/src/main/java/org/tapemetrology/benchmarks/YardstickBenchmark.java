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

/** What merely touching a minute of samples costs: the measure for every other figure. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
public class YardstickBenchmark {
    private final float[] samples = TestTone.minute(48_000);
    private final float[] copy = new float[samples.length];

    /**
     * Plain sum of squares, in order: the compiler may not turn it into vector code.
     *
     * @return the sum
     */
    @Benchmark
    public float sumOfSquares() {
        return sumOfSquares(samples);
    }

    static float sumOfSquares(float[] samples) {
        float sum = 0;
        for (float x : samples) {
            sum += x * x;
        }
        return sum;
    }

    /**
     * Plain copy.
     *
     * @return the copy
     */
    @Benchmark
    public float[] copy() {
        System.arraycopy(samples, 0, copy, 0, samples.length);
        return copy;
    }
}
