/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import com.sun.management.ThreadMXBean;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.tapemetrology.core.flutter.ToneMeter;

/**
 * Guards of the speed, all of them ratios within one run: the full reading against a plain sum of squares, the same without
 * the vector code of the compiler, bytes allocated per block, and how time grows with the length of a recording. Times are
 * those of the processor on this thread, the least of many rounds, so that other work on the machine hardly counts.
 *
 * <p>Ends with status 1 where a limit is broken.
 */
public final class Guards {
    private static final int RATE = 48_000;
    private static final int BLOCK = 4096;
    private static final int ROUNDS = 40;

    /** Measured 8.7 to 9.3, the more with other work on the machine; without any vector code it is 14. The goal is 6. */
    private static final double MOST_TIMES_YARDSTICK = 10.5;
    /** Measured 1.5 to 1.7. */
    private static final double LEAST_GAIN_OF_VECTORS = 1.3;

    private static final double MOST_GROWTH_ERROR = 0.05;

    private static final ThreadMXBean THREAD = (ThreadMXBean) ManagementFactory.getThreadMXBean();

    private Guards() {}

    /**
     * Checks all guards, or with the argument {@code reading} prints the time of a full reading alone.
     *
     * @param args nothing, or {@code reading}
     * @throws Exception where the second virtual machine can't be run
     */
    public static void main(String[] args) throws Exception {
        PrintStream out = System.out;
        float[] samples = TestTone.minute(RATE);
        if (args.length > 0) {
            out.println(least(() -> read(samples, 1)));
            return;
        }
        List<String> broken = new ArrayList<>();
        double yardstick = least(() -> YardstickBenchmark.sumOfSquares(samples));
        double full = least(() -> read(samples, 1));
        check(out, broken, "full reading / sum of squares", full / yardstick, 0, MOST_TIMES_YARDSTICK);
        double scalar = secondsInAnotherMachine("-XX:-UseSuperWord");
        double vector = secondsInAnotherMachine("-XX:+UseSuperWord");
        check(
                out,
                broken,
                "time without / with vector code",
                scalar / vector,
                LEAST_GAIN_OF_VECTORS,
                Double.POSITIVE_INFINITY);
        check(out, broken, "bytes allocated per block", bytesPerBlock(samples), 0, 0);
        double ten = ProcessorTime.leastOf(12, () -> read(samples, 10)) / 10;
        double hundred = ProcessorTime.leastOf(3, () -> read(samples, 100)) / 100;
        check(
                out,
                broken,
                "time per minute, 100 minutes / 10 minutes",
                hundred / ten,
                1 - MOST_GROWTH_ERROR,
                1 + MOST_GROWTH_ERROR);
        // What is done once, finding the tone and designing filters, is a larger share of a minute than of ten.
        check(out, broken, "time per minute, 10 minutes / 1 minute", ten / full, 0, 1 + MOST_GROWTH_ERROR);
        out.printf(Locale.ROOT, "full reading: %.0f times real time%n", 60 / full);
        if (!broken.isEmpty()) {
            out.println("broken: " + String.join(", ", broken));
            System.exit(1);
        }
    }

    private static void check(
            PrintStream out, List<String> broken, String name, double value, double least, double most) {
        boolean kept = value >= least && value <= most;
        out.printf(
                Locale.ROOT, "%-45s %8.3f   limits %.2f to %.2f  %s%n", name, value, least, most, kept ? "" : "BROKEN");
        if (!kept) {
            broken.add(name);
        }
    }

    /** Reads a minute so many times in a row as one recording; the tone goes on with a step of its phase. */
    private static Object read(float[] minute, int minutes) {
        ToneMeter meter = ToneMeter.builder(RATE).build();
        for (int m = 0; m < minutes; m++) {
            for (int at = 0; at < minute.length; at += BLOCK) {
                meter.accept(minute, at, Math.min(BLOCK, minute.length - at));
            }
        }
        return meter.reading();
    }

    private static double least(ProcessorTime.Work work) throws Exception {
        return ProcessorTime.leastOf(ROUNDS, work);
    }

    private static double secondsInAnotherMachine(String flag) throws IOException, InterruptedException {
        Process process = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        flag,
                        "-cp",
                        System.getProperty("java.class.path"),
                        Guards.class.getName(),
                        "reading")
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        try (BufferedReader reader =
                new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
            String line = reader.readLine();
            if (process.waitFor() != 0 || line == null) {
                throw new IOException("a virtual machine with " + flag + " failed");
            }
            return Double.parseDouble(line);
        }
    }

    private static double bytesPerBlock(float[] samples) {
        ToneMeter meter = ToneMeter.builder(RATE).build();
        meter.accept(samples, 0, samples.length);
        int blocks = samples.length / BLOCK;
        long least = Long.MAX_VALUE;
        for (int round = 0; round < 10; round++) {
            long before = THREAD.getThreadAllocatedBytes(Thread.currentThread().getId());
            for (int i = 0; i < blocks; i++) {
                meter.accept(samples, i * BLOCK, BLOCK);
            }
            least = Math.min(
                    least, THREAD.getThreadAllocatedBytes(Thread.currentThread().getId()) - before);
        }
        return (double) least / blocks;
    }
}
