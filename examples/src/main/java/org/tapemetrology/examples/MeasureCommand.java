/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.PrintStream;
import java.util.List;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.Content;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.ProgrammeMeasurement;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
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
            "JSON is one object a line for each recording, in order.",
            "Files for --tape, --converter and --limits: see those in examples/instruments."
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
        Programme programme = programmeFile == null ? null : ProgrammeFile.named(programmeFile);
        int status = Workbench.ALL_MEASURED;
        for (Recording recording : input.recordings()) {
            try {
                if (programme != null) {
                    printSteps(recording.measured(programme, settings, progress), assessment, settings.setup());
                    continue;
                }
                Recording.Measured measured = recording.measured(settings, progress);
                Assessment.Of assessed = assessment.of(
                        measured.result().measurement(), measured.meter().budgets());
                Recording.Result result = measured.result().with(assessed.measurement());
                if (input.isJson()) {
                    out.println(MeasurementJson.line(result, assessed));
                } else {
                    MeasurementTable.print(result, out);
                    AssessmentTable.print(assessed, out);
                }
            } catch (IOException | IllegalArgumentException unreadable) {
                err.println("measure: " + Workbench.message(unreadable));
                status = Workbench.SOMETHING_FAILED;
                if (input.isJson()) {
                    out.println(MeasurementJson.line(Recording.Result.failed(recording.file(), unreadable)));
                }
            }
        }
        return status;
    }

    private void printSteps(Recording.OfProgramme measured, Assessment assessment, Setup setup) {
        List<Assessment.Of> assessed = assessment.ofParts(
                measured.steps().stream()
                        .map(ProgrammeMeasurement.StepMeasurement::measurement)
                        .toList(),
                measured.budgets(),
                setup);
        if (input.isJson()) {
            out.println(MeasurementJson.line(measured, assessed));
        } else {
            MeasurementTable.print(measured, out);
            AssessmentTable.print(measured, assessed, out);
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
