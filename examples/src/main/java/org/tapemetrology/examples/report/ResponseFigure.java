/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.examples.report.Chart.Pattern;
import org.tapemetrology.examples.report.Chart.Point;
import org.tapemetrology.examples.report.Report.Stage;

/** A response before and after, within the field that limits at single frequencies span. */
final class ResponseFigure {
    private static final double HEIGHT = 230;
    private static final double LEAST_SPAN_DB = 6;

    private ResponseFigure() {}

    /** Readings of one channel at one place, by stage; each at a frequency. */
    record Pair(List<Reading> before, List<Reading> after) {
        List<Reading> of(Stage stage) {
            return stage == Stage.BEFORE ? before : after;
        }

        Stream<Reading> all() {
            return Stream.concat(before.stream(), after.stream());
        }
    }

    static void write(Markup out, String id, String title, Pair pair, List<Limit> limits) {
        List<Limit> field = limits.stream()
                .filter(limit ->
                        limit.atFrequencyHz().isPresent() || limit.range().isPresent())
                .sorted(Comparator.comparingDouble(ResponseFigure::fromHz))
                .toList();
        List<Double> frequencies = Stream.concat(
                        pair.all().map(r -> r.atFrequencyHz().orElseThrow()),
                        field.stream().flatMap(l -> Stream.of(fromHz(l), toHz(l))))
                .toList();
        List<Double> values = Stream.concat(
                        pair.all().flatMap(r -> Stream.of(low(r), high(r))),
                        field.stream()
                                .flatMap(l -> Stream.concat(
                                        l.lower().stream().boxed(),
                                        l.upper().stream().boxed())))
                .toList();
        double low = values.stream().min(Double::compare).orElse(0.0);
        double high = values.stream().max(Double::compare).orElse(0.0);
        double lacking = Math.max(0.5, (LEAST_SPAN_DB - (high - low)) / 2);
        Axis x = Axis.logarithmic(
                "frequency, Hz",
                frequencies.stream().min(Double::compare).orElse(20.0) / 1.2,
                frequencies.stream().max(Double::compare).orElse(20e3) * 1.2);
        Axis y = Axis.linear("response, dB", low - lacking, high + lacking, 6);
        out.open("figure", "class", "wide");
        out.element("figcaption", title);
        Chart chart = new Chart(out, id, title, description(pair, field), x, y, HEIGHT);
        drawField(chart, field, y);
        chart.axes();
        for (Stage stage : Stage.values()) {
            draw(chart, stage, pair.of(stage));
        }
        chart.done();
        out.element(
                "p",
                "diamonds, dashed: before; discs, solid: after; bars: expanded uncertainty, 95 %"
                        + (field.isEmpty() ? "; no tolerance field is given" : "; shaded: tolerance field"),
                "class",
                "key");
        list(out, title, pair, field);
        out.close();
    }

    private static double fromHz(Limit limit) {
        return limit.range()
                .map(Limit.Range::fromHz)
                .orElseGet(() -> limit.atFrequencyHz().orElseThrow());
    }

    private static double toHz(Limit limit) {
        return limit.range()
                .map(Limit.Range::toHz)
                .orElseGet(() -> limit.atFrequencyHz().orElseThrow());
    }

    /** Limits for ranges stand by themselves; those at single frequencies are joined by straight lines. */
    private static void drawField(Chart chart, List<Limit> field, Axis y) {
        field.stream().filter(limit -> limit.range().isPresent()).forEach(limit -> drawField(chart, y, List.of(limit)));
        List<Limit> single =
                field.stream().filter(limit -> limit.range().isEmpty()).toList();
        if (single.size() == 1) {
            Limit limit = single.get(0);
            double x = chart.x(fromHz(limit));
            chart.whisker(
                    x,
                    x,
                    chart.y(limit.upper().orElse(y.high())),
                    chart.y(limit.lower().orElse(y.low())),
                    Palette.EDGE);
        } else if (!single.isEmpty()) {
            drawField(chart, y, single);
        }
    }

    private static void drawField(Chart chart, Axis y, List<Limit> limits) {
        List<Point> upper = new ArrayList<>();
        List<Point> lower = new ArrayList<>();
        for (Limit limit : limits) {
            for (double hz : new double[] {fromHz(limit), toHz(limit)}) {
                upper.add(new Point(chart.x(hz), chart.y(limit.upper().orElse(y.high()))));
                lower.add(0, new Point(chart.x(hz), chart.y(limit.lower().orElse(y.low()))));
            }
        }
        List<Point> corners = new ArrayList<>(upper);
        corners.addAll(lower);
        chart.area(corners, Palette.FIELD);
        chart.line(upper, Palette.EDGE, Pattern.DOTTED).line(lower, Palette.EDGE, Pattern.DOTTED);
    }

    private static void draw(Chart chart, Stage stage, List<Reading> readings) {
        Palette colour = stage == Stage.BEFORE ? Palette.BEFORE : Palette.AFTER;
        List<Point> points = readings.stream()
                .sorted(Comparator.comparingDouble(r -> r.atFrequencyHz().orElseThrow()))
                .map(r -> new Point(
                        chart.x(r.atFrequencyHz().orElseThrow()),
                        chart.y(r.value().orElseThrow())))
                .toList();
        chart.line(points, colour, stage == Stage.BEFORE ? Pattern.DASHED : Pattern.SOLID);
        for (Reading reading : readings) {
            double x = chart.x(reading.atFrequencyHz().orElseThrow());
            chart.whisker(x, x, chart.y(low(reading)), chart.y(high(reading)), colour);
        }
        points.forEach(point -> chart.mark(stage, point.x(), point.y()));
    }

    private static double low(Reading reading) {
        return reading.value().orElseThrow()
                - reading.uncertainty().map(u -> u.halfWidth()).orElse(0.0);
    }

    private static double high(Reading reading) {
        return reading.value().orElseThrow()
                + reading.uncertainty().map(u -> u.halfWidth()).orElse(0.0);
    }

    private static String description(Pair pair, List<Limit> field) {
        return Words.count(pair.before().size(), "frequency", "frequencies") + " before, "
                + pair.after().size() + " after; "
                + outside(pair.before(), field) + " outside the tolerance field before, " + outside(pair.after(), field)
                + " after. The values are in the table that follows.";
    }

    private static long outside(List<Reading> readings, List<Limit> field) {
        return readings.stream()
                .filter(r -> field.stream()
                        .anyMatch(limit ->
                                limit.appliesTo(r) && !limit.holds(r.value().orElseThrow())))
                .count();
    }

    private static void list(Markup out, String title, Pair pair, List<Limit> field) {
        out.open("details").element("summary", "Values: " + title);
        Table table = new Table(out, title, "frequency", "before", "after", "limit");
        pair.all()
                .map(r -> r.atFrequencyHz().orElseThrow())
                .distinct()
                .sorted()
                .forEach(hz -> table.row(
                        Words.hertz(hz), value(pair.before(), hz), value(pair.after(), hz), limit(field, pair, hz)));
        table.end();
        out.close();
    }

    private static String value(List<Reading> readings, double hz) {
        return readings.stream()
                .filter(r -> r.atFrequencyHz().orElseThrow() == hz)
                .findFirst()
                .map(Words::value)
                .orElse("not measured");
    }

    private static String limit(List<Limit> field, Pair pair, double hz) {
        return pair.all()
                .filter(r -> r.atFrequencyHz().orElseThrow() == hz)
                .flatMap(r -> field.stream().filter(limit -> limit.appliesTo(r)))
                .findFirst()
                .map(Words::limit)
                .orElse("none");
    }
}
