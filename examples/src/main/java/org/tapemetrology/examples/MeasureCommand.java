/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import java.util.concurrent.atomic.AtomicInteger;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.Content;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.examples.files.Failures;
import org.tapemetrology.examples.files.MachineLimits;
import org.tapemetrology.examples.files.ProgrammeFile;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.output.AssessmentTable;
import org.tapemetrology.examples.output.MeasurementJson;
import org.tapemetrology.examples.output.MeasurementTable;
import org.tapemetrology.examples.recording.Assessment;
import org.tapemetrology.examples.recording.MeterSettings;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.recording.Recording;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Measures recordings, as many at a time as there are processors, and prints them in their order. */
@Command(
        name = "measure",
        mixinStandardHelpOptions = true,
        description =
                "Measures recordings: of a test tone its speed, drift, wow and flutter, level and distortion, of two channels their balance, azimuth and separation, of a tape without a tone its noise and hum.",
        footer = {
            "",
            "Exit status: 0 where every recording was measured, 2 where one could not be read, 64 for wrong usage.",
            "JSON is one object a line for each recording, in order.",
            "The fields of JSON files stand in docs/files.md, files to begin with in examples/instruments."
        })
final class MeasureCommand implements Callable<Integer> {
    private final PrintStream out;
    private final PrintStream err;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Option(
            names = "--as",
            paramLabel = "CONTENT",
            description = "what the recordings are taken for: tone or noise; else for a tone where one is found")
    private Content content = Content.AUTOMATIC;

    @Option(
            names = "--reference",
            paramLabel = "FILE",
            description = "recording of the tone that erasure, noise and level are given re")
    private @Nullable String referenceFile;

    @Option(
            names = "--programme",
            paramLabel = "NAME|FILE",
            description =
                    "find and measure the steps of a test programme: speed-and-azimuth, level-and-response, record-side, or a JSON file")
    private @Nullable String programmeFile;

    @Mixin
    private SetupOptions knowing = new SetupOptions();

    @Mixin
    private AssessmentOptions assessing = new AssessmentOptions();

    @Mixin
    private InputOptions input = new InputOptions();

    MeasureCommand(PrintStream out, PrintStream err) {
        this.out = out;
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        input.check(spec.commandLine(), ToneMeter.LOWEST_NOMINAL_HZ);
        if (programmeFile != null && (referenceFile != null || content != Content.AUTOMATIC)) {
            throw new ParameterException(spec.commandLine(), "--programme does not go with --as or --reference");
        }
        Progress progress = Progress.onTerminal(err);
        MeterSettings settings = settings(input.nominalHz(), progress);
        Assessment assessment = assessing.assessment();
        Optional<Programme> programme =
                programmeFile == null ? Optional.empty() : Optional.of(ProgrammeFile.named(programmeFile));
        if (programme.isPresent() && assessment.limits().isPresent()) {
            assessment.limits().get().requireStepsOf(programme.get());
        }
        List<Recording> recordings = input.recordings();
        int threads = threads(recordings);
        Progress ofEach = threads == 1 ? progress : Progress.none();
        Iterator<Callable<Measured>> work = recordings.stream()
                .<Callable<Measured>>map(
                        recording -> () -> measured(recording, settings, assessment, programme, ofEach))
                .iterator();
        AtomicInteger status = new AtomicInteger(Workbench.ALL_MEASURED);
        AtomicInteger count = new AtomicInteger();
        InOrder.run(threads, work, measured -> {
            measured.failure().ifPresent(failure -> {
                err.println("measure: " + failure);
                status.set(Workbench.SOMETHING_FAILED);
            });
            out.print(measured.text());
            out.flush();
            if (threads > 1) {
                progress.recordings(count.incrementAndGet(), recordings.size());
            }
        });
        return status.get();
    }

    /** One for each processor; standard input is read on one. */
    private static int threads(List<Recording> recordings) {
        boolean input =
                recordings.stream().anyMatch(recording -> recording.file().equals("-"));
        return input ? 1 : Math.min(Runtime.getRuntime().availableProcessors(), recordings.size());
    }

    /** What is printed of a recording, and why it could not be measured. The meter is not kept: it needs memory. */
    private record Measured(String text, Optional<String> failure) {}

    private Measured measured(
            Recording recording,
            MeterSettings settings,
            Assessment assessment,
            Optional<Programme> programme,
            Progress progress) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        PrintStream text = new PrintStream(bytes, false, StandardCharsets.UTF_8);
        Optional<String> failure = Optional.empty();
        try {
            if (programme.isPresent()) {
                printSteps(recording.measured(programme.get(), settings, progress), assessment, settings.setup(), text);
            } else {
                print(recording.measured(settings, progress), assessment, text);
            }
        } catch (IOException | IllegalArgumentException unreadable) {
            failure = Optional.of(Failures.message(unreadable));
            if (input.isJson()) {
                text.println(MeasurementJson.line(Recording.Result.failed(recording.file(), unreadable)));
            }
        }
        text.flush();
        return new Measured(bytes.toString(StandardCharsets.UTF_8), failure);
    }

    private void print(Recording.Measured measured, Assessment assessment, PrintStream text) {
        Assessment.Of assessed =
                assessment.of(measured.result().measurement(), measured.meter().budgets());
        Recording.Result result = measured.result().with(assessed.measurement());
        if (input.isJson()) {
            text.println(MeasurementJson.line(result, assessed));
        } else {
            MeasurementTable.print(result, text);
            AssessmentTable.print(assessed, text);
        }
    }

    private void printSteps(Recording.OfProgramme measured, Assessment assessment, Setup setup, PrintStream text) {
        List<Assessment.Of> assessed = assessment.ofParts(
                measured.steps().stream().map(MachineLimits.Part::of).toList(), measured.budgets(), setup);
        if (input.isJson()) {
            text.println(MeasurementJson.line(measured, assessed));
        } else {
            MeasurementTable.print(measured, text);
            AssessmentTable.print(measured, assessed, text);
        }
    }

    private MeterSettings settings(OptionalDouble nominal, Progress progress) throws IOException {
        MeterSettings settings = new MeterSettings(content, nominal, knowing.setup(), List.of(), false);
        if (referenceFile == null) {
            return settings;
        }
        Recording reference = new Recording(referenceFile, 0, Double.POSITIVE_INFINITY);
        MeterSettings forReference = new MeterSettings(Content.TONE, nominal, Setup.NONE, List.of(), false);
        return settings.withReference(reference.measure(forReference, progress));
    }
}
