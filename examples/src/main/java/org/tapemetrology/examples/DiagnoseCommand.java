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
import org.tapemetrology.core.diagnosis.Diagnosis;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.spectrum.ScrapeSpectrum;
import org.tapemetrology.core.transport.Attribution;
import org.tapemetrology.core.transport.ObservedFamily;
import org.tapemetrology.core.transport.Transport;
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
            "The transport file is JSON: tapeSpeedMillimetresPerSecond and a list of parts, each with name, kind (capstan,",
            "roller, idler, flywheel, shaft, wheel, pulley, belt, pack, guide) and its size. Without it components have no",
            "names. Exit status: 0 where every recording was diagnosed, 2 where one was not, 64 for wrong usage."
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
            Optional<Found> found = Optional.empty();
            try {
                Recording.Measured measured = recording.measured(settings, progress);
                result = measured.result();
                found = Optional.of(found(recording.file(), measured, transport));
            } catch (IOException | IllegalArgumentException failure) {
                result = Recording.Result.failed(recording.file(), failure);
                err.println("diagnose: " + Workbench.message(failure));
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

    /** A resonance of the scrape band with the parts that can have made it. */
    record Resonance(ScrapeSpectrum.Peak peak, Attribution attribution) {}

    /** What was found in a recording; the scrape band is missing where the tone leaves no room for it. */
    record Found(Diagnosis diagnosis, Optional<ScrapeSpectrum> scrape, List<Resonance> resonances) {}

    private static List<Resonance> resonances(Optional<ScrapeSpectrum> scrape, Optional<Transport> transport) {
        return scrape.map(ScrapeSpectrum::peaks).orElse(List.of()).stream()
                .map(peak -> new Resonance(
                        peak,
                        transport
                                .map(known -> Attribution.of(
                                        ObservedFamily.alone(peak.frequencyHz(), peak.halfWidthHz()), known, 1))
                                .orElse(new Attribution(List.of(), 1))))
                .toList();
    }

    /** The tape moves past both tracks alike: the first channel with a tone tells. */
    private static Found found(String file, Recording.Measured measured, Optional<Transport> transport) {
        for (int channel = 1; channel <= measured.result().channels(); channel++) {
            Reading speed = measured.result()
                    .measurement()
                    .find(Quantity.SPEED_ERROR, channel)
                    .orElseThrow();
            Optional<DeviationSeries> deviation = measured.meter().deviation(channel);
            if (speed.isValid() && deviation.isPresent()) {
                double ratio = 1 + speed.value().orElseThrow() / 100;
                try {
                    Optional<ScrapeSpectrum> scrape = measured.meter().scrape(channel);
                    return new Found(
                            Diagnosis.of(deviation.get(), transport, ratio), scrape, resonances(scrape, transport));
                } catch (IllegalArgumentException tooShort) {
                    throw new IllegalArgumentException(file + ": " + Workbench.message(tooShort), tooShort);
                }
            }
        }
        throw new IllegalArgumentException(file + ": no test tone whose flutter could be looked at was found");
    }
}
