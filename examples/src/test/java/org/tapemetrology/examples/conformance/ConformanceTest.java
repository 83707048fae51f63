/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.tapemetrology.signals.conformance.CaseResult;
import org.tapemetrology.signals.conformance.ConformanceReport;
import org.tapemetrology.signals.conformance.Suites;
import org.tapemetrology.signals.conformance.Verdict;

/** This library against the published standards. */
class ConformanceTest {
    private static final Path COMMITTED = Path.of("..", "CONFORMANCE.md");
    private static final Path GENERATED = Path.of("target", "CONFORMANCE.md");

    private static List<CaseResult> results = List.of();
    private static String page = "";

    @BeforeAll
    static void run() throws IOException {
        ConformanceReport report = LibraryRun.run(suite -> true);
        results = report.suites().stream()
                .flatMap(suite -> suite.results().stream())
                .toList();
        page = LibraryRun.page(report);
        Files.writeString(GENERATED, page);
    }

    @Test
    void everyCaseOfEverySuiteIsReferenceGrade() {
        assertThat(results)
                .hasSize(Suites.all().stream()
                        .mapToInt(suite -> suite.caseCount())
                        .sum());
        assertThat(results.stream()
                        .filter(result -> result.verdict() != Verdict.REFERENCE_GRADE)
                        .map(result -> result.about().id() + " " + result.got() + " " + result.reason()))
                .isEmpty();
    }

    /** This library's own requirement; the pulses of IEC 60386 do not determine a detector. */
    @Test
    void atMostHalfOfATolerancesIsUsedAndTwoThirdsForFlutterPulses() {
        assertThat(results).allSatisfy(result -> {
            double allowed = result.about().id().contains("-pulses-") ? 2.0 / 3 : 0.5;
            assertThat(result.share().orElseThrow()).as(result.about().id()).isLessThanOrEqualTo(allowed);
        });
    }

    @Test
    void thePageIsTheCommittedOne() throws IOException {
        assertThat(Files.readString(COMMITTED))
                .as("%s is the committed copy of %s", COMMITTED, GENERATED)
                .isEqualTo(page);
    }

    @TestFactory
    Stream<DynamicTest> theSuitesRunAsTestsOfJUnit() {
        return Stream.concat(
                JUnitCases.of(Suites.iec60268Part10TypeTwo(), LibraryProgrammeMeter::typeTwo),
                JUnitCases.of(Suites.iec60094Equalisation(), LibraryEqualisation::new));
    }

    @Test
    void aWrongMeterFailsAsATestOfJUnit() {
        List<DynamicTest> tests = JUnitCases.of(Suites.iec60268Part10TypeTwo(), LibraryProgrammeMeter::typeOne)
                .filter(test -> test.getDisplayName().startsWith("ppm2-burst-5ms"))
                .toList();
        assertThat(tests).hasSize(1);
        assertThatThrownBy(() -> tests.get(0).getExecutable().execute()).isInstanceOf(AssertionError.class);
    }
}
