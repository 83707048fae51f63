/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.tapemetrology.examples.report.Chart.Pattern;
import org.tapemetrology.examples.report.Chart.Point;
import org.tapemetrology.examples.report.Report.Strip;
import org.tapemetrology.examples.report.Report.StripPoint;

/**
 * A figure over time, of one channel or two: where the first lies between its lowest and highest value, and the mean of each
 * as a line. Figures that are to be compared are drawn on one range.
 */
final class StripFigure {
    private static final double HEIGHT = 190;
    /** More cannot be told apart on the width of a chart. */
    private static final int MOST_DRAWN = 300;
    /** Rows of the table behind a chart. */
    private static final int MOST_LISTED = 20;

    private static final List<Pattern> PATTERNS = List.of(Pattern.SOLID, Pattern.DASHED, Pattern.DOTTED);

    private StripFigure() {}

    /** A range of values. */
    record Range(double low, double high) {
        static Range of(List<Strip> strips, boolean meansOnly) {
            double low = strips.stream()
                    .flatMap(strip -> strip.points().stream())
                    .mapToDouble(point -> meansOnly ? point.mean() : point.low())
                    .min()
                    .orElse(0);
            double high = strips.stream()
                    .flatMap(strip -> strip.points().stream())
                    .mapToDouble(point -> meansOnly ? point.mean() : point.high())
                    .max()
                    .orElse(1);
            return new Range(low, high);
        }

        Range atLeast(double span) {
            double lacking = Math.max(0, span - (high - low)) / 2;
            return new Range(low - lacking, high + lacking);
        }
    }

    static void write(Markup out, String id, String title, String unit, List<Strip> strips, Range range, boolean band) {
        List<Strip> drawn = strips.stream().map(StripFigure::thinned).toList();
        List<StripPoint> all =
                drawn.stream().flatMap(strip -> strip.points().stream()).toList();
        double from = all.stream().mapToDouble(StripPoint::seconds).min().orElse(0);
        double to = all.stream().mapToDouble(StripPoint::seconds).max().orElse(1);
        Axis x = Axis.exact("time, s", Math.min(from, 0), to, 6);
        Axis y = Axis.linear(unit, range.low(), range.high(), 5);
        out.open("figure");
        out.element("figcaption", title);
        Chart chart = new Chart(out, id, title, description(strips, unit), x, y, HEIGHT).axes();
        for (int i = 0; i < drawn.size(); i++) {
            Strip strip = drawn.get(i);
            if (band) {
                List<Point> corners = new ArrayList<>();
                strip.points().forEach(p -> corners.add(new Point(chart.x(p.seconds()), chart.y(p.high()))));
                for (int j = strip.points().size() - 1; j >= 0; j--) {
                    StripPoint p = strip.points().get(j);
                    corners.add(new Point(chart.x(p.seconds()), chart.y(p.low())));
                }
                chart.area(corners, Palette.FIELD);
            }
            chart.line(
                    strip.points().stream()
                            .map(p -> new Point(chart.x(p.seconds()), chart.y(p.mean())))
                            .toList(),
                    colour(strip.channel()),
                    PATTERNS.get(i % PATTERNS.size()));
        }
        chart.done();
        key(out, strips, band);
        list(out, title, unit, strips);
        out.close();
    }

    private static Palette colour(int channel) {
        return channel == 1 ? Palette.AFTER : Palette.SECOND;
    }

    private static void key(Markup out, List<Strip> strips, boolean band) {
        List<String> words = List.of("solid", "dashed", "dotted");
        StringBuilder key = new StringBuilder();
        for (int i = 0; i < strips.size(); i++) {
            key.append(key.isEmpty() ? "" : ", ")
                    .append(words.get(i % words.size()))
                    .append(": channel ")
                    .append(strips.get(i).channel());
        }
        out.element("p", key + (band ? ", mean; shaded: from lowest to highest" : ""), "class", "key");
    }

    private static String description(List<Strip> strips, String unit) {
        StringBuilder text = new StringBuilder();
        for (Strip strip : strips) {
            Range range = Range.of(List.of(strip), false);
            text.append(String.format(
                    Locale.ROOT,
                    "Channel %d: between %s and %s over %s s, %s. ",
                    strip.channel(),
                    Words.figure(range.low()),
                    Words.figure(range.high()),
                    Words.shortest(strip.points().size() * strip.intervalSeconds()),
                    unit));
        }
        return text.append("The values are in the table that follows.").toString();
    }

    /** Neighbours taken together until what is left can be drawn. */
    static Strip thinned(Strip strip) {
        return merged(strip, (strip.points().size() + MOST_DRAWN - 1) / MOST_DRAWN);
    }

    private static Strip merged(Strip strip, int group) {
        if (group <= 1) {
            return strip;
        }
        List<StripPoint> merged = new ArrayList<>();
        for (int from = 0; from < strip.points().size(); from += group) {
            List<StripPoint> part =
                    strip.points().subList(from, Math.min(strip.points().size(), from + group));
            merged.add(new StripPoint(
                    part.stream().mapToDouble(StripPoint::seconds).average().orElseThrow(),
                    part.stream().mapToDouble(StripPoint::low).min().orElseThrow(),
                    part.stream().mapToDouble(StripPoint::mean).average().orElseThrow(),
                    part.stream().mapToDouble(StripPoint::high).max().orElseThrow()));
        }
        return new Strip(strip.channel(), group * strip.intervalSeconds(), merged);
    }

    private static void list(Markup out, String title, String unit, List<Strip> strips) {
        out.open("details").element("summary", "Values: " + title);
        for (Strip strip : strips) {
            Strip few = merged(strip, (strip.points().size() + MOST_LISTED - 1) / MOST_LISTED);
            Table table = new Table(
                    out,
                    "Channel " + strip.channel() + ", intervals of " + Words.shortest(few.intervalSeconds()) + " s; "
                            + unit,
                    "middle, s",
                    "lowest",
                    "mean",
                    "highest");
            for (StripPoint p : few.points()) {
                table.row(
                        Words.fixed(p.seconds(), 1),
                        Words.fixed(p.low(), 3),
                        Words.fixed(p.mean(), 3),
                        Words.fixed(p.high(), 3));
            }
            table.end();
        }
        out.close();
    }
}
