/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.examples.report.Report.HandReading;
import org.tapemetrology.examples.report.Report.Judgement;
import org.tapemetrology.examples.report.Report.Recorded;

/**
 * The readings of a report as a table of comma-separated values (RFC 4180): a row for each reading of each recording, and for
 * each figure read by hand. What is not known is empty, never a number. A reading that is held to several limits has a row
 * for each.
 *
 * <p>A text that a spreadsheet would take for a formula (beginning with {@code = + - @}, tab or return) gets an apostrophe.
 */
public final class CsvTable {
    private static final List<String> COLUMNS = List.of(
            "step",
            "stage",
            "date",
            "place",
            "file",
            "counts",
            "part",
            "quantity",
            "channel",
            "frequencyHz",
            "seconds",
            "value",
            "unit",
            "status",
            "expandedUncertainty",
            "coverageProbability",
            "assumed",
            "method",
            "lower",
            "upper",
            "verdict",
            "probabilityOfConformity");

    private CsvTable() {}

    /**
     * Writes the table.
     *
     * @param report the report
     * @return the table, its first row the names of the columns
     */
    public static String of(Report report) {
        StringBuilder out = new StringBuilder();
        line(out, COLUMNS);
        for (Recorded recorded : report.recordings()) {
            List<String> from = List.of(
                    recorded.step().id(),
                    recorded.stage().id(),
                    recorded.date().toString(),
                    text(recorded.place()),
                    text(recorded.source().file()),
                    Boolean.toString(recorded.counts()));
            List<Reading> readings = recorded.measurement().readings();
            for (int i = 0; i < readings.size(); i++) {
                lines(out, from, text(recorded.part(i).orElse("")), readings.get(i), recorded.judgements());
            }
        }
        for (Report.Combined combined : report.combined()) {
            List<String> from =
                    List.of(combined.step().id(), combined.stage().id(), "", "several recordings", "", "true");
            combined.readings().forEach(reading -> lines(out, from, "", reading, combined.judgements()));
        }
        report.handReadings().forEach(hand -> line(out, row(hand)));
        return out.toString();
    }

    private static void lines(
            StringBuilder out, List<String> from, String part, Reading reading, List<Judgement> judgements) {
        List<Decision> decisions = judgements.stream()
                .map(Judgement::decision)
                .filter(decision -> decision.reading().equals(reading))
                .toList();
        if (decisions.isEmpty()) {
            line(out, row(from, part, reading, Optional.empty()));
        }
        decisions.forEach(decision -> line(out, row(from, part, reading, Optional.of(decision))));
    }

    private static List<String> row(List<String> from, String part, Reading reading, Optional<Decision> decision) {
        List<String> row = new ArrayList<>(from);
        row.add(part);
        row.addAll(List.of(
                reading.quantity().id(),
                number(reading.channel()),
                number(reading.atFrequencyHz()),
                number(reading.atSeconds()),
                number(reading.value()),
                reading.unit().symbol(),
                reading.status().id(),
                reading.uncertainty().map(u -> Double.toString(u.halfWidth())).orElse(""),
                reading.uncertainty()
                        .map(u -> Double.toString(u.coverageProbability()))
                        .orElse(""),
                reading.uncertainty().map(u -> Boolean.toString(u.assumed())).orElse(""),
                text(reading.method())));
        if (decision.isPresent()) {
            row.add(number(decision.get().limit().lower()));
            row.add(number(decision.get().limit().upper()));
            row.add(decision.get().verdict().id());
            row.add(number(decision.get().probabilityOfConformity()));
        } else {
            row.addAll(Collections.nCopies(4, ""));
        }
        return row;
    }

    private static List<String> row(HandReading hand) {
        return List.of(
                hand.step().id(),
                hand.stage().id(),
                hand.date().toString(),
                text(hand.place()),
                "",
                Boolean.toString(hand.counts()),
                "",
                text(hand.name()),
                "",
                "",
                "",
                number(hand.value()),
                text(hand.unit()),
                "",
                "",
                "",
                "",
                "by hand",
                number(hand.lower()),
                number(hand.upper()),
                hand.verdict().map(Verdict::id).orElse(""),
                "");
    }

    private static String number(OptionalDouble value) {
        return value.isPresent() ? Double.toString(value.getAsDouble()) : "";
    }

    private static String number(OptionalInt value) {
        return value.isPresent() ? Integer.toString(value.getAsInt()) : "";
    }

    private static String text(String text) {
        return !text.isEmpty() && "=+-@\t\r".indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }

    private static void line(StringBuilder out, List<String> cells) {
        for (int i = 0; i < cells.size(); i++) {
            String cell = Objects.requireNonNull(cells.get(i));
            boolean quoted = cell.chars().anyMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r');
            out.append(i == 0 ? "" : ",").append(quoted ? '"' + cell.replace("\"", "\"\"") + '"' : cell);
        }
        out.append("\r\n");
    }
}
