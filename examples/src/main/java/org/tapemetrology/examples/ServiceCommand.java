/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.report.Report.Stage;
import org.tapemetrology.examples.service.ServiceDocument;
import org.tapemetrology.examples.service.ServiceFile;
import org.tapemetrology.examples.service.ServiceRecord;
import org.tapemetrology.examples.service.ServiceRecord.Standing;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Leads through the service of a machine, and keeps what was measured. */
@Command(
        name = "service",
        mixinStandardHelpOptions = true,
        description =
                "Leads through the service of a machine by its service file: shows every step before and after with its verdict and says what to do next, in the trade's order. With --step and --recording it adds a recording, with --step and --done what was done or read by hand, with --repair and --done what was repaired; nothing is overwritten.",
        footer = {
            "",
            "Before a reference tape is loaded: path demagnetised, recording disabled, tape handling tried with a scrap tape.",
            "Exit status: 0 where the file could be read, 2 where not, 64 for wrong usage."
        })
final class ServiceCommand implements Callable<Integer> {
    private final PrintStream out;
    private final PrintStream err;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Parameters(index = "0", paramLabel = "SERVICE.json", description = "the service file")
    private Path file = Path.of("");

    @Option(names = "--new", paramLabel = "NAME", description = "begin a service file for a machine of this name")
    private @Nullable String newMachine;

    @Option(names = "--heads", paramLabel = "N", description = "heads of the new machine: 2 (the default) or 3")
    private int heads = 2;

    @Option(names = "--channels", paramLabel = "N", description = "channels of the new machine: 1 or 2 (the default)")
    private int channels = 2;

    @Option(
            names = "--step",
            paramLabel = "STEP",
            split = ",",
            description = "the step that is added to; a recording may serve several, as speed,flutter")
    private List<String> steps = List.of();

    @Option(names = "--repair", paramLabel = "KIND", description = "what was repaired: electronics, heads or transport")
    private @Nullable String repair;

    @Option(
            names = "--programme",
            paramLabel = "NAME|FILE",
            description = "the test programme that the recording is of, as seen from the service file")
    private @Nullable String programme;

    @Option(
            names = "--part",
            paramLabel = "NAME",
            description = "step of the programme that is meant; repeatable, with one --step")
    private List<String> parts = List.of();

    @Option(names = "--companding", paramLabel = "STATE", description = "companding noise reduction: on or off")
    private @Nullable String companding;

    @Option(names = "--bias", paramLabel = "NUMBER", description = "bias of the recording, in any unit")
    private @Nullable Double bias;

    @Option(
            names = "--speed",
            paramLabel = "MM_PER_S",
            description = "tape speed of the recording or of the figure in mm/s")
    private @Nullable Double speed;

    @Option(names = "--stage", paramLabel = "STAGE", description = "before (the default) or after")
    private String stage = "before";

    @Option(names = "--recording", paramLabel = "FILE", description = "WAV file, as seen from the service file")
    private @Nullable String recording;

    @Option(names = "--tape", paramLabel = "NAME", description = "test tape of the recording, as named in the file")
    private @Nullable String tape;

    @Option(names = "--position", paramLabel = "PLACE", description = "start, middle or end of the tape")
    private @Nullable String position;

    @Option(names = "--direction", paramLabel = "WAY", description = "forward or reverse")
    private @Nullable String direction;

    @Option(names = "--done", paramLabel = "WHAT", description = "what was done, or the name of a figure read by hand")
    private @Nullable String done;

    @Option(names = "--value", paramLabel = "NUMBER", description = "the figure that was read by hand")
    private @Nullable Double value;

    @Option(names = "--unit", paramLabel = "UNIT", description = "unit of the figure")
    private @Nullable String unit;

    @Option(names = "--lower", paramLabel = "NUMBER", description = "lower limit of the figure")
    private @Nullable Double lower;

    @Option(names = "--upper", paramLabel = "NUMBER", description = "upper limit of the figure")
    private @Nullable Double upper;

    @Option(names = "--date", paramLabel = "DATE", description = "day of the entry, as 2026-11-25 (today)")
    private @Nullable LocalDate date;

    @Option(
            names = "--time",
            paramLabel = "TIME",
            description = "time of the entry, as 14:30 (now, where no day is given)")
    private @Nullable LocalTime time;

    ServiceCommand(PrintStream out, PrintStream err) {
        this.out = out;
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        if (newMachine != null) {
            begin(newMachine);
        } else if (recording != null || done != null || repair != null) {
            add();
        }
        show(ServiceFile.read(file));
        return Workbench.ALL_MEASURED;
    }

    private void begin(String machine) throws IOException {
        if (Files.exists(file)) {
            throw new IOException(file + " is there already; a new service begins with a new file");
        }
        ServiceStep.of(heads, channels); // checks both
        Files.writeString(file, ServiceDocument.blank(machine, heads, channels) + System.lineSeparator());
    }

    private void add() throws IOException {
        if (repair != null && done != null) {
            Map<String, Object> entry = begun();
            entry.put("kind", repair);
            entry.put("what", done);
            ServiceDocument.add(file, "repairs", entry);
            return;
        }
        if (steps.isEmpty() || repair != null || (recording == null) == (done == null)) {
            throw new ParameterException(
                    spec.commandLine(), "--step goes with one of --recording and --done, --repair with --done");
        }
        if (steps.size() > 1 && (done != null || !parts.isEmpty())) {
            throw new ParameterException(spec.commandLine(), "--done and --part go with one step");
        }
        Map<String, Object> entry = begun();
        entry.put("stage", stage);
        if (steps.size() == 1) {
            entry.put("step", steps.get(0));
        } else {
            entry.put("steps", steps);
        }
        put(entry, "position", position);
        put(entry, "direction", direction);
        put(entry, "tapeSpeedMillimetresPerSecond", speed);
        if (recording != null) {
            put(entry, "file", recording);
            put(entry, "testTape", tape);
            put(entry, "programme", programme);
            put(entry, "parts", parts.isEmpty() ? null : Map.of(steps.get(0), parts));
            put(entry, "companding", companding);
            put(entry, "bias", bias);
            ServiceDocument.add(file, "recordings", entry);
        } else {
            put(entry, "name", done);
            put(entry, "value", value);
            put(entry, "unit", unit);
            put(entry, "lower", lower);
            put(entry, "upper", upper);
            ServiceDocument.add(file, "entered", entry);
        }
    }

    /** An entry with its moment: where no day is given, now. */
    private Map<String, Object> begun() {
        LocalDateTime now = LocalDateTime.now(ZoneId.systemDefault()).truncatedTo(ChronoUnit.SECONDS);
        Map<String, Object> entry = new LinkedHashMap<>();
        entry.put("date", (date == null ? now.toLocalDate() : date).toString());
        LocalTime at = time == null && date == null ? now.toLocalTime() : time;
        put(entry, "time", at == null ? null : at.toString());
        return entry;
    }

    private static void put(Map<String, Object> entry, String name, @Nullable Object given) {
        if (given != null) {
            entry.put(name, given);
        }
    }

    private void show(ServiceFile service) {
        ServiceRecord record = ServiceRecord.of(service, DecisionRule.guarded(), Progress.onTerminal(err));
        out.printf(
                Locale.ROOT,
                "%s: %d heads, %d channel%s%n",
                service.machine(),
                service.heads(),
                service.channels(),
                service.channels() == 1 ? "" : "s");
        for (ServiceStep each : service.steps()) {
            out.printf(
                    Locale.ROOT,
                    "  %-28s before: %-18s after: %s%n",
                    each.id(),
                    word(record, each, Stage.BEFORE),
                    word(record, each, Stage.AFTER));
        }
        for (Stage each : Stage.values()) {
            for (Standing standing : record.standings(each)) {
                standing.why()
                        .forEach(line -> out.println(
                                "  " + each.id() + ", " + standing.step().id() + ": " + line));
            }
        }
        Optional<Standing> next = record.next();
        out.println();
        if (next.isEmpty()) {
            out.println("Every step is passed.");
            return;
        }
        ServiceStep due = next.get().step();
        out.println("Next: " + due.id() + ". " + due.instruction());
        if (due.needsReferenceTape() && !prepared(record)) {
            out.println(
                    "First: no reference tape before the path is cleaned and demagnetised, recording is disabled, and the tape handling was tried with a scrap tape.");
        }
    }

    private static boolean prepared(ServiceRecord record) {
        return record.standings(Stage.BEFORE).stream()
                .filter(s -> s.step() == ServiceStep.CLEANING || s.step() == ServiceStep.TAPE_HANDLING)
                .allMatch(s -> s.verdict().equals(Optional.of(Verdict.PASS)));
    }

    private static String word(ServiceRecord record, ServiceStep step, Stage stage) {
        return record.standings(stage).stream()
                .filter(s -> s.step() == step)
                .findFirst()
                .flatMap(Standing::verdict)
                .map(Verdict::id)
                .orElse("-");
    }
}
