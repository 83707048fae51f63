/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.Content;
import org.tapemetrology.core.alignment.GuidedAlignment;
import org.tapemetrology.core.alignment.Instruction;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.alignment.Take;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.examples.bench.VirtualBench;
import org.tapemetrology.examples.files.ProgrammeFile;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.output.MeasurementTable;
import org.tapemetrology.examples.recording.MeterSettings;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.recording.Recording;
import org.tapemetrology.examples.report.Report.Stage;
import org.tapemetrology.examples.service.ServiceDocument;
import org.tapemetrology.examples.service.ServiceFile;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** The whole service of a worn cassette machine of an invented archive, from the first recording to the report. */
@Command(
        name = "demo",
        mixinStandardHelpOptions = true,
        description =
                "Takes a worn cassette machine of an invented archive through its service on a virtual recorder: measured, diagnosed, repaired, aligned step by step, measured again, and the report is written.")
final class DemoCommand implements Callable<Integer> {
    private static final Path USUAL_FOLDER = Path.of("target", "demo");
    private static final String RECORD_SIDE = "record-side.json";
    private static final String RESPONSE_TAPE = "response-tape.json";
    private static final Set<Quantity> SHOWN = EnumSet.of(
            Quantity.SPEED_ERROR,
            Quantity.FLUTTER_WEIGHTED_QUASI_PEAK,
            Quantity.AZIMUTH_DELAY,
            Quantity.LEVEL_RE_REFERENCE,
            Quantity.CHANNEL_BALANCE,
            Quantity.DISTORTION_THIRD_HARMONIC);

    /** Which part of the record programme each step is judged by. */
    private static final Map<String, List<String>> PARTS = Map.of(
            ServiceStep.RECORD_SENSITIVITY.id(), List.of("level"),
            ServiceStep.RECORD_RESPONSE.id(), List.of("response"),
            ServiceStep.DISTORTION.id(), List.of("level"),
            ServiceStep.NOISE.id(), List.of("silence"),
            ServiceStep.SEPARATION_OF_CHANNELS.id(), List.of("left alone", "right alone"));

    private final PrintStream out;
    private final PrintStream err;

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description = "new folder for recordings and report; without this target/demo, which is written anew")
    private @Nullable Path given;

    DemoCommand(PrintStream out, PrintStream err) {
        this.out = out;
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        Path folder = folder();
        Path service = Files.writeString(folder.resolve("service.json"), ArchiveMachine.SERVICE);
        Path transport = Files.writeString(folder.resolve("transport.json"), ArchiveMachine.TRANSPORT);
        Files.writeString(folder.resolve(RECORD_SIDE), ArchiveMachine.RECORD_PROGRAMME);
        Files.writeString(folder.resolve(RESPONSE_TAPE), ArchiveMachine.RESPONSE_PROGRAMME);

        say(
                "North Hill Community Radio keeps its programmes on cassette. Machine 2 has begun to waver, so it comes to the");
        say(
                "bench. It is a virtual recorder: what is measured here is measured of its recordings, as of any machine's.");
        chapter("1. As it came");
        VirtualBench worn = new VirtualBench(ArchiveMachine.worn(), 100);
        record(worn, service, Stage.BEFORE);

        chapter("2. Which part is it");
        Workbench.run(
                out,
                err,
                "diagnose",
                "--transport",
                transport.toString(),
                folder.resolve("before-speed.wav").toString());

        chapter("3. Repair");
        say("The pinch roller is out of round: another one is fitted, the path cleaned and demagnetised.");
        say(
                "Before you open a machine: isolate it from the mains and let its capacitors discharge; adjust a live chassis");
        say("only if you are qualified, through an isolating transformer or residual-current protection.");
        repaired(service);

        chapter("4. Alignment, trimmer by trimmer");
        VirtualBench repaired = new VirtualBench(ArchiveMachine.repaired(), 200);
        GuidedAlignment guide = align(repaired);
        AlignCommand.report(guide, out);
        done(service, ServiceStep.BIAS, "set by the curve and the over-bias drop");
        done(service, ServiceStep.METERS, "set to their mark at the reference level");

        chapter("5. As it leaves");
        record(repaired, service, Stage.AFTER);

        chapter("6. The report");
        Path report = folder.resolve("report");
        int status = Workbench.run(
                out,
                err,
                "report",
                service.toString(),
                "--transport",
                transport.toString(),
                "--out",
                report.toString());
        say("Before and after, with verdicts and uncertainties: " + report.resolve("report.html"));
        return guide.isReached() ? status : Workbench.SOMETHING_FAILED;
    }

    private Path folder() throws IOException {
        if (given != null) {
            if (Files.exists(given)) {
                throw new IOException(given + " is there already; the demonstration wants a new folder");
            }
            return Files.createDirectories(given);
        }
        if (Files.exists(USUAL_FOLDER)) {
            empty(USUAL_FOLDER);
        }
        return Files.createDirectories(USUAL_FOLDER);
    }

    private static void empty(Path folder) throws IOException {
        try (Stream<Path> inside = Files.walk(folder)) {
            for (Path each : inside.sorted(Comparator.reverseOrder()).toList()) {
                Files.delete(each);
            }
        }
    }

    /** The same recordings before and after, each added to the service file. */
    private void record(VirtualBench bench, Path service, Stage stage) throws IOException {
        Path folder = service.resolveSibling("");
        Path speed = folder.resolve(stage.id() + "-speed.wav");
        bench.write(Request.Source.TEST_TAPE, Take.tone(3150, 0, 40), speed);
        add(service, stage, speed, Map.of("testTape", "speed section"), ServiceStep.SPEED, ServiceStep.FLUTTER);
        Path azimuth = folder.resolve(stage.id() + "-azimuth.wav");
        bench.write(Request.Source.TEST_TAPE, Take.tone(6300, -10, 12), azimuth);
        add(service, stage, azimuth, Map.of("testTape", "azimuth section"), ServiceStep.REPLAY_AZIMUTH);
        Path level = folder.resolve(stage.id() + "-level.wav");
        bench.write(Request.Source.TEST_TAPE, Take.tone(315, 0, 15), level);
        add(service, stage, level, Map.of("testTape", "level section"), ServiceStep.REPLAY_LEVEL);
        Path response = folder.resolve(stage.id() + "-response.wav");
        bench.writeTape(
                ArchiveMachine.RESPONSE_HZ.stream()
                        .map(hz -> Take.tone(hz, ArchiveMachine.RESPONSE_DB, ArchiveMachine.RESPONSE_SECONDS))
                        .toList(),
                response);
        add(
                service,
                stage,
                response,
                Map.of("testTape", "response section", "programme", RESPONSE_TAPE),
                ServiceStep.REPLAY_RESPONSE);
        Programme programme = ProgrammeFile.named(RECORD_SIDE, folder);
        Path own = folder.resolve(stage.id() + "-record-side.wav");
        bench.writeRecording(
                programme.seconds() + 1, own, new ProgrammeSignal(programme, 1), new ProgrammeSignal(programme, 2));
        List<ServiceStep> served = new ArrayList<>(List.of(
                ServiceStep.RECORD_SENSITIVITY,
                ServiceStep.RECORD_RESPONSE,
                ServiceStep.DISTORTION,
                ServiceStep.NOISE));
        if (stage == Stage.AFTER) {
            // On a machine that is far out of balance the tone of one channel alone is not told for sure.
            served.add(ServiceStep.SEPARATION_OF_CHANNELS);
        }
        add(
                service,
                stage,
                own,
                Map.of("programme", RECORD_SIDE, "parts", parts(served)),
                served.toArray(new ServiceStep[0]));
        Setup setup = ServiceFile.read(service).setup();
        show("calibration cassette, 3150 Hz", speed, setup);
        show("calibration cassette, 6300 Hz", azimuth, setup);
        show("calibration cassette, 315 Hz at the reference level", level, setup);
    }

    private static Map<String, List<String>> parts(List<ServiceStep> served) {
        Map<String, List<String>> parts = new LinkedHashMap<>(PARTS);
        parts.keySet().retainAll(served.stream().map(ServiceStep::id).toList());
        return parts;
    }

    private static void add(Path service, Stage stage, Path wav, Map<String, Object> with, ServiceStep... steps)
            throws IOException {
        Map<String, Object> entry = new LinkedHashMap<>();
        entry.put("steps", Stream.of(steps).map(ServiceStep::id).toList());
        entry.put("stage", stage.id());
        entry.put("date", today());
        entry.put("file", String.valueOf(wav.getFileName()));
        entry.putAll(with);
        ServiceDocument.add(service, "recordings", entry);
    }

    private static void repaired(Path service) throws IOException {
        ServiceDocument.add(
                service, "repairs", Map.of("kind", "transport", "what", "another pinch roller", "date", today()));
        done(service, ServiceStep.CLEANING, "cleaned and demagnetised");
        done(service, ServiceStep.TAPE_HANDLING, "tried with a scrap tape");
    }

    private static void done(Path service, ServiceStep step, String what) throws IOException {
        ServiceDocument.add(
                service,
                "entered",
                Map.of("name", what, "step", step.id(), "stage", Stage.AFTER.id(), "date", today()));
    }

    private GuidedAlignment align(VirtualBench bench) {
        GuidedAlignment guide = new GuidedAlignment(bench.plan());
        for (Optional<Request> next = guide.next(); next.isPresent(); next = guide.next()) {
            ServiceStep step = next.get().step();
            for (Instruction said : guide.take(bench.perform(next.get(), guide::stopped))) {
                say(String.format(Locale.ROOT, "  %-20s %s", step.id(), said.sentence()));
            }
        }
        return guide;
    }

    private void show(String what, Path wav, Setup setup) throws IOException {
        MeterSettings settings = new MeterSettings(Content.TONE, OptionalDouble.empty(), setup, List.of(), false);
        say(what);
        for (Reading reading : new Recording(wav.toString(), 0, Double.POSITIVE_INFINITY)
                .measure(settings, Progress.silent())
                .measurement()
                .readings()) {
            if (reading.isValid() && SHOWN.contains(reading.quantity())) {
                out.println("  " + MeasurementTable.row(reading));
            }
        }
    }

    private static String today() {
        return LocalDate.now(ZoneId.systemDefault()).toString();
    }

    private void chapter(String title) {
        out.println();
        out.println(title);
    }

    private void say(String line) {
        out.println(line);
    }
}
