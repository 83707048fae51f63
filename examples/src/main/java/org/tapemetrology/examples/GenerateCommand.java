/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.examples.files.ProgrammeFile;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.Dropout;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Hum;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.WhiteNoise;
import org.tapemetrology.signals.wav.WavEncoding;
import org.tapemetrology.signals.wav.WavWriter;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Writes a test tone with chosen flaws, whose truth is known, as a WAV file. */
@Command(
        name = "generate",
        mixinStandardHelpOptions = true,
        description = "Writes a test tone with chosen flaws as a WAV file.",
        footer = {
            "",
            "Keep test tones low into loudspeakers and headphones.",
            "Exit status: 0 where the file was written, 2 where it was not, 64 for wrong usage."
        })
final class GenerateCommand implements Callable<Integer> {
    /** Samples of the file. */
    enum Samples {
        /** 16-bit integers with dither. */
        PCM16,
        /** 24-bit integers with dither. */
        PCM24,
        /** 32-bit floating point. */
        FLOAT32
    }

    private final PrintStream err;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Option(names = "--out", required = true, paramLabel = "FILE", description = "file to write")
    private Path out = Path.of("");

    @Option(names = "--force", description = "overwrite the file if it is there")
    private boolean force;

    @Option(
            names = "--programme",
            paramLabel = "NAME|FILE",
            description =
                    "write a test programme instead: speed-and-azimuth, level-and-response, record-side, or a JSON file")
    private @Nullable String programme;

    @Option(names = "--tone", paramLabel = "HZ", description = "frequency at the right speed (default 3150)")
    private double toneHz = 3150;

    @Option(names = "--seconds", paramLabel = "S", description = "length (default 60)")
    private double seconds = 60;

    @Option(names = "--rate", paramLabel = "HZ", description = "sampling rate (default 48000)")
    private int rateHz = 48_000;

    @Option(names = "--samples", paramLabel = "KIND", description = "pcm16, pcm24 (default) or float32")
    private Samples samples = Samples.PCM24;

    @Option(names = "--channels", paramLabel = "N", description = "channels with the same signal (default 1)")
    private int channels = 1;

    @Option(names = "--level", paramLabel = "DBFS", description = "level of the tone (default -6)")
    private double levelDbfs = -6;

    @Option(names = "--speed-error", paramLabel = "PERCENT", description = "speed error")
    private double speedErrorPercent;

    @Option(names = "--drift", paramLabel = "PERCENT_PER_MINUTE", description = "change of speed over time")
    private double driftPercentPerMinute;

    @Option(
            names = "--flutter",
            paramLabel = "HZ:PERCENT",
            description = "sinusoidal deviation, rate and peak; repeatable")
    private List<String> flutter = List.of();

    @Option(names = "--hiss", paramLabel = "DBFS", description = "white noise")
    private List<Double> hissDbfs = List.of();

    @Option(names = "--hum", paramLabel = "HZ:DBFS", description = "hum of one frequency; repeatable")
    private List<String> hum = List.of();

    @Option(
            names = "--dropout",
            paramLabel = "S:S:DB",
            description = "start, length and depth of a dropout; repeatable")
    private List<String> dropouts = List.of();

    GenerateCommand(PrintStream err) {
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        require(seconds > 0 && seconds <= 86_400, "--seconds " + seconds + " is not in (0, 86400]");
        require(rateHz >= 8000 && rateHz <= 192_000, "--rate " + rateHz + " is not in 8000 to 192000 Hz");
        require(channels >= 1 && channels <= 64, "--channels " + channels + " is not in 1 to 64");
        require(toneHz > 0 && toneHz < rateHz / 2.0, "--tone " + toneHz + " is not between 0 and half the rate");
        require(levelDbfs <= 0, "--level " + levelDbfs + " is above 0 dBFS");
        if (Files.exists(out) && !force) {
            throw new IOException(out + " is there already; --force overwrites it");
        }
        return programme == null ? writeTone() : writeProgramme(ProgrammeFile.named(programme));
    }

    private int writeProgramme(Programme described) throws IOException {
        ProgrammeSound sound = new ProgrammeSound(described, rateHz);
        try (WavWriter writer = builder(2).create()) {
            sound.writeTo(writer);
            warnOfSaturation(writer);
        }
        err.println(String.format(
                Locale.ROOT,
                "%s: programme %s, %d steps, %.1f s",
                out,
                described.name(),
                described.steps().size(),
                described.seconds()));
        return Workbench.ALL_MEASURED;
    }

    private void warnOfSaturation(WavWriter writer) {
        if (writer.saturatedSamples() > 0) {
            err.println("generate: " + writer.saturatedSamples() + " samples went beyond full scale and were cut");
        }
    }

    private WavWriter.Builder builder(int ofChannels) {
        WavWriter.Builder builder =
                WavWriter.to(out).sampleRateHz(rateHz).channels(ofChannels).encoding(encoding());
        if (samples != Samples.FLOAT32) {
            builder.dither(1);
        }
        if (force) {
            builder.overwrite();
        }
        return builder;
    }

    private int writeTone() throws IOException {
        SampledSignal signal = SampledSignal.of(signal(), rateHz);
        SampledSignal[] all = new SampledSignal[channels];
        Arrays.fill(all, signal);
        try (WavWriter writer = builder(channels).create()) {
            writer.write(all, Math.round(seconds * rateHz));
            warnOfSaturation(writer);
        }
        err.println(String.format(
                Locale.ROOT,
                "%s: %.1f s of %.1f Hz, speed error %+.4f %%, flutter %s",
                out,
                seconds,
                toneHz,
                speedErrorPercent,
                flutter.isEmpty() ? "none" : String.join(" ", flutter)));
        return Workbench.ALL_MEASURED;
    }

    private WavEncoding encoding() {
        return switch (samples) {
            case PCM16 -> WavEncoding.PCM_16;
            case PCM24 -> WavEncoding.PCM_24;
            case FLOAT32 -> WavEncoding.FLOAT_32;
        };
    }

    private Signal signal() {
        FmTone.Builder tone = FmTone.builder(toneHz)
                .amplitude(Decibels.toRatio(levelDbfs))
                .speedError(speedErrorPercent / 100)
                .drift(driftPercentPerMinute / 6000);
        for (String each : flutter) {
            double[] parts = numbers("--flutter", each, 2);
            tone.sine(parts[0], parts[1] / 100);
        }
        Signal signal = tone.build();
        if (!dropouts.isEmpty()) {
            Dropout[] all = dropouts.stream()
                    .map(each -> numbers("--dropout", each, 3))
                    .map(d -> new Dropout(d[0], d[1], d[2], Math.min(0.002, d[1] / 4)))
                    .toArray(Dropout[]::new);
            signal = signal.withDropouts(all);
        }
        for (String each : hum) {
            double[] parts = numbers("--hum", each, 2);
            signal = signal.plus(Hum.pure(parts[0], Decibels.toRatio(parts[1])));
        }
        for (double level : hissDbfs) {
            // A full-scale sine, 0 dBFS, has an RMS of 1/sqrt(2).
            signal = signal.plus(new WhiteNoise(7, Decibels.toRatio(level) / Math.sqrt(2), rateHz));
        }
        return signal;
    }

    private double[] numbers(String option, String text, int count) {
        String[] parts = text.split(":", -1);
        require(parts.length == count, option + " " + text + " needs " + count + " numbers with colons between them");
        double[] numbers = new double[count];
        for (int i = 0; i < count; i++) {
            try {
                numbers[i] = Double.parseDouble(parts[i]);
            } catch (NumberFormatException wrong) {
                throw new ParameterException(
                        spec.commandLine(), option + " " + text + ": " + parts[i] + " is no number");
            }
        }
        return numbers;
    }

    private void require(boolean holds, String message) {
        if (!holds) {
            throw new ParameterException(spec.commandLine(), message);
        }
    }
}
