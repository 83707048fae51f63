/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.OpenOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.core.transport.Transport;
import org.tapemetrology.examples.files.Failures;
import org.tapemetrology.examples.files.TransportFile;
import org.tapemetrology.examples.output.ReportJson;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.report.CsvTable;
import org.tapemetrology.examples.report.HtmlPage;
import org.tapemetrology.examples.report.Report;
import org.tapemetrology.examples.report.Report.Problem;
import org.tapemetrology.examples.service.ServiceReport;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Writes the report of a service. */
@Command(
        name = "report",
        mixinStandardHelpOptions = true,
        description =
                "Writes the report of a service: one self-contained page (report.html), the same for programs (report.json), and a row for each reading (report.csv). What is wrong in the service file, or can't be read, is told in the report and on standard error, and the rest is reported.",
        footer = {"", "Exit status: 0 where nothing was wrong, 2 where something was, 64 for wrong usage."})
final class ReportCommand implements Callable<Integer> {
    private static final String PAGE = "report.html";
    private static final String JSON = "report.json";
    private static final String TABLE = "report.csv";

    private final PrintStream err;

    @Parameters(index = "0", paramLabel = "SERVICE.json", description = "the service file")
    private Path file = Path.of("");

    @Option(
            names = "--out",
            required = true,
            paramLabel = "DIR",
            description = "folder of the report, made where needed")
    private Path folder = Path.of("");

    @Option(names = "--force", description = "overwrite a report that is there")
    private boolean force;

    @Option(
            names = "--transport",
            paramLabel = "FILE",
            description =
                    "JSON file with the parts of the transport, as diagnose takes it, instead of those of the service file")
    private @Nullable Path transportFile;

    @Option(names = "--date", paramLabel = "DATE", description = "day of the report, as 2026-11-25 (today)")
    private LocalDate date = LocalDate.now(java.time.ZoneId.systemDefault());

    ReportCommand(PrintStream err) {
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        if (!Files.isRegularFile(file)) {
            throw new IOException(file + ": no such file");
        }
        for (String name : List.of(PAGE, JSON, TABLE)) {
            if (Files.exists(folder.resolve(name)) && !force) {
                throw new IOException(folder.resolve(name) + " is there already; --force overwrites it");
            }
        }
        List<Problem> wrong = new ArrayList<>();
        Optional<Transport> transport = transport(wrong);
        Report report = ServiceReport.of(file, date, transport, DecisionRule.guarded(), Progress.onTerminal(err));
        if (!wrong.isEmpty()) {
            report = report.withProblems(wrong);
        }
        Files.createDirectories(folder);
        write(PAGE, HtmlPage.of(report));
        write(JSON, ReportJson.of(report) + "\n");
        write(TABLE, CsvTable.of(report));
        report.problems().forEach(problem -> err.println("report: " + problem.where() + ": " + problem.message()));
        return report.problems().isEmpty() ? Workbench.ALL_MEASURED : Workbench.SOMETHING_FAILED;
    }

    private Optional<Transport> transport(List<Problem> wrong) {
        if (transportFile == null) {
            return Optional.empty();
        }
        try {
            return Optional.of(TransportFile.read(transportFile));
        } catch (IOException | IllegalArgumentException unreadable) {
            wrong.add(new Problem(transportFile.toString(), Failures.message(unreadable)));
            return Optional.empty();
        }
    }

    private void write(String name, String text) throws IOException {
        OpenOption[] options = force
                ? new OpenOption[] {
                    StandardOpenOption.CREATE, StandardOpenOption.TRUNCATE_EXISTING, StandardOpenOption.WRITE
                }
                : new OpenOption[] {StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE};
        Files.writeString(folder.resolve(name), text, StandardCharsets.UTF_8, options);
    }
}
