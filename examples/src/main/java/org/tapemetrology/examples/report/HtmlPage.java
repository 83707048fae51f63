/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.examples.report.Report.Outcome;
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
        out.quiet("Made on " + report.made()).close();
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
        VerdictSections verdicts = new VerdictSections(report, out);
        FigureSections figures = new FigureSections(report, out);
        ReadingSections readings = new ReadingSections(report, out);
        List<Section> sections = new ArrayList<>();
        sections.add(new Section("result", "Result", this::result));
        sections.add(new Section("setup", "Machine and setup", this::setup));
        sections.add(new Section("steps", "Steps before and after", this::steps));
        sections.add(new Section("verdicts", "Verdicts", verdicts::judged));
        sections.add(new Section("by-hand", "Read by hand", verdicts::byHand));
        sections.add(new Section("alignment", "Level, balance and azimuth", figures::changes));
        sections.add(new Section("response", "Response", figures::responses));
        sections.add(new Section("speed-over-time", "Speed over time", figures::speeds));
        sections.add(new Section("level-over-time", "Level over time", figures::levels));
        sections.add(new Section("spectrum", "Flutter spectrum and parts", figures::spectra));
        sections.add(new Section("recordings", "Recordings and readings", readings::recordings));
        sections.add(new Section("budgets", "Uncertainty budgets", readings::budgets));
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
            out.quiet("Nothing is known of the machine.");
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
            out.quiet("No step is known.");
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

    private void missing() {
        if (report.missing().isEmpty()) {
            out.quiet("Nothing is missing.");
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
}
