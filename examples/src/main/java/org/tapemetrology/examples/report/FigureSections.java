/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.examples.report.Report.Recorded;
import org.tapemetrology.examples.report.Report.Stage;

/** The sections of a page that are drawn: what changed, responses, speed and level over time, flutter spectra. */
final class FigureSections {
    private final Report report;
    private final Markup out;

    FigureSections(Report report, Markup out) {
        this.report = report;
        this.out = out;
    }

    void changes() {
        out.open("div", "class", "charts");
        int charts = 0;
        for (Quantity quantity : List.of(
                Quantity.LEVEL,
                Quantity.LEVEL_RE_REFERENCE,
                Quantity.CHANNEL_BALANCE,
                Quantity.AZIMUTH_DELAY,
                Quantity.AZIMUTH_ANGLE)) {
            Map<String, ChangeFigure.Row> rows = changes(quantity);
            if (!rows.isEmpty()) {
                charts++;
                ChangeFigure.write(
                        out,
                        "change-" + quantity.id().replace('.', '-'),
                        quantity.id(),
                        Words.unit(rows.values().stream()
                                .flatMap(ChangeFigure.Row::all)
                                .findFirst()
                                .orElseThrow()
                                .unit()),
                        List.copyOf(rows.values()),
                        limit(quantity));
            }
        }
        out.close();
        if (charts == 0) {
            out.quiet("No step of level or azimuth was measured.");
        }
    }

    private Map<String, ChangeFigure.Row> changes(Quantity quantity) {
        Map<String, ChangeFigure.Row> rows = new LinkedHashMap<>();
        for (Stage stage : Stage.values()) {
            for (Recorded recorded : report.counting(stage)) {
                if (!recorded.step().judges(quantity)) {
                    continue;
                }
                for (Reading reading : recorded.valid(quantity)) {
                    String name = recorded.step().id()
                            + (reading.channel().isPresent()
                                    ? ", channel " + reading.channel().getAsInt()
                                    : "")
                            + (recorded.place().isEmpty() ? "" : ", " + recorded.place());
                    ChangeFigure.Row row =
                            rows.getOrDefault(name, new ChangeFigure.Row(name, Optional.empty(), Optional.empty()));
                    rows.put(
                            name,
                            stage == Stage.BEFORE
                                    ? new ChangeFigure.Row(name, Optional.of(reading), row.after())
                                    : new ChangeFigure.Row(name, row.before(), Optional.of(reading)));
                }
            }
        }
        return rows;
    }

    /** The limit of a quantity, where it is the same everywhere. */
    private Optional<Limit> limit(Quantity quantity) {
        List<Limit> limits = limits(quantity);
        return limits.size() == 1 ? Optional.of(limits.get(0)) : Optional.empty();
    }

    private List<Limit> limits(Quantity quantity) {
        return report.recordings().stream()
                .flatMap(r -> r.judgements().stream())
                .map(j -> j.decision().limit())
                .filter(limit -> limit.quantity() == quantity)
                .distinct()
                .toList();
    }

    void responses() {
        Map<String, ResponseFigure.Pair> pairs = new LinkedHashMap<>();
        for (Stage stage : Stage.values()) {
            for (Recorded recorded : report.counting(stage)) {
                for (Reading reading : recorded.valid(Quantity.RESPONSE)) {
                    if (reading.atFrequencyHz().isPresent()) {
                        String name = recorded.step().id() + ", channel "
                                + reading.channel().orElse(1)
                                + (recorded.place().isEmpty() ? "" : ", " + recorded.place());
                        ResponseFigure.Pair pair = pairs.computeIfAbsent(
                                name, n -> new ResponseFigure.Pair(new ArrayList<>(), new ArrayList<>()));
                        pair.of(stage).add(reading);
                    }
                }
            }
        }
        if (pairs.isEmpty()) {
            out.quiet("No response was measured.");
            return;
        }
        out.open("div", "class", "charts");
        int number = 0;
        for (Map.Entry<String, ResponseFigure.Pair> pair : pairs.entrySet()) {
            ResponseFigure.write(
                    out, "response-" + number++, pair.getKey(), pair.getValue(), limits(Quantity.RESPONSE));
        }
        out.close();
    }

    /** The recordings that count and have some curve, each once: one can serve several steps. */
    private List<Recorded> drawn(Predicate<Report.Curves> having) {
        Set<Integer> once = new HashSet<>();
        return report.recordings().stream()
                .filter(r -> r.counts() && having.test(r.curves()) && once.add(r.number()))
                .toList();
    }

    void speeds() {
        List<Recorded> shown = drawn(curves -> curves.speed().isPresent());
        if (shown.isEmpty()) {
            out.quiet("No recording holds a tone that is long enough.");
            return;
        }
        out.element(
                "p",
                "Speed re the mean of each recording, all on one scale. A steady error of speed is in the table of verdicts; the first seconds, in which the filters settle, are left out.");
        StripFigure.Range range = StripFigure.Range.of(
                        shown.stream()
                                .map(r -> r.curves().speed().orElseThrow())
                                .toList(),
                        false)
                .atLeast(0.02);
        out.open("div", "class", "charts");
        for (Recorded recorded : shown) {
            StripFigure.write(
                    out,
                    "speed-" + recorded.number(),
                    recorded.label(),
                    "deviation, %",
                    List.of(recorded.curves().speed().orElseThrow()),
                    range,
                    true);
        }
        out.close();
    }

    void levels() {
        List<Recorded> shown = drawn(curves -> !curves.levels().isEmpty());
        if (shown.isEmpty()) {
            out.quiet("No recording could be read.");
            return;
        }
        out.element("p", "Level of everything in the recording, RMS over intervals of 0.1 s or more.");
        out.open("div", "class", "charts");
        for (Recorded recorded : shown) {
            StripFigure.write(
                    out,
                    "level-" + recorded.number(),
                    recorded.label(),
                    "level, dBFS",
                    recorded.curves().levels(),
                    StripFigure.Range.of(recorded.curves().levels(), true).atLeast(4),
                    false);
        }
        out.close();
    }

    void spectra() {
        List<Recorded> shown = drawn(curves -> curves.spectrum().isPresent());
        if (shown.isEmpty()) {
            out.quiet("No recording holds a tone that is long enough for a spectrum.");
            return;
        }
        out.element(
                "p",
                "Numbers mark the largest periodic components of the speed; the list beneath names the parts that can cause each, with their probability.");
        out.open("div", "class", "charts");
        for (Recorded recorded : shown) {
            SpectrumFigure.write(
                    out,
                    "spectrum-" + recorded.number(),
                    recorded.label(),
                    recorded.curves().spectrum().orElseThrow());
        }
        out.close();
    }
}
