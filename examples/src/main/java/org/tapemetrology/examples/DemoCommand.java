/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.tapemetrology.core.quantity.Quantity.CHANNEL_BALANCE;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_WEIGHTED_QUASI_PEAK;
import static org.tapemetrology.core.quantity.Quantity.SPEED_ERROR;

import java.io.PrintStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.signals.SampledSignal;
import picocli.CommandLine.Command;

/** Plays a calibration cassette on a worn machine of an invented archive, measures it, and says what to adjust. */
@Command(
        name = "demo",
        mixinStandardHelpOptions = true,
        description = "Measures a worn machine of an invented archive and says what to adjust.")
final class DemoCommand implements Runnable {
    private static final int RATE_HZ = 48_000;
    private static final int BLOCK = 4800;

    private final PrintStream out;
    private final PrintStream err;

    DemoCommand(PrintStream out, PrintStream err) {
        this.out = out;
        this.err = err;
    }

    /** A limit that a reading is held against. */
    private record Limit(Quantity quantity, double magnitude, String source) {}

    private static final List<Limit> LIMITS = List.of(
            new Limit(SPEED_ERROR, 1.5, "DIN 45500 sheet 4 (second-hand)"),
            new Limit(SPEED_ERROR, 0.3, "IASA TC-04, archival replay"),
            new Limit(FLUTTER_WEIGHTED_QUASI_PEAK, 0.2, "DIN 45500 sheet 4 (second-hand)"),
            new Limit(FLUTTER_WEIGHTED_QUASI_PEAK, 0.1, "IASA TC-04, archival replay"),
            new Limit(CHANNEL_BALANCE, 2, "DIN 45500 sheet 4 (second-hand)"),
            new Limit(CHANNEL_BALANCE, 0.5, "common practice, no source"));

    @Override
    public void run() {
        out.println(
                "North Hill Community Radio keeps its programmes on cassette. Before machine 2 copies any of them it plays");
        out.println(
                "a 3150 Hz calibration cassette into the converter. The recording is made here, with the flaws of a");
        out.println("worn machine in it, and then measured as any recording would be.");
        out.println();
        Measurement measurement = measure(new WornCassetteMachine(RATE_HZ));
        out.println("Readings (channel 1, then between the channels)");
        for (Reading reading : measurement.readings()) {
            if (reading.channel().orElse(1) == 1) {
                out.println("  " + MeasurementTable.row(reading));
            }
        }
        for (Warning warning : measurement.warnings()) {
            out.println("! " + MeasurementTable.text(warning));
        }
        out.println();
        out.println(
                "Against the limits (readings alone: the uncertainty of tape and converter is not yet part of this)");
        for (Limit limit : LIMITS) {
            out.println("  " + verdict(limit, measurement.find(limit.quantity()).orElseThrow()));
        }
        out.println();
        out.println("What to adjust");
        advise(measurement).forEach(line -> out.println("  " + line));
        out.println();
        out.println(
                "Before you open the machine: isolate it from the mains and let its capacitors discharge; adjust a live");
        out.println(
                "chassis only if you are qualified, through an isolating transformer or residual-current protection.");
        out.println(
                "Demagnetise the path and disable recording before the calibration cassette goes in, and try the tape");
        out.println("handling with a scrap tape first. The maker's service instructions and local codes come first.");
    }

    private Measurement measure(WornCassetteMachine machine) {
        RecordingMeter meter =
                RecordingMeter.builder(RATE_HZ, 2).nominalHz(3150).build();
        List<SampledSignal> channels = machine.channels();
        double[] left = new double[BLOCK];
        double[] right = new double[BLOCK];
        float[] frames = new float[2 * BLOCK];
        long total = Math.round(WornCassetteMachine.SECONDS * RATE_HZ);
        Progress progress = Progress.onTerminal(err);
        progress.begin();
        for (long at = 0; at < total; at += BLOCK) {
            channels.get(0).fill(at, left, 0, BLOCK);
            channels.get(1).fill(at, right, 0, BLOCK);
            for (int i = 0; i < BLOCK; i++) {
                frames[2 * i] = (float) left[i];
                frames[2 * i + 1] = (float) right[i];
            }
            meter.accept(frames, 0, BLOCK);
            progress.at("calibration cassette", (double) at / RATE_HZ);
        }
        progress.end();
        return meter.reading();
    }

    private static String verdict(Limit limit, Reading reading) {
        String name = reading.quantity().id();
        String unit = reading.unit().symbol();
        if (!reading.isValid()) {
            return String.format(Locale.ROOT, "%-30s %s", name, reading.status().id());
        }
        double value = reading.value().getAsDouble();
        return String.format(
                Locale.ROOT,
                "%-30s %+8.3f %-2s  limit +-%.1f %-2s  %-8s %s",
                name,
                value,
                unit,
                limit.magnitude(),
                unit,
                Math.abs(value) <= limit.magnitude() ? "within" : "outside",
                limit.source());
    }

    private static List<String> advise(Measurement measurement) {
        List<String> advice = new ArrayList<>();
        measurement.find(SPEED_ERROR).filter(Reading::isValid).ifPresent(reading -> {
            double error = reading.value().getAsDouble();
            advice.add(String.format(
                    Locale.ROOT,
                    "Speed: the machine runs %.2f %% %s; turn the motor's speed trimmer until the tone reads 3150 Hz, %.2f %% %s.",
                    Math.abs(error),
                    error > 0 ? "fast" : "slow",
                    Math.abs(100 * (1 / (1 + error / 100) - 1)),
                    error > 0 ? "down" : "up"));
        });
        measurement.find(FLUTTER_WEIGHTED_QUASI_PEAK).filter(Reading::isValid).ifPresent(reading -> {
            if (reading.value().getAsDouble() > 0.1) {
                advice.add(
                        "Flutter: clean capstan and pinch roller, look at the roller's surface and pressure and at the belts,");
                advice.add(
                        "then measure again; the strip chart and the bands (wow below 10 Hz, flutter above) tell which to take first.");
            }
        });
        measurement.find(CHANNEL_BALANCE).filter(Reading::isValid).ifPresent(reading -> {
            double balance = reading.value().getAsDouble();
            advice.add(String.format(
                    Locale.ROOT,
                    "Replay level: channel 2 is %.2f dB %s channel 1; azimuth first, then the level trimmers.",
                    Math.abs(balance),
                    balance < 0 ? "below" : "above"));
        });
        return advice;
    }
}
