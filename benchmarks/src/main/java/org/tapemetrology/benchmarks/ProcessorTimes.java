/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import java.io.PrintStream;
import java.util.Locale;
import org.tapemetrology.signals.wav.WavEncoding;

/**
 * The benchmarks by the least processor time of some rounds, as a table with the ratio to the yardstick of the same run: for
 * machines on which other work runs, where JMH, which goes by the clock on the wall, scatters by factors.
 */
public final class ProcessorTimes {
    private static final int BLOCK = 4096;

    private final PrintStream out = System.out;
    private double yardstick;

    private ProcessorTimes() {}

    /**
     * Prints the table.
     *
     * @param args none
     * @throws Exception where a benchmark fails
     */
    public static void main(String[] args) throws Exception {
        new ProcessorTimes().run();
    }

    private void run() throws Exception {
        YardstickBenchmark yard = new YardstickBenchmark();
        yardstick = ProcessorTime.leastOf(60, yard::sumOfSquares);
        out.println("| benchmark | ms | times yardstick | per sample | times real time |");
        out.println("|---|---|---|---|---|");
        row("sum of squares", 60, 1, 60, yard::sumOfSquares);
        row("copy", 60, 1, 60, yard::copy);
        FlutterReadingBenchmark flutter = new FlutterReadingBenchmark();
        flutter.block = BLOCK;
        row("weighted reading, 48 kHz", 60, 1, 40, flutter::weightedReading48k);
        row("full reading, 48 kHz", 60, 1, 40, flutter::fullReading48k);
        row("full reading, 96 kHz", 60, 2, 30, flutter::fullReading96k);
        row("full reading, 48 kHz stereo", 60, 2, 30, flutter::fullReading48kStereo);
        row("whole measurement, 48 kHz", 60, 1, 12, flutter::wholeMeasurement48k);
        row("whole measurement, 48 kHz stereo", 60, 2, 6, flutter::wholeMeasurement48kStereo);
        for (int rate : new int[] {8000, 32_000, 44_100, 88_200, 192_000}) {
            RateBenchmark at = new RateBenchmark();
            at.rate = rate;
            at.block = BLOCK;
            at.record();
            row("full reading, " + rate + " Hz", 60, rate / 48_000.0, 30, at::fullReading);
        }
        StageBenchmark stages = new StageBenchmark();
        row("demodulation", 60, 1, 40, stages::demodulation);
        row("distortion", 60, 1, 10, stages::distortion);
        row("azimuth", 60, 2, 6, stages::azimuth);
        row("sine fit, half a second", 0.5, 1 / 120.0, 30, stages::sineFitOfHalfASecond);
        row("spectrum of the deviation", 60, 1, 3, stages::spectrum);
        row("diagnosis", 60, 1, 2, stages::diagnosis);
        NoiseReadingBenchmark noise = new NoiseReadingBenchmark();
        noise.block = BLOCK;
        row("A weighting", 60, 1, 12, noise::aWeighting48k);
        row("ITU-R BS.468 weighting", 60, 1, 12, noise::bs468Weighting48k);
        row("noise, single figures, stereo", 60, 2, 6, noise::stereo48kSingleFigures);
        row("noise, third octaves, hum, stereo", 60, 2, 4, noise::stereo48k);
        for (WavEncoding encoding : WavEncoding.values()) {
            WavDecodingBenchmark wav = new WavDecodingBenchmark();
            wav.encoding = encoding;
            wav.block = BLOCK;
            wav.record();
            row("decoding " + encoding, 60, 1, 20, wav::decode);
        }
    }

    /** One row; the samples are given as a multiple of those of a minute at 48 kHz, one channel. */
    private void row(String name, double seconds, double samples, int rounds, ProcessorTime.Work work)
            throws Exception {
        double time = ProcessorTime.leastOf(rounds, work);
        out.printf(
                Locale.ROOT,
                "| %s | %.3g | %.3g | %.3g | %.0f |%n",
                name,
                1e3 * time,
                time / yardstick,
                time / yardstick / samples,
                seconds / time);
        out.flush();
    }
}
