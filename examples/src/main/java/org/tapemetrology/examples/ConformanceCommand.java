/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.PrintStream;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.examples.conformance.LibraryRun;
import org.tapemetrology.examples.files.Failures;
import org.tapemetrology.signals.conformance.ConformanceReport;
import org.tapemetrology.signals.conformance.Suite;
import org.tapemetrology.signals.conformance.SuiteExport;
import org.tapemetrology.signals.conformance.SuiteImport;
import org.tapemetrology.signals.conformance.Suites;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Runs the reference test suites on this library, writes them for other meters, or judges another meter's figures. */
@Command(
        name = "conformance",
        mixinStandardHelpOptions = true,
        description = "Tests meters against the published standards: this library's or, by files, any other.",
        footer = {
            "",
            "Without --export or --results the meters of this library are tested. --export writes the recordings, a "
                    + "table of what each case asks, and results.csv to be filled in; --results judges such a file.",
            "Exit status: 0 where every case is passed, 2 where one is not, 64 for wrong usage."
        })
final class ConformanceCommand implements Callable<Integer> {
    /** Form of the report. */
    enum Format {
        /** A table for a person. */
        TEXT,
        /** One JSON object. */
        JSON,
        /** The XML of JUnit. */
        JUNIT,
        /** A page in Markdown. */
        MARKDOWN
    }

    private final PrintStream out;
    private final PrintStream err;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Option(names = "--suite", paramLabel = "ID", description = "only this suite; repeatable")
    private List<String> wanted = List.of();

    @Option(names = "--format", paramLabel = "FORM", description = "text (default), json, junit or markdown")
    private Format format = Format.TEXT;

    @Option(names = "--export", paramLabel = "DIR", description = "write recordings and tables for other meters")
    private @Nullable Path export;

    @Option(names = "--results", paramLabel = "FILE.csv", description = "judge the figures of another meter")
    private @Nullable Path results;

    @Option(names = "--force", description = "overwrite exported files that are there")
    private boolean force;

    ConformanceCommand(PrintStream out, PrintStream err) {
        this.out = out;
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        List<Suite<?>> suites = Suites.all().stream()
                .filter(suite -> wanted.isEmpty() || wanted.contains(suite.id()))
                .collect(Collectors.toUnmodifiableList());
        for (String id : wanted) {
            if (suites.stream().noneMatch(suite -> suite.id().equals(id))) {
                throw wrong("--suite " + id + " is not one of "
                        + Suites.all().stream().map(Suite::id).collect(Collectors.joining(", ")));
            }
        }
        Optional<Path> directory = Optional.ofNullable(export);
        Optional<Path> figures = Optional.ofNullable(results);
        if (directory.isPresent() && figures.isPresent()) {
            throw wrong("--export and --results do not go together");
        }
        if (directory.isPresent()) {
            int count = SuiteExport.write(suites, directory.get(), force);
            err.println(
                    directory.get() + ": " + count + " recordings, " + SuiteExport.CASES + ", " + SuiteExport.RESULTS);
            return Workbench.ALL_MEASURED;
        }
        ConformanceReport report = figures.isPresent()
                ? judged(suites, figures.get())
                : LibraryRun.run(id -> wanted.isEmpty() || wanted.contains(id));
        out.print(
                switch (format) {
                    case TEXT -> report.toText();
                    case JSON -> report.toJson();
                    case JUNIT -> report.toJUnitXml();
                    case MARKDOWN -> LibraryRun.page(report);
                });
        out.flush();
        return report.passes() ? Workbench.ALL_MEASURED : Workbench.SOMETHING_FAILED;
    }

    private static ConformanceReport judged(List<Suite<?>> suites, Path file) throws IOException {
        try (Reader reader = Files.newBufferedReader(file, StandardCharsets.UTF_8)) {
            return SuiteImport.read(suites, reader);
        } catch (IOException unreadable) {
            throw new IOException(file + ": " + Failures.message(unreadable), unreadable);
        }
    }

    private ParameterException wrong(String message) {
        return new ParameterException(spec.commandLine(), message);
    }
}
