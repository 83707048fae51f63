/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.jr.ob.JSON;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.tapemetrology.signals.conformance.Suites;

/** The command {@code conformance} from outside. */
class ConformanceCommandTest {
    private static final String SUITE = "iec-60268-10-type-i";
    private static final int CASES = 7;

    @TempDir
    private Path folder;

    private record Outcome(int status, String out, String err) {}

    private static Outcome run(String... arguments) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        int status = Workbench.run(
                new PrintStream(out, true, StandardCharsets.UTF_8),
                new PrintStream(err, true, StandardCharsets.UTF_8),
                arguments);
        return new Outcome(status, out.toString(StandardCharsets.UTF_8), err.toString(StandardCharsets.UTF_8));
    }

    @Test
    void printsATableByDefault() {
        Outcome outcome = run("conformance", "--suite", SUITE);
        assertThat(outcome.status()).as(outcome.err()).isZero();
        assertThat(outcome.out().lines().filter(line -> line.startsWith("  ppm1-")))
                .hasSize(CASES);
        assertThat(outcome.out()).endsWith("All: 7 cases: 7 reference grade, 0 conform, 0 fail, 0 not read\n");
    }

    @Test
    void printsJsonThatAParserReads() throws IOException {
        Outcome outcome = run("conformance", "--suite", SUITE, "--format", "json");
        assertThat(outcome.status()).isZero();
        assertThat(JSON.std.mapFrom(outcome.out()))
                .containsEntry("schema", "org.tapemetrology.conformance/1")
                .containsEntry("passes", true)
                .containsEntry("caseCount", CASES);
    }

    @Test
    void printsTheXmlOfJUnit() {
        assertThat(run("conformance", "--suite", SUITE, "--format", "junit").out())
                .startsWith("<?xml")
                .contains("tests=\"7\" failures=\"0\" errors=\"0\"");
    }

    @Test
    void anotherMetersFiguresGoRoundByFiles() throws IOException {
        Outcome exported = run("conformance", "--suite", SUITE, "--export", folder.toString());
        assertThat(exported.status()).as(exported.err()).isZero();
        assertThat(exported.out()).isEmpty();
        Path results = folder.resolve("results.csv");
        Outcome empty = run("conformance", "--suite", SUITE, "--results", results.toString());
        assertThat(empty.status()).isEqualTo(Workbench.SOMETHING_FAILED);
        assertThat(empty.out()).endsWith("All: 7 cases: 0 reference grade, 0 conform, 0 fail, 7 not read\n");

        StringBuilder filled = new StringBuilder("case,value,unit\n");
        Suites.iec60268Part10TypeOne()
                .cases()
                .forEach(about -> filled.append(
                        String.format(Locale.ROOT, "%s,%.3f,%s%n", about.id(), about.expected(), about.unit())));
        Files.writeString(results, filled);
        assertThat(run("conformance", "--suite", SUITE, "--results", results.toString())
                        .status())
                .isZero();

        Files.writeString(results, filled + "ppm1-return,1.7,s\n");
        Outcome twice = run("conformance", "--suite", SUITE, "--results", results.toString());
        assertThat(twice.status()).isEqualTo(Workbench.SOMETHING_FAILED);
        assertThat(twice.err()).contains("results.csv: line 9", "there twice");
    }

    @Test
    void nothingIsReplacedUnasked() {
        List<String> export = List.of("conformance", "--suite", SUITE, "--export", folder.toString());
        assertThat(run(export.toArray(String[]::new)).status()).isZero();
        assertThat(run(export.toArray(String[]::new)).status()).isEqualTo(Workbench.SOMETHING_FAILED);
        assertThat(run("conformance", "--suite", SUITE, "--force", "--export", folder.toString())
                        .status())
                .isZero();
    }

    @Test
    void wrongUsageIsNamed() {
        Outcome unknown = run("conformance", "--suite", "iec-1");
        assertThat(unknown.status()).isEqualTo(Workbench.WRONG_USAGE);
        assertThat(unknown.err()).contains("--suite iec-1", "itu-r-bs468-4");
        assertThat(run("conformance", "--export", "a", "--results", "b").status())
                .isEqualTo(Workbench.WRONG_USAGE);
        Outcome missing =
                run("conformance", "--results", folder.resolve("none.csv").toString());
        assertThat(missing.status()).isEqualTo(Workbench.SOMETHING_FAILED);
        assertThat(missing.err()).contains("none.csv");
    }
}
