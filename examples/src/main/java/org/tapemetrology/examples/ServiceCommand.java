/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.examples.ServiceFile.Stage;
import org.tapemetrology.examples.ServiceRecord.Standing;
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
                "Leads through the service of a machine by its service file: shows every step before and after with its verdict and says what to do next, in the trade's order. With --step and --recording it adds a recording, with --step and --done what was done or read by hand; nothing is overwritten.",
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

    @Option(names = "--step", paramLabel = "STEP", description = "the step that is added to")
    private @Nullable String step;

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

    @Option(names = "--value", paramLabel = "NUMBER", description = "the figure")
    private @Nullable Double value;

    @Option(names = "--unit", paramLabel = "UNIT", description = "its unit")
    private @Nullable String unit;

    @Option(names = "--lower", paramLabel = "NUMBER", description = "its lower limit")
    private @Nullable Double lower;

    @Option(names = "--upper", paramLabel = "NUMBER", description = "its upper limit")
    private @Nullable Double upper;

    @Option(names = "--date", paramLabel = "DATE", description = "day of the entry, as 2026-11-25 (today)")
    private LocalDate date = LocalDate.now(java.time.ZoneId.systemDefault());

    ServiceCommand(PrintStream out, PrintStream err) {
        this.out = out;
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        if (newMachine != null) {
            begin(newMachine);
        } else if (recording != null || done != null) {
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
        Files.writeString(file, ServiceFile.blank(machine, heads, channels) + System.lineSeparator());
    }

    private void add() throws IOException {
        if (step == null || (recording == null) == (done == null)) {
            throw new ParameterException(spec.commandLine(), "--step goes with one of --recording and --done");
        }
        Map<String, Object> entry = new LinkedHashMap<>();
        entry.put("step", step);
        entry.put("stage", stage);
        entry.put("date", date.toString());
        if (recording != null) {
            put(entry, "file", recording);
            put(entry, "testTape", tape);
            put(entry, "position", position);
            put(entry, "direction", direction);
            ServiceFile.add(file, "recordings", entry);
        } else {
            put(entry, "name", done);
            put(entry, "value", value);
            put(entry, "unit", unit);
            put(entry, "lower", lower);
            put(entry, "upper", upper);
            ServiceFile.add(file, "entered", entry);
        }
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
        for (ServiceStep each : ServiceStep.of(service.heads(), service.channels())) {
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
