/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.examples.report.Report.HandReading;
import org.tapemetrology.examples.report.Report.Judgement;
import org.tapemetrology.examples.report.Report.Outcome;
import org.tapemetrology.examples.report.Report.Recorded;
import org.tapemetrology.examples.report.Report.Stage;
import org.tapemetrology.examples.report.Report.Step;

/**
 * A report as one page of HTML that needs nothing else: no script, no font, no picture from elsewhere, and its policy allows
 * none.
 */
public final class HtmlPage {
    /** Nothing is fetched, nothing runs, whatever comes into the page. */
    static final String POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

    private final Report report;
    private final Markup out = new Markup();

    /** A section of the page. */
    private record Section(String id, String title, Runnable content) {}

    private HtmlPage(Report report) {
        this.report = report;
    }

    /**
     * Writes a page.
     *
     * @param report the report
     * @return the page
     */
    public static String of(Report report) {
        return new HtmlPage(report).page();
    }

    private String page() {
        List<Section> sections = sections();
        String title = "Service report: " + report.machine();
        out.open("html", "lang", "en").open("head");
        out.empty("meta", "charset", "utf-8");
        out.empty("meta", "http-equiv", "Content-Security-Policy", "content", POLICY);
        out.empty("meta", "name", "viewport", "content", "width=device-width, initial-scale=1");
        out.element("title", title).style(StyleSheet.text()).close();
        out.open("body");
        out.element("a", "Skip to the result", "class", "skip", "href", "#result");
        out.open("header").element("h1", title);
        out.element("p", "Made on " + report.made(), "class", "quiet").close();
        out.open("nav", "aria-label", "Contents").open("ol");
        sections.forEach(section -> out.open("li")
                .element("a", section.title(), "href", "#" + section.id())
                .close());
        out.close().close();
        out.open("main");
        for (Section section : sections) {
            out.open("section", "id", section.id(), "aria-labelledby", section.id() + "-h", "tabindex", "-1");
            out.element("h2", section.title(), "id", section.id() + "-h");
            section.content().run();
            out.close();
        }
        out.close();
        out.open("footer")
                .element(
                        "p",
                        "Expanded uncertainties cover 95 % (JCGM 100:2008). A verdict is pass or fail only where the uncertainty leaves no doubt of it; else it is undecided.")
                .close();
        return "<!DOCTYPE html>\n" + out.close().close().done();
    }

    private List<Section> sections() {
        List<Section> sections = new ArrayList<>();
        sections.add(new Section("result", "Result", this::result));
        sections.add(new Section("setup", "Machine and setup", this::setup));
        sections.add(new Section("steps", "Steps before and after", this::steps));
        sections.add(new Section("verdicts", "Verdicts", this::verdicts));
        sections.add(new Section("by-hand", "Read by hand", this::byHand));
        sections.add(new Section("alignment", "Level, balance and azimuth", this::changes));
        sections.add(new Section("response", "Response", this::responses));
        sections.add(new Section("speed-over-time", "Speed over time", this::speeds));
        sections.add(new Section("level-over-time", "Level over time", this::levels));
        sections.add(new Section("spectrum", "Flutter spectrum and parts", this::spectra));
        sections.add(new Section("recordings", "Recordings and readings", this::recordings));
        sections.add(new Section("budgets", "Uncertainty budgets", this::budgets));
        sections.add(new Section("missing", "What is missing", this::missing));
        sections.add(new Section("cautions", "Cautions", this::cautions));
        return sections;
    }

    private void result() {
        out.element("p", conclusion(), "class", "lead");
        if (!report.problems().isEmpty()) {
            out.open("div", "class", "note", "role", "note")
                    .element("h3", Words.count(report.problems().size(), "problem", "problems"))
                    .open("ul");
            report.problems().forEach(problem -> out.element("li", problem.where() + ": " + problem.message()));
            out.close().close();
        }
        if (report.steps().isEmpty()) {
            return;
        }
        out.open("ul");
        for (Verdict verdict : Verdict.values()) {
            List<Step> steps = report.standingAt(verdict);
            if (!steps.isEmpty()) {
                out.open("li");
                Table.verdict(out, verdict);
                out.text(": " + names(steps)).close();
            }
        }
        if (!report.unknown().isEmpty()) {
            out.element("li", "nothing recorded or entered: " + names(report.unknown()));
        }
        out.close();
        if (!report.missing().isEmpty()) {
            out.open("p")
                    .text(Words.count(report.missing().size(), "thing is", "things are") + " missing: ")
                    .element("a", "see there", "href", "#missing")
                    .text(".")
                    .close();
        }
    }

    private String conclusion() {
        if (report.steps().isEmpty()) {
            return "The service file could not be read: nothing is known of the machine.";
        }
        if (report.isProven()) {
            return "Every step is passed after the repair.";
        }
        int passed = report.standingAt(Verdict.PASS).size();
        return "The repair is not proven: " + passed + " of "
                + Words.count(report.steps().size(), "step is", "steps are") + " passed, "
                + (report.standingAt(Verdict.FAIL).size()
                        + report.standingAt(Verdict.CONDITIONAL_FAIL).size())
                + " failed, "
                + report.unknown().size() + " not measured.";
    }

    private static String names(List<Step> steps) {
        return steps.stream().map(step -> step.step().id()).collect(Collectors.joining(", "));
    }

    private void setup() {
        if (report.facts().isEmpty()) {
            nothing("Nothing is known of the machine.");
        }
        out.open("div", "class", "facts");
        for (Report.Facts group : report.facts()) {
            out.open("div").element("h3", group.title()).open("dl");
            group.facts()
                    .forEach(fact -> out.open("div")
                            .open("dt")
                            .breakable(fact.name())
                            .close()
                            .element("dd", fact.value())
                            .close());
            out.close().close();
        }
        out.close();
    }

    private void steps() {
        if (report.steps().isEmpty()) {
            nothing("No step is known.");
            return;
        }
        Table table = new Table(
                out,
                "Each step in the trade's order; of several places the worst counts",
                "step",
                "before",
                "decided by",
                "after",
                "decided by");
        for (Step step : report.steps()) {
            table.row(
                    Table.text(step.step().id()),
                    verdict(step.before()),
                    deciding(step.before()),
                    verdict(step.after()),
                    deciding(step.after()));
        }
        table.end();
    }

    private static Table.Cell verdict(Optional<Outcome> outcome) {
        return outcome.map(o -> Table.verdict(o.verdict()))
                .orElse(out -> out.element("span", "not measured", "class", "nowrap"));
    }

    private static Table.Cell deciding(Optional<Outcome> outcome) {
        return outcome.map(o -> Table.text(o.deciding() + (o.place().isEmpty() ? "" : " (" + o.place() + ")")))
                .orElse(Table.NONE);
    }

    private void verdicts() {
        boolean any = false;
        for (Stage stage : Stage.values()) {
            List<Judged> judged = judged(stage);
            if (judged.isEmpty()) {
                continue;
            }
            any = true;
            Table table = new Table(
                    out,
                    "Verdicts " + stage.id() + " the repair, each step's worst first",
                    "figure",
                    "step and place",
                    "reading",
                    "limit",
                    "verdict",
                    "kept with a probability of");
            judged.forEach(each -> row(table, each));
            table.end();
            advice(judged);
        }
        if (!any) {
            nothing("No reading is held to a limit.");
        }
    }

    /** A verdict with where it comes from. */
    private record Judged(ServiceStep step, String place, Judgement judgement) {}

    private List<Judged> judged(Stage stage) {
        Stream<Judged> single = report.counting(stage).stream()
                .flatMap(r -> r.judgements().stream().map(j -> new Judged(r.step(), r.place(), j)));
        Stream<Judged> together = report.combined().stream()
                .filter(c -> c.stage() == stage)
                .flatMap(c -> c.judgements().stream().map(j -> new Judged(c.step(), "several recordings", j)));
        return Stream.concat(single, together)
                .sorted(Comparator.comparing(Judged::step)
                        .thenComparing(each -> each.judgement().decision(), Report.worstFirst()))
                .toList();
    }

    private static void row(Table table, Judged judged) {
        Decision decision = judged.judgement().decision();
        Limit limit = decision.limit();
        String named = limit.name().equals(limit.quantity().id()) ? "" : " (" + limit.name() + ")";
        table.row(
                Table.text(Words.name(decision.reading()) + named),
                Table.text(judged.step().id() + (judged.place().isEmpty() ? "" : ", " + judged.place())),
                Table.text(Words.value(decision.reading())),
                Table.text(Words.limit(limit)),
                Table.verdict(decision.verdict()),
                Table.text(
                        decision.probabilityOfConformity().isPresent()
                                ? Words.percent(
                                        decision.probabilityOfConformity().getAsDouble())
                                : "not known"));
    }

    private void advice(List<Judged> judged) {
        List<Judged> open =
                judged.stream().filter(j -> !j.judgement().advice().isEmpty()).toList();
        if (!open.isEmpty()) {
            out.element("h3", "What would decide an undecided verdict").open("ul");
            for (Judged each : open) {
                out.element(
                        "li",
                        Words.name(each.judgement().decision().reading()) + " ("
                                + each.step().id()
                                + (each.place().isEmpty() ? "" : ", " + each.place()) + "): "
                                + String.join(" ", each.judgement().advice()));
            }
            out.close();
        }
    }

    private void byHand() {
        if (report.handReadings().isEmpty()) {
            nothing("Nothing was read by hand.");
            return;
        }
        Table table = new Table(
                out, "What was read by hand, or done", "what", "step and place", "when", "reading", "limit", "verdict");
        for (HandReading hand : report.handReadings()) {
            boolean figure = hand.value().isPresent();
            table.row(
                    Table.text(hand.name()),
                    Table.text(hand.step().id() + (hand.place().isEmpty() ? "" : ", " + hand.place())),
                    Table.text(hand.stage().id() + ", " + hand.date()),
                    Table.text(figure ? Words.entered(hand.value().getAsDouble()) + "\u00a0" + hand.unit() : "done"),
                    Table.text(figure ? Words.bounds(hand.lower(), hand.upper(), hand.unit()) : "\u2013"),
                    hand.counts()
                            ? hand.verdict().map(Table::verdict).orElse(Table.text("not judged"))
                            : Table.text("history: a later entry or repair"));
        }
        table.end();
        out.element(
                "p",
                "Figures read by hand carry no uncertainty: the verdict is by the figure alone.",
                "class",
                "quiet");
    }

    private void changes() {
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
            nothing("No step of level or azimuth was measured.");
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

    private void responses() {
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
            nothing("No response was measured.");
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

    private List<Recorded> drawn() {
        return report.recordings().stream().filter(Recorded::counts).toList();
    }

    private void speeds() {
        Set<Integer> once = new HashSet<>(); // a recording can serve several steps
        List<Recorded> shown = drawn().stream()
                .filter(r -> r.curves().speed().isPresent() && once.add(r.number()))
                .toList();
        if (shown.isEmpty()) {
            nothing("No recording holds a tone that is long enough.");
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

    private void levels() {
        Set<Integer> once = new HashSet<>();
        List<Recorded> shown = drawn().stream()
                .filter(r -> !r.curves().levels().isEmpty() && once.add(r.number()))
                .toList();
        if (shown.isEmpty()) {
            nothing("No recording could be read.");
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

    private void spectra() {
        Set<Integer> once = new HashSet<>();
        List<Recorded> shown = drawn().stream()
                .filter(r -> r.curves().spectrum().isPresent() && once.add(r.number()))
                .toList();
        if (shown.isEmpty()) {
            nothing("No recording holds a tone that is long enough for a spectrum.");
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

    private void recordings() {
        if (report.recordings().isEmpty()) {
            nothing("The service file holds no recording.");
        }
        for (Recorded recorded : report.recordings()) {
            out.element("h3", recorded.number() + ". " + recorded.label());
            out.element("p", origin(recorded), "class", "quiet");
            recorded.doubts().forEach(doubt -> out.element("p", "In doubt: " + doubt, "class", "note"));
            if (!recorded.measurement().warnings().isEmpty()) {
                out.open("ul");
                recorded.measurement().warnings().forEach(warning -> out.element("li", Words.warning(warning)));
                out.close();
            }
            if (!recorded.measurement().readings().isEmpty()) {
                readings(recorded);
            }
        }
        combined();
    }

    /** What several recordings say together. */
    private void combined() {
        for (Report.Combined combined : report.combined()) {
            out.element(
                    "h3",
                    "Several recordings together: " + combined.step().id() + ", "
                            + combined.stage().id());
            combined.notes().forEach(note -> out.element("p", note));
            if (!combined.readings().isEmpty()) {
                Table table = new Table(
                        out,
                        "Figures of " + combined.step().id() + " from several recordings",
                        "figure",
                        "value or status",
                        "method");
                combined.readings().forEach(r -> table.row(Words.name(r), Words.value(r), r.method()));
                table.end();
            }
        }
    }

    private static String origin(Recorded recorded) {
        Report.Source source = recorded.source();
        return source.file() + ", " + recorded.date()
                + (recorded.tape().isEmpty() ? "" : ", test tape " + recorded.tape())
                + (source.channels() > 0
                        ? ", " + source.sampleRateHz() + " Hz, "
                                + Words.count(source.channels(), "channel", "channels") + ", "
                                + Words.fixed(source.durationSeconds(), 1) + " s"
                        : "")
                + (recorded.counts()
                        ? ""
                        : "; does not count: a later recording of this place, or a repair, came after it");
    }

    private void readings(Recorded recorded) {
        out.open("details")
                .element(
                        "summary",
                        Words.count(recorded.measurement().readings().size(), "reading", "readings") + " of recording "
                                + recorded.number());
        Table table =
                new Table(out, "Readings of recording " + recorded.number(), "figure", "value or status", "method");
        recorded.measurement().readings().forEach(r -> table.row(Words.name(r), Words.value(r), r.method()));
        table.end();
        out.close();
    }

    private void budgets() {
        List<Recorded> shown = report.recordings().stream()
                .filter(r -> r.counts() && !r.budgets().isEmpty())
                .toList();
        if (shown.isEmpty()) {
            nothing("No reading has a budget.");
            return;
        }
        out.element(
                "p",
                "Budgets of the figures that are judged are open; the others can be opened. Standard uncertainties, in the unit of the figure; type A is from the recording's own scatter, type B from anything else.");
        for (Recorded recorded : shown) {
            out.element("h3", recorded.number() + ". " + recorded.label());
            for (Report.Budgeted budgeted : recorded.budgets()) {
                boolean judged = recorded.judgements().stream()
                        .anyMatch(j -> j.decision().reading().equals(budgeted.reading()));
                if (judged) {
                    out.open("details", "open", "open");
                } else {
                    out.open("details");
                }
                out.element("summary", Words.name(budgeted.reading()) + ": " + Words.value(budgeted.reading()));
                BudgetTable.write(out, budgeted);
                out.close();
            }
        }
    }

    private void missing() {
        if (report.missing().isEmpty()) {
            nothing("Nothing is missing.");
            return;
        }
        out.open("ul");
        report.missing().forEach(line -> out.element("li", line));
        out.close();
    }

    private void cautions() {
        out.open("div", "class", "note care", "role", "note").open("ul");
        Cautions.sentences().forEach(sentence -> out.element("li", sentence));
        out.close().close();
    }

    private void nothing(String sentence) {
        out.element("p", sentence, "class", "quiet");
    }
}
