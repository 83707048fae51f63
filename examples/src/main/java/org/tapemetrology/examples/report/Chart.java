/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.List;
import java.util.Locale;

/**
 * A chart as SVG: two axes, and what is drawn between them. It is 352 units wide, so that its text is readable on a narrow
 * screen at its own size; wide pages and paper put several beside one another. A person who does not see it hears title and
 * description.
 */
final class Chart {
    /** Width of every chart. */
    static final double WIDTH = 352;

    private static final double LEFT = 50;
    private static final double RIGHT = 12;
    private static final double TOP = 20;
    private static final double BOTTOM = 40;
    private static final double TEXT = 11;
    /** Width of a letter of the usual fonts at most, as part of their size: digits and small letters. */
    private static final double LETTER = 0.66;

    private final Markup out;
    private final Axis x;
    private final Axis y;
    private final double height;

    /** A point. */
    record Point(double x, double y) {}

    /** How a line is drawn: the pattern tells as much as the colour. */
    enum Pattern {
        /** Unbroken. */
        SOLID("none"),
        /** Long dashes. */
        DASHED("7 3"),
        /** Dots. */
        DOTTED("2 2.5");

        private final String dashes;

        Pattern(String dashes) {
            this.dashes = dashes;
        }
    }

    /** Begins a chart; the id must be the only one of its kind on the page. */
    Chart(Markup out, String id, String title, String description, Axis x, Axis y, double height) {
        this.out = out;
        this.x = x;
        this.y = y;
        this.height = height;
        out.open(
                "svg",
                "viewBox",
                "0 0 " + (int) WIDTH + " " + (int) height,
                "role",
                "img",
                "aria-labelledby",
                id + "-t " + id + "-d");
        out.element("title", title, "id", id + "-t");
        out.element("desc", description, "id", id + "-d");
    }

    double x(double value) {
        return LEFT + x.place(value) * (WIDTH - LEFT - RIGHT);
    }

    double y(double value) {
        return height - BOTTOM - y.place(value) * (height - TOP - BOTTOM);
    }

    /** Grid, ticks and titles of both axes. */
    Chart axes() {
        horizontalAxis();
        double reached = Double.POSITIVE_INFINITY;
        for (double tick : y.ticks()) {
            double at = y(tick);
            out.empty("line", "x1", LEFT, "x2", WIDTH - RIGHT, "y1", at, "y2", at, "stroke", Palette.RULE.hex());
            if (reached - at >= TEXT + 3) {
                text(LEFT - 5, at + 4, "end", y.label(tick));
                reached = at;
            }
        }
        text(2, 11, "start", y.title());
        frame();
        return this;
    }

    private void horizontalAxis() {
        double reached = Double.NEGATIVE_INFINITY;
        double end = WIDTH;
        for (double tick : x.ticks()) {
            double at = x(tick);
            out.empty("line", "x1", at, "x2", at, "y1", TOP, "y2", height - BOTTOM, "stroke", Palette.RULE.hex());
            String label = x.label(tick);
            double half = label.length() * TEXT * LETTER / 2;
            if (at - half > reached + 4 && at + half <= end) {
                text(at, height - BOTTOM + 17, "middle", label);
                reached = at + half;
            }
        }
        text((LEFT + WIDTH - RIGHT) / 2, height - 6, "middle", x.title());
    }

    /** An axis for rows that have names: only the lower edge is marked. */
    Chart rowAxis() {
        horizontalAxis();
        frame();
        return this;
    }

    private void frame() {
        out.empty(
                "rect",
                "x",
                LEFT,
                "y",
                TOP,
                "width",
                WIDTH - LEFT - RIGHT,
                "height",
                height - TOP - BOTTOM,
                "fill",
                "none",
                "stroke",
                Palette.QUIET.hex());
    }

    Chart text(double atX, double atY, String anchor, String text) {
        out.element("text", text, "x", atX, "y", atY, "text-anchor", anchor);
        return this;
    }

    /** A line through points. */
    Chart line(List<Point> points, Palette colour, Pattern pattern) {
        if (points.size() > 1) {
            out.empty(
                    "path",
                    "d",
                    path(points),
                    "fill",
                    "none",
                    "stroke",
                    colour.hex(),
                    "stroke-width",
                    1.6,
                    "stroke-linejoin",
                    "round",
                    "stroke-dasharray",
                    pattern.dashes);
        }
        return this;
    }

    /** An area with these corners. */
    Chart area(List<Point> corners, Palette fill) {
        out.empty("path", "d", path(corners) + "Z", "fill", fill.hex());
        return this;
    }

    /** The area between two values of the x axis, from top to bottom. */
    Chart columns(double from, double to, Palette fill) {
        out.empty(
                "rect",
                "x",
                x(from),
                "y",
                TOP,
                "width",
                Math.max(0, x(to) - x(from)),
                "height",
                height - TOP - BOTTOM,
                "fill",
                fill.hex());
        return this;
    }

    /** A line from top to bottom at a value of the x axis. */
    Chart edge(double at) {
        out.empty(
                "line",
                "x1",
                x(at),
                "x2",
                x(at),
                "y1",
                TOP,
                "y2",
                height - BOTTOM,
                "stroke",
                Palette.EDGE.hex(),
                "stroke-width",
                1.4);
        return this;
    }

    /** How far a value may be off. */
    Chart whisker(double fromX, double toX, double fromY, double toY, Palette colour) {
        out.empty("line", "x1", fromX, "x2", toX, "y1", fromY, "y2", toY, "stroke", colour.hex(), "stroke-width", 1.2);
        return this;
    }

    /** A hollow diamond, for what was before. */
    Chart diamond(double atX, double atY) {
        out.empty(
                "path",
                "d",
                path(List.of(
                                new Point(atX, atY - 5),
                                new Point(atX + 5, atY),
                                new Point(atX, atY + 5),
                                new Point(atX - 5, atY)))
                        + "Z",
                "fill",
                Palette.PAPER.hex(),
                "stroke",
                Palette.BEFORE.hex(),
                "stroke-width",
                1.8);
        return this;
    }

    /** A filled disc, for what is after. */
    Chart disc(double atX, double atY) {
        out.empty("circle", "cx", atX, "cy", atY, "r", 4.2, "fill", Palette.AFTER.hex());
        return this;
    }

    /** The mark of a stage. */
    Chart mark(Report.Stage stage, double atX, double atY) {
        return stage == Report.Stage.BEFORE ? diamond(atX, atY) : disc(atX, atY);
    }

    private static String path(List<Point> points) {
        StringBuilder path = new StringBuilder();
        for (Point point : points) {
            path.append(path.isEmpty() ? 'M' : 'L').append(String.format(Locale.ROOT, "%.1f %.1f", point.x, point.y));
        }
        return path.toString();
    }

    /** Ends the drawing. */
    void done() {
        out.close();
    }
}
