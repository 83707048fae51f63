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
import org.tapemetrology.core.ConverterCheck;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.examples.files.InstrumentFile;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.recording.MeterSettings;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.recording.Recording;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Describes a converter by recordings of itself. */
@Command(
        name = "check-converter",
        mixinStandardHelpOptions = true,
        description =
                "Finds what a converter adds to readings, from a recording of a tone that it played and recorded itself (output looped to input), and prints its description as JSON for --converter.",
        footer = {
            "",
            "The clock needs more: --same-tone and --second-recorder, recordings of one tone made at the same time by this converter and by a recorder whose clock is known; or --recorded and --true, the length of an interval, as between two time signals, in the recording and in truth."
        })
final class CheckConverterCommand implements Callable<Integer> {
    private final PrintStream out;
    private final PrintStream err;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Parameters(index = "0", paramLabel = "LOOP", description = "loop-back recording of a tone, both channels")
    private String loop = "";

    @Option(names = "--name", paramLabel = "TEXT", description = "what the converter is called")
    private String name = "converter";

    @Option(names = "--nominal", paramLabel = "HZ", description = "frequency of the tone; else as found")
    private @Nullable Double nominalHz;

    @Option(names = "--silence", paramLabel = "FILE", description = "recording with the input closed, for the noise")
    private @Nullable String silence;

    @Option(names = "--known", paramLabel = "FILE", description = "JSON description with what is known already")
    private @Nullable Path known;

    @Option(names = "--same-tone", paramLabel = "FILE", description = "a tone recorded by this converter")
    private @Nullable String sameTone;

    @Option(names = "--second-recorder", paramLabel = "FILE", description = "the same tone by the second recorder")
    private @Nullable String secondRecorder;

    @Option(
            names = "--second-within",
            paramLabel = "PPM",
            description = "how well the second recorder's clock is known (50 ppm)")
    private double secondWithinPpm = 50;

    @Option(names = "--recorded", paramLabel = "S", description = "length of an interval by the recording, with --true")
    private @Nullable Double recordedSeconds;

    @Option(names = "--true", paramLabel = "S", description = "true length of the interval")
    private @Nullable Double trueSeconds;

    @Option(
            names = "--interval-within",
            paramLabel = "S",
            description = "how well --recorded and --true are known (0.002 s)")
    private double intervalWithinSeconds = 0.002;

    CheckConverterCommand(PrintStream out, PrintStream err) {
        this.out = out;
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        if ((sameTone == null) != (secondRecorder == null)) {
            throw new ParameterException(spec.commandLine(), "--same-tone and --second-recorder go together");
        }
        if ((recordedSeconds == null) != (trueSeconds == null)) {
            throw new ParameterException(spec.commandLine(), "--recorded and --true go together");
        }
        ConverterCheck check = new ConverterCheck(measured(loop, Content.TONE, nominal(loop)));
        if (known != null) {
            check.beside(InstrumentFile.converter(known));
        }
        if (silence != null) {
            check.silence(measured(silence, Content.NOISE, OptionalDouble.empty()));
        }
        if (sameTone != null && secondRecorder != null) {
            OptionalDouble none = OptionalDouble.empty();
            check.clockAgainst(
                    measured(sameTone, Content.TONE, none),
                    measured(secondRecorder, Content.TONE, none),
                    secondWithinPpm);
        }
        if (recordedSeconds != null && trueSeconds != null) {
            check.clockByInterval(recordedSeconds, trueSeconds, intervalWithinSeconds);
        }
        Converter converter = check.result(name);
        out.println(InstrumentFile.json(converter, "loop-back recording " + loop));
        return Workbench.ALL_MEASURED;
    }

    /** The frequency that the tone has: as told, or as found in a first look. */
    private OptionalDouble nominal(String file) throws IOException {
        if (nominalHz != null) {
            return OptionalDouble.of(nominalHz);
        }
        return measured(file, Content.TONE, OptionalDouble.empty())
                .find(Quantity.TONE_FREQUENCY)
                .map(Reading::value)
                .orElse(OptionalDouble.empty());
    }

    private Measurement measured(String file, Content content, OptionalDouble nominal) throws IOException {
        MeterSettings settings = new MeterSettings(content, nominal, Setup.NONE, List.of(), false);
        return new Recording(file, 0, Double.POSITIVE_INFINITY)
                .measure(settings, Progress.onTerminal(err))
                .measurement();
    }
}
