/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.StringReader;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The way round by files, for meters that are no Java programs. */
class ExportImportTest {
    private static final List<Suite<?>> SUITES = List.of(Suites.iec60268Part10TypeOne());
    private static final int CASES = 7;

    @TempDir
    private Path folder;

    private static String results(String... lines) {
        return "case,value,unit\n" + String.join("\n", lines) + "\n";
    }

    private static ConformanceReport read(String text) throws IOException {
        return SuiteImport.read(SUITES, new StringReader(text));
    }

    @Test
    void writesEveryRecordingAndEveryCase() throws IOException {
        int recordings = SuiteExport.write(SUITES, folder, false);
        try (Stream<Path> files = Files.list(folder)) {
            assertThat(files.filter(file -> file.toString().endsWith(".wav"))).hasSize(recordings);
        }
        List<String> lines = Files.readAllLines(folder.resolve(SuiteExport.CASES));
        assertThat(lines).hasSize(CASES + 1);
        int columns = Csv.cells(lines.get(0)).size();
        for (String line : lines.subList(1, lines.size())) {
            List<String> cells = Csv.cells(line);
            assertThat(cells).hasSize(columns);
            for (String file : cells.get(5).split(" ", -1)) {
                assertThat(folder.resolve(file)).isRegularFile();
            }
        }
        // 80 bytes before the samples with the room kept for longer files, 2 s of one channel, 3 bytes a sample.
        assertThat(Files.size(folder.resolve("ppm1-1khz.wav"))).isEqualTo(80 + 2 * 48_000 * 3);
    }

    @Test
    void replacesNothingUnasked() throws IOException {
        SuiteExport.write(SUITES, folder, false);
        assertThatThrownBy(() -> SuiteExport.write(SUITES, folder, false))
                .isInstanceOf(FileAlreadyExistsException.class)
                .hasMessageContaining("cases.csv");
        assertThat(SuiteExport.write(SUITES, folder, true)).isPositive();
    }

    @Test
    void whatWasNotFilledInIsNotPassed() throws IOException {
        SuiteExport.write(SUITES, folder, false);
        ConformanceReport report = read(Files.readString(folder.resolve(SuiteExport.RESULTS)));
        assertThat(report.caseCount()).isEqualTo(CASES);
        assertThat(report.count(Verdict.NOT_READ)).isEqualTo(CASES);
    }

    @Test
    void theExpectedValuesAreReferenceGrade() throws IOException {
        String[] lines = SUITES.get(0).cases().stream()
                .map(about -> String.format(Locale.ROOT, "%s, %.4f ,%s", about.id(), about.expected(), about.unit()))
                .toArray(String[]::new);
        assertThat(read(results(lines)).count(Verdict.REFERENCE_GRADE)).isEqualTo(CASES);
    }

    @Test
    void aMissingLineOtherUnitOrNoNumberIsNotPassed() throws IOException {
        ConformanceReport report = read(results(
                "ppm1-burst-10ms,-1,%",
                "ppm1-burst-5ms,NaN,dB",
                "\"ppm1-burst-3ms\",\"about, -4\",dB",
                "ppm1-return,1.75,s",
                "ppm1-scale,-7,dBFS"));
        assertThat(report.count(Verdict.REFERENCE_GRADE)).isEqualTo(1);
        assertThat(report.count(Verdict.FAILS)).isEqualTo(1);
        assertThat(report.count(Verdict.NOT_READ)).isEqualTo(5);
        assertThat(report.passes()).isFalse();
        assertThat(report.toText()).contains("asked: 'dB'", "NaN", "'about, -4' is no number", "no line is about it");
    }

    @Test
    void whatCannotBeUnderstoodIsRefusedWithItsLine() {
        assertRefused(results("ppm1-burst-7ms,-1,dB"), "line 2: there is no case 'ppm1-burst-7ms'");
        assertRefused(
                results("ppm1-return,1.7,s", "ppm1-return,1.8,s"), "line 3: the case 'ppm1-return' is there twice");
        assertRefused(results("ppm1-return,1.7"), "line 2: there are 2 cells, expected: 3");
        assertRefused(results("\"ppm1-return,1.7,s"), "line 2: a quotation mark is not closed");
        assertRefused(results("ppm1\"-return,1.7,s"), "line 2: a quotation mark stands inside a cell");
        assertRefused("case,value\n", "line 1: the columns are [case, value]");
        assertRefused("", "line 1: the columns are");
    }

    private static void assertRefused(String text, String message) {
        assertThatThrownBy(() -> read(text)).isInstanceOf(IOException.class).hasMessageContaining(message);
    }
}
