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
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.MatchedFilter;
import org.tapemetrology.core.noise.NoiseMeter;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.standard.Iec61672Edition2013;
import org.tapemetrology.core.standard.ItuRBs468Edition4;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.WhiteNoise;

/** Noise, third octaves and hum of a minute of noise at 48 kHz, and the weightings alone, sample by sample. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
public class NoiseReadingBenchmark {
    private static final int RATE = 48_000;

    /** Frames in a block that is pushed. */
    @Param({"4096"})
    public int block;

    private final float[] left = minute(1);
    private final float[] right = minute(2);
    private final double[] samples = new double[60 * RATE];
    private final double[] out = new double[samples.length];

    private static float[] minute(long seed) {
        float[] samples = new float[60 * RATE];
        SampledSignal.of(new WhiteNoise(seed, 1e-3, RATE), RATE).fill(0, samples, 0, samples.length);
        return samples;
    }

    /**
     * All figures of two channels.
     *
     * @return the readings of the second
     */
    @Benchmark
    public List<Reading> stereo48k() {
        read(left, true);
        return read(right, true);
    }

    /**
     * The single figures of two channels: A-weighted, unweighted, quasi-peak and average.
     *
     * @return the readings of the second
     */
    @Benchmark
    public List<Reading> stereo48kSingleFigures() {
        read(left, false);
        return read(right, false);
    }

    private List<Reading> read(float[] channel, boolean spectrum) {
        NoiseMeter meter = NoiseMeter.builder()
                .sampleRateHz(RATE)
                .thirdOctavesAndHum(spectrum)
                .build();
        for (int at = 0; at < channel.length; at += block) {
            meter.accept(channel, at, Math.min(block, channel.length - at));
        }
        return meter.readings();
    }

    /**
     * A weighting, one channel.
     *
     * @return the weighted samples
     */
    @Benchmark
    public double[] aWeighting48k() {
        return weighted(Iec61672Edition2013.aWeighting());
    }

    /**
     * Weighting of ITU-R BS.468, one channel.
     *
     * @return the weighted samples
     */
    @Benchmark
    public double[] bs468Weighting48k() {
        return weighted(ItuRBs468Edition4.weighting());
    }

    private double[] weighted(AnalogFilter weighting) {
        new MatchedFilter(weighting, RATE).process(samples, 0, samples.length, out, 0);
        return out;
    }
}
