/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import java.util.List;
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
import org.tapemetrology.core.flutter.ToneMeter;

/**
 * Readings of a minute of test tone, pushed in blocks. The full reading is that of the tone meter: every flutter figure,
 * speed, level, noise beside the tone, second tone, overload and strip chart. The whole measurement has distortion with it,
 * and on two channels azimuth and separation.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
public class FlutterReadingBenchmark {
    private static final double TONE_HZ = 3150;

    /** Frames in a block that is pushed. */
    @Param({"4096"})
    public int block;

    private final float[] samples48k = TestTone.minute(48_000);
    private final float[] samples96k = TestTone.minute(96_000);
    private final float[] interleaved48k = TestTone.interleaved(samples48k);

    /**
     * The weighted reading alone at 48 kHz: presence of the tone, quasi-peak and two-sigma.
     *
     * @return quasi-peak and two-sigma value in Hz
     */
    @Benchmark
    public double weightedReading48k() {
        WeightedReading reading = new WeightedReading(48_000, TONE_HZ);
        for (int at = 0; at < samples48k.length; at += block) {
            reading.accept(samples48k, at, Math.min(block, samples48k.length - at));
        }
        return reading.quasiPeakHz().orElseThrow() + reading.twoSigmaHz().orElseThrow();
    }

    /**
     * The full reading at 48 kHz.
     *
     * @return the readings
     */
    @Benchmark
    public org.tapemetrology.core.quantity.Measurement fullReading48k() {
        return full(samples48k, 48_000);
    }

    /**
     * The full reading at 96 kHz.
     *
     * @return the readings
     */
    @Benchmark
    public org.tapemetrology.core.quantity.Measurement fullReading96k() {
        return full(samples96k, 96_000);
    }

    private org.tapemetrology.core.quantity.Measurement full(float[] samples, int rate) {
        ToneMeter meter = ToneMeter.builder(rate).build();
        for (int at = 0; at < samples.length; at += block) {
            meter.accept(samples, at, Math.min(block, samples.length - at));
        }
        return meter.reading();
    }

    /**
     * The full reading of both channels of interleaved samples at 48 kHz.
     *
     * @return the readings of both channels
     */
    @Benchmark
    public List<org.tapemetrology.core.quantity.Measurement> fullReading48kStereo() {
        ToneMeter left = ToneMeter.builder(48_000).build();
        ToneMeter right = ToneMeter.builder(48_000).build();
        int frames = interleaved48k.length / 2;
        for (int at = 0; at < frames; at += block) {
            int part = Math.min(block, frames - at);
            left.accept(interleaved48k, 2 * at, 2, part);
            right.accept(interleaved48k, 2 * at + 1, 2, part);
        }
        return List.of(left.reading(), right.reading());
    }

    /**
     * Everything that the facade measures on one channel at 48 kHz.
     *
     * @return the readings
     */
    @Benchmark
    public org.tapemetrology.core.quantity.Measurement wholeMeasurement48k() {
        return whole(samples48k, 1);
    }

    /**
     * Everything that the facade measures on two channels at 48 kHz.
     *
     * @return the readings
     */
    @Benchmark
    public org.tapemetrology.core.quantity.Measurement wholeMeasurement48kStereo() {
        return whole(interleaved48k, 2);
    }

    private org.tapemetrology.core.quantity.Measurement whole(float[] interleaved, int channels) {
        RecordingMeter meter = RecordingMeter.builder(48_000, channels).build();
        int frames = interleaved.length / channels;
        for (int at = 0; at < frames; at += block) {
            meter.accept(interleaved, channels * at, Math.min(block, frames - at));
        }
        return meter.reading();
    }
}
