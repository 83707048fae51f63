/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.Content;
import org.tapemetrology.core.transport.Transport;
import org.tapemetrology.examples.files.Failures;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.files.TransportFile;
import org.tapemetrology.examples.output.DiagnosisJson;
import org.tapemetrology.examples.output.DiagnosisTable;
import org.tapemetrology.examples.recording.FoundParts;
import org.tapemetrology.examples.recording.MeterSettings;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.recording.Recording;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Tells which parts of a transport cause its flutter. */
@Command(
        name = "diagnose",
        mixinStandardHelpOptions = true,
        description =
                "Finds the periodic components of the flutter in recordings of a test tone, the parts that can cause each, and what a repair would leave of the reading.",
        footer = {
            "",
            "The transport file is JSON: tapeSpeedMillimetresPerSecond and a list of parts, each with name, kind (capstan, "
                    + "roller, idler, flywheel, shaft, wheel, pulley, belt, pack, guide) and its size (docs/files.md). Without it components have no "
                    + "names.",
            "Exit status: 0 where every recording was diagnosed, 2 where one was not, 64 for wrong usage."
        })
final class DiagnoseCommand implements Callable<Integer> {
    /** Lower tones leave no room for flutter rates up to 200 Hz. */
    private static final double LOWEST_CARRIER_HZ = 500;

    private final PrintStream out;
    private final PrintStream err;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Option(names = "--transport", paramLabel = "FILE", description = "JSON file with the parts of the transport")
    private @Nullable Path transportFile;

    @Mixin
    private InputOptions input = new InputOptions();

    DiagnoseCommand(PrintStream out, PrintStream err) {
        this.out = out;
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        input.check(spec.commandLine(), LOWEST_CARRIER_HZ);
        Optional<Transport> transport =
                transportFile == null ? Optional.empty() : Optional.of(TransportFile.read(transportFile));
        MeterSettings settings = new MeterSettings(Content.TONE, input.nominalHz(), Setup.NONE, List.of(), true);
        Progress progress = Progress.onTerminal(err);
        int status = Workbench.ALL_MEASURED;
        for (Recording recording : input.recordings()) {
            Recording.Result result;
            Optional<FoundParts> found = Optional.empty();
            try {
                Recording.Measured measured = recording.measured(settings, progress);
                result = measured.result();
                found = Optional.of(FoundParts.of(recording.file(), measured, transport));
            } catch (IOException | IllegalArgumentException failure) {
                result = Recording.Result.failed(recording.file(), failure);
                err.println("diagnose: " + Failures.message(failure));
                status = Workbench.SOMETHING_FAILED;
            }
            if (input.isJson()) {
                out.println(DiagnosisJson.line(result, found));
            } else if (found.isPresent()) {
                out.println(recording.file());
                DiagnosisTable.print(found.get(), out);
            }
        }
        return status;
    }
}
