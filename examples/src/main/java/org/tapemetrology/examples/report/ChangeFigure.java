/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.examples.report.Report.Stage;

/** One quantity before and after: a row for each channel and place, with uncertainty, and the limit behind it. */
final class ChangeFigure {
    private static final double ROW = 46;
    private static final double EDGES = 62;

    private ChangeFigure() {}

    /** What is compared. */
    record Row(String name, Optional<Reading> before, Optional<Reading> after) {
        Stream<Reading> all() {
            return Stream.concat(before.stream(), after.stream());
        }

        Optional<Reading> of(Stage stage) {
            return stage == Stage.BEFORE ? before : after;
        }
    }

    static void write(Markup out, String id, String title, String unit, List<Row> rows, Optional<Limit> limit) {
        List<Double> values = Stream.concat(
                        rows.stream()
                                .flatMap(Row::all)
                                .flatMap(r -> Stream.of(
                                        r.value().orElseThrow() - halfWidth(r),
                                        r.value().orElseThrow() + halfWidth(r))),
                        limit.stream()
                                .flatMap(l -> Stream.concat(
                                        l.lower().stream().boxed(),
                                        l.upper().stream().boxed())))
                .toList();
        double low = values.stream().min(Double::compare).orElse(0.0);
        double high = values.stream().max(Double::compare).orElse(1.0);
        double margin = Math.max(0.05 * (high - low), 1e-3);
        Axis x = Axis.linear(title + (unit.isEmpty() ? "" : ", " + unit), low - margin, high + margin, 5);
        Axis y = new Axis("", 0, rows.size(), false, List.of());
        double height = EDGES + ROW * rows.size();
        out.open("figure");
        out.element("figcaption", title + " before and after");
        Chart chart = new Chart(out, id, title + " before and after", description(rows, limit), x, y, height);
        limit.ifPresent(l -> {
            chart.columns(l.lower().orElse(x.low()), l.upper().orElse(x.high()), Palette.FIELD);
            l.lower().ifPresent(chart::edge);
            l.upper().ifPresent(chart::edge);
        });
        chart.rowAxis();
        for (int i = 0; i < rows.size(); i++) {
            draw(chart, rows.get(i), rows.size() - i);
        }
        chart.done();
        out.element(
                "p",
                "diamond: before; disc: after; bars: expanded uncertainty, 95 %"
                        + (limit.isPresent() ? "; shaded: limit " + Words.limit(limit.get()) : "; no limit is given"),
                "class",
                "key");
        list(out, title, rows);
        out.close();
    }

    private static void draw(Chart chart, Row row, int top) {
        double y = chart.y(top);
        chart.text(56, y + 13, "start", row.name());
        for (Stage stage : Stage.values()) {
            row.of(stage).ifPresent(reading -> {
                double at = y + (stage == Stage.BEFORE ? 23 : 36);
                double value = reading.value().orElseThrow();
                Palette colour = stage == Stage.BEFORE ? Palette.BEFORE : Palette.AFTER;
                chart.whisker(chart.x(value - halfWidth(reading)), chart.x(value + halfWidth(reading)), at, at, colour);
                chart.mark(stage, chart.x(value), at);
            });
        }
    }

    private static double halfWidth(Reading reading) {
        return reading.uncertainty().map(u -> u.halfWidth()).orElse(0.0);
    }

    private static String description(List<Row> rows, Optional<Limit> limit) {
        StringBuilder text = new StringBuilder();
        for (Row row : rows) {
            text.append(row.name())
                    .append(": before ")
                    .append(value(row.before()))
                    .append(", after ")
                    .append(value(row.after()))
                    .append(". ");
        }
        return text.append(limit.map(l -> "Limit " + Words.limit(l) + ".").orElse("No limit is given."))
                .toString();
    }

    private static String value(Optional<Reading> reading) {
        return reading.map(Words::value).orElse("not measured");
    }

    private static void list(Markup out, String title, List<Row> rows) {
        out.open("details").element("summary", "Values: " + title);
        Table table = new Table(out, title, "channel and place", "before", "after");
        rows.forEach(row -> table.row(row.name(), value(row.before()), value(row.after())));
        table.end();
        out.close();
    }
}
