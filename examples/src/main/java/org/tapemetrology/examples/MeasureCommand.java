/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Path;
import java.util.List;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.Content;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Measures recordings, one after the other. */
@Command(
        name = "measure",
        mixinStandardHelpOptions = true,
        description =
                "Measures recordings: of a test tone its speed, drift, wow and flutter, level and distortion, of two channels their balance, azimuth and separation, of a tape without a tone its noise and hum.",
        footer = {
            "",
            "Exit status: 0 where every recording was measured, 2 where one could not be read, 64 for wrong usage.",
            "JSON is one object a line for each recording, in order."
        })
final class MeasureCommand implements Callable<Integer> {
    /** How the readings are printed. */
    enum Format {
        /** A table for people. */
        TEXT,
        /** One JSON object a line. */
        JSON
    }

    private final PrintStream out;
    private final PrintStream err;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Option(names = "--format", paramLabel = "FORMAT", description = "text (the default) or json")
    private Format format = Format.TEXT;

    @Option(
            names = "--as",
            paramLabel = "CONTENT",
            description = "what the recordings are taken for: tone or noise; else for a tone where one is found")
    private Content content = Content.AUTOMATIC;

    @Option(
            names = "--nominal",
            paramLabel = "HZ",
            description = "frequency of the tone at the right speed; else the nearest published carrier is assumed")
    private @Nullable Double nominalHz;

    @Option(
            names = "--setup",
            paramLabel = "FILE",
            description =
                    "JSON file with tape speed, track spacing and width, full scale in volts, reference level, mains frequency and test tape")
    private @Nullable Path setupFile;

    @Option(
            names = "--reference",
            paramLabel = "FILE",
            description = "recording of the tone that erasure, noise and level are given re")
    private @Nullable String referenceFile;

    @Option(names = "--from", paramLabel = "S", description = "measure from this second on")
    private double fromSeconds;

    @Option(names = "--to", paramLabel = "S", description = "measure up to this second")
    private double toSeconds = Double.POSITIVE_INFINITY;

    @Parameters(arity = "1..*", paramLabel = "FILE", description = "WAV file; - reads one from standard input")
    private List<String> files = List.of();

    MeasureCommand(PrintStream out, PrintStream err) {
        this.out = out;
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        if (!(fromSeconds >= 0 && fromSeconds < toSeconds)) {
            throw new ParameterException(
                    spec.commandLine(), "--from " + fromSeconds + " is not between 0 and --to " + toSeconds);
        }
        OptionalDouble nominal = nominalHz == null ? OptionalDouble.empty() : OptionalDouble.of(nominalHz);
        if (nominal.isPresent() && !(nominal.getAsDouble() >= 20 && nominal.getAsDouble() <= 82_560)) {
            throw new ParameterException(
                    spec.commandLine(), "--nominal " + nominal.getAsDouble() + " is not in 20 to 82560 Hz");
        }
        Progress progress = Progress.onTerminal(err);
        MeterSettings settings = settings(nominal, progress);
        int status = Workbench.ALL_MEASURED;
        for (String file : files) {
            Recording recording = new Recording(file, fromSeconds, toSeconds);
            Recording.Result result;
            try {
                result = recording.measure(settings, progress);
            } catch (IOException | IllegalArgumentException unreadable) {
                result = Recording.Result.failed(file, unreadable);
                err.println("measure: " + Workbench.message(unreadable));
                status = Workbench.SOMETHING_FAILED;
            }
            if (format == Format.JSON) {
                out.println(MeasurementJson.line(result));
            } else if (result.error().isEmpty()) {
                MeasurementTable.print(result, out);
            }
        }
        return status;
    }

    private MeterSettings settings(OptionalDouble nominal, Progress progress) throws IOException {
        Setup setup = setupFile == null ? Setup.NONE : Setup.read(setupFile);
        MeterSettings settings = new MeterSettings(content, nominal, setup, List.of(), false);
        if (referenceFile == null) {
            return settings;
        }
        Recording reference = new Recording(referenceFile, 0, Double.POSITIVE_INFINITY);
        MeterSettings forReference = new MeterSettings(Content.TONE, nominal, Setup.NONE, List.of(), false);
        return settings.withReference(reference.measure(forReference, progress));
    }
}
