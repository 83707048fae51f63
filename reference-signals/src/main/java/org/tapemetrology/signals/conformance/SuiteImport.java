/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.Reader;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Reads the figures of a meter that is no Java program: lines of case, value and unit below these column names. A line
 * about an unknown case, a second line about a case or a line that cannot be read is an error. A case without a line or
 * without a value, and one whose value is no finite number or in another unit, is {@link Verdict#NOT_READ}.
 *
 * <p>Has no state: any number of threads may use it.
 */
public final class SuiteImport {
    static final List<String> COLUMNS = List.of("case", "value", "unit");

    private SuiteImport() {}

    /**
     * Judges figures.
     *
     * @param suites the suites that the figures are for
     * @param results the lines
     * @return a result for every case of every suite
     * @throws IOException when the lines cannot be read; the message names the line
     */
    public static ConformanceReport read(List<Suite<?>> suites, Reader results) throws IOException {
        Map<String, List<String>> lines = lines(suites, new BufferedReader(results));
        return new ConformanceReport(suites.stream()
                .map(suite -> suite.report(suite.cases().stream()
                        .map(about -> result(about, lines.get(about.id())))
                        .toList()))
                .toList());
    }

    private static Map<String, List<String>> lines(List<Suite<?>> suites, BufferedReader reader) throws IOException {
        Set<String> known = new HashSet<>();
        suites.forEach(suite -> suite.cases().forEach(about -> known.add(about.id())));
        Map<String, List<String>> lines = new HashMap<>();
        int number = 1;
        List<String> names = cells(String.valueOf(reader.readLine()), number);
        require(names.equals(COLUMNS), number, "the columns are " + names + ", expected: " + COLUMNS);
        for (String line = reader.readLine(); line != null; line = reader.readLine()) {
            number++;
            if (line.isBlank()) {
                continue;
            }
            List<String> cells = cells(line, number);
            require(
                    cells.size() == COLUMNS.size(),
                    number,
                    "there are " + cells.size() + " cells, expected: " + COLUMNS.size());
            String id = cells.get(0);
            require(known.contains(id), number, "there is no case '" + id + "'");
            require(lines.put(id, cells) == null, number, "the case '" + id + "' is there twice");
        }
        return lines;
    }

    private static List<String> cells(String line, int number) throws IOException {
        try {
            return Csv.cells(line).stream().map(String::strip).toList();
        } catch (IllegalArgumentException wrong) {
            throw new IOException("line " + number + ": " + wrong.getMessage(), wrong);
        }
    }

    private static void require(boolean holds, int line, String message) throws IOException {
        if (!holds) {
            throw new IOException("line " + line + ": " + message);
        }
    }

    private static CaseResult result(ConformanceCase about, @Nullable List<String> cells) {
        if (cells == null) {
            return CaseResult.notRead(about, "no line is about it");
        }
        String value = cells.get(1);
        if (value.isEmpty()) {
            return CaseResult.notRead(about, "no value was entered");
        }
        try {
            return CaseResult.of(about, new Figure(Double.parseDouble(value), cells.get(2)));
        } catch (NumberFormatException noNumber) {
            return CaseResult.notRead(about, "'" + value + "' is no number");
        }
    }
}
