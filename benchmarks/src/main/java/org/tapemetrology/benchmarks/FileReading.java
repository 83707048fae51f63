/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.flutter.ToneMeter;

/**
 * The reading of a file of raw 32-bit floats at 48 kHz, one channel, to compare with {@code peers/peers.py}: the weighted
 * reading, as the scripts take it, or the full one. Unlike there the seconds include reading the file.
 */
public final class FileReading {
    private static final int RATE = 48_000;
    private static final int BLOCK = 4096;

    private FileReading() {}

    /**
     * Prints one JSON object.
     *
     * @param args weighted or full, the file, and the number of rounds
     * @throws IOException where the file can't be read
     */
    public static void main(String[] args) throws IOException {
        boolean full = args[0].equals("full");
        int rounds = args.length > 2 ? Integer.parseInt(args[2]) : 1;
        ThreadMXBean thread = ManagementFactory.getThreadMXBean();
        List<Double> seconds = new ArrayList<>();
        String reading = "";
        for (int round = 0; round < rounds; round++) {
            long begin = thread.getCurrentThreadCpuTime();
            reading = full ? full(Path.of(args[1])) : weighted(Path.of(args[1]));
            seconds.add((thread.getCurrentThreadCpuTime() - begin) / 1e9);
        }
        PrintStream out = System.out;
        out.println("{\"method\": \"" + args[0] + "\", \"seconds\": " + seconds + ", \"reading\": " + reading + "}");
    }

    private interface Sink {
        void accept(float[] samples, int offset, int length);
    }

    private static String weighted(Path file) throws IOException {
        WeightedReading reading = new WeightedReading(RATE, 3150);
        feed(file, reading::accept);
        double toPercent = 100 / 3150.0;
        return "[" + reading.quasiPeakHz().orElseThrow() * toPercent + ", "
                + reading.twoSigmaHz().orElseThrow() * toPercent + "]";
    }

    private static String full(Path file) throws IOException {
        ToneMeter meter = ToneMeter.builder(RATE).build();
        feed(file, meter::accept);
        return Integer.toString(meter.reading().readings().size());
    }

    private static void feed(Path file, Sink sink) throws IOException {
        byte[] bytes = new byte[4 * BLOCK];
        float[] samples = new float[BLOCK];
        ByteBuffer buffer = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
        try (InputStream in = Files.newInputStream(file)) {
            for (int count = in.readNBytes(bytes, 0, bytes.length);
                    count > 0;
                    count = in.readNBytes(bytes, 0, bytes.length)) {
                buffer.rewind().asFloatBuffer().get(samples, 0, count / 4);
                sink.accept(samples, 0, count / 4);
            }
        }
    }
}
