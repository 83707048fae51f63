/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.tapemetrology.examples.report.Chart.Pattern;
import org.tapemetrology.examples.report.Chart.Point;
import org.tapemetrology.examples.report.Report.NamedLine;
import org.tapemetrology.examples.report.Report.Spectrum;
import org.tapemetrology.examples.report.Report.SpectrumPoint;
import org.tapemetrology.examples.report.Report.Suspect;

/** The spectrum of the flutter: its largest components carry numbers, and a list beneath says which part can cause each. */
final class SpectrumFigure {
    private static final double HEIGHT = 230;
    private static final int MOST_NUMBERED = 8;
    private static final int MOST_SUSPECTS = 3;
    private static final double NUMBER_WIDTH = 14;
    private static final double NUMBER_STEP = 12;
    private static final double HIGHEST_NUMBER = 32;
    /** Decades below the highest point that are drawn. */
    private static final double REACH = 1e-3;

    /** Room for numbers above the highest component, as a ratio; many may have to stand above one another. */
    private static final double ROOM = 4;

    private static final double MUCH_ROOM = 40;
    private static final int FEW = 3;

    private SpectrumFigure() {}

    static void write(Markup out, String id, String title, Spectrum spectrum) {
        List<NamedLine> numbered =
                spectrum.lines().stream().limit(MOST_NUMBERED).toList();
        double highest = Math.max(
                spectrum.points().stream()
                        .mapToDouble(SpectrumPoint::amplitudePercent)
                        .max()
                        .orElse(1),
                numbered.stream().mapToDouble(NamedLine::peakPercent).max().orElse(0));
        double lowHz = spectrum.points().get(0).frequencyHz();
        double highHz = spectrum.points().get(spectrum.points().size() - 1).frequencyHz();
        Axis x = Axis.logarithmic("rate, Hz", lowHz, highHz);
        Axis y = Axis.logarithmic(
                "peak deviation, %", highest * REACH, highest * (numbered.size() > FEW ? MUCH_ROOM : ROOM));
        out.open("figure", "class", "wide");
        out.element("figcaption", title);
        Chart chart = new Chart(out, id, title, description(numbered), x, y, HEIGHT).axes();
        draw(chart, spectrum, y.low());
        number(chart, numbered);
        chart.done();
        legend(out, numbered, spectrum.lines().size());
        list(out, title, spectrum);
        out.close();
    }

    /** What lies below the chart leaves a gap. */
    private static void draw(Chart chart, Spectrum spectrum, double lowest) {
        List<Point> run = new ArrayList<>();
        for (SpectrumPoint point : spectrum.points()) {
            if (point.amplitudePercent() >= lowest) {
                run.add(new Point(chart.x(point.frequencyHz()), chart.y(point.amplitudePercent())));
            } else {
                chart.line(run, Palette.AFTER, Pattern.SOLID);
                run.clear();
            }
        }
        chart.line(run, Palette.AFTER, Pattern.SOLID);
    }

    /** Each number stands above its component, higher where another one stands beside it. */
    private static void number(Chart chart, List<NamedLine> lines) {
        List<Point> taken = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            double x = chart.x(lines.get(i).frequencyHz());
            double tip = chart.y(lines.get(i).peakPercent());
            double y = Math.max(HIGHEST_NUMBER, tip - 6);
            Point place = free(x, y, taken);
            taken.add(place);
            chart.whisker(x, place.x(), tip, place.y() + 1, Palette.SECOND);
            chart.text(place.x(), place.y(), "middle", Integer.toString(i + 1));
        }
    }

    private static Point free(double x, double y, List<Point> taken) {
        for (int aside = 0; ; aside++) {
            double shift = (aside % 2 == 0 ? 1 : -1) * ((aside + 1) / 2) * NUMBER_WIDTH;
            for (double up = y; up >= HIGHEST_NUMBER; up -= NUMBER_STEP) {
                Point place = new Point(Math.min(Chart.WIDTH - 20, Math.max(58, x + shift)), up);
                if (taken.stream()
                        .noneMatch(other -> Math.abs(other.x() - place.x()) < NUMBER_WIDTH
                                && Math.abs(other.y() - place.y()) < NUMBER_STEP)) {
                    return place;
                }
            }
        }
    }

    private static String description(List<NamedLine> lines) {
        return lines.isEmpty()
                ? "No periodic component stands out."
                : "Largest components: "
                        + lines.stream().map(SpectrumFigure::sentence).collect(Collectors.joining("; ")) + ".";
    }

    private static String sentence(NamedLine line) {
        return Words.rough(line.frequencyHz()) + "\u00a0Hz, " + Words.rough(line.peakPercent()) + "\u00a0% peak, "
                + suspects(line);
    }

    /** The likeliest parts, and what speaks for none of them. */
    static String suspects(NamedLine line) {
        String parts = line.parts().stream()
                .limit(MOST_SUSPECTS)
                .map(SpectrumFigure::suspect)
                .collect(Collectors.joining(", "));
        return parts.isEmpty()
                ? "no part named"
                : parts
                        + (line.unexplained() >= 0.005
                                ? ", none of the list " + Words.percent(line.unexplained())
                                : "");
    }

    private static String suspect(Suspect suspect) {
        return suspect.part() + (suspect.harmonic() > 1 ? " (harmonic " + suspect.harmonic() + ")" : "") + " "
                + Words.percent(suspect.probability());
    }

    private static void legend(Markup out, List<NamedLine> numbered, int all) {
        if (numbered.isEmpty()) {
            out.element("p", "No periodic component stands out of the random flutter.", "class", "key");
            return;
        }
        out.open("ol", "class", "key");
        numbered.forEach(line -> out.element("li", sentence(line)));
        out.close();
        if (all > numbered.size()) {
            out.element("p", (all - numbered.size()) + " weaker components are in the table.", "class", "key");
        }
    }

    private static void list(Markup out, String title, Spectrum spectrum) {
        out.open("details").element("summary", "Components: " + title);
        Table table = new Table(
                out,
                "Periodic components, channel " + spectrum.channel() + "; uncertainties expanded, 95 %",
                "rate, Hz",
                "peak deviation, %",
                "parts that can cause it",
                "weighted quasi-peak without it, %");
        for (NamedLine line : spectrum.lines()) {
            table.row(
                    Words.figure(line.frequencyHz()) + " \u00b1 " + Words.shortest(line.frequencyUncertaintyHz()),
                    Words.figure(line.peakPercent()) + " \u00b1 " + Words.shortest(line.peakUncertaintyPercent()),
                    suspects(line),
                    line.weightedWithout().isPresent()
                            ? Words.figure(line.weightedWithout().getAsDouble())
                            : "not known");
        }
        table.end();
        out.close();
    }
}
