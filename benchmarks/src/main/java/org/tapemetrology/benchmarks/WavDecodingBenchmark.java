/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
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
import org.tapemetrology.core.wav.WavReader;
import org.tapemetrology.signals.wav.WavEncoding;
import org.tapemetrology.signals.wav.WavWriter;

/** Reading a minute of WAV at 48 kHz, one channel, from memory, for each format. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
public class WavDecodingBenchmark {
    private static final int RATE = 48_000;

    /** Format of the samples. */
    @Param
    public WavEncoding encoding = WavEncoding.PCM_24;

    /** Frames in a block that is read. */
    @Param({"4096"})
    public int block;

    private byte[] file = new byte[0];

    /**
     * Writes the recording.
     *
     * @throws IOException where it can't be written
     */
    @Setup
    public void record() throws IOException {
        float[] tone = TestTone.minute(RATE);
        double[] samples = new double[tone.length];
        for (int i = 0; i < tone.length; i++) {
            samples[i] = tone[i];
        }
        Path path = Files.createTempFile("minute", ".wav");
        try (WavWriter writer = WavWriter.to(path)
                .sampleRateHz(RATE)
                .channels(1)
                .encoding(encoding)
                .overwrite()
                .create()) {
            writer.write(samples);
        }
        file = Files.readAllBytes(path);
        Files.delete(path);
    }

    /**
     * Reads all of it.
     *
     * @return number of frames
     * @throws IOException where reading fails
     */
    @Benchmark
    public int decode() throws IOException {
        try (WavReader reader = WavReader.of(new ByteArrayInputStream(file), "minute")) {
            float[] samples = new float[block];
            int frames = 0;
            for (int read = reader.read(samples, 0, block); read >= 0; read = reader.read(samples, 0, block)) {
                frames += read;
            }
            return frames;
        }
    }
}
