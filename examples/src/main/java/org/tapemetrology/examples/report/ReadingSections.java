/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.List;
import org.tapemetrology.examples.report.Report.Recorded;

/** The sections of a page that list what was measured: recordings with their readings, and the budgets. */
final class ReadingSections {
    private final Report report;
    private final Markup out;

    ReadingSections(Report report, Markup out) {
        this.report = report;
        this.out = out;
    }

    void recordings() {
        if (report.recordings().isEmpty()) {
            out.quiet("The service file holds no recording.");
        }
        for (Recorded recorded : report.recordings()) {
            out.element("h3", recorded.number() + ". " + recorded.label());
            out.quiet(origin(recorded));
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

    void budgets() {
        List<Recorded> shown = report.recordings().stream()
                .filter(r -> r.counts() && !r.budgets().isEmpty())
                .toList();
        if (shown.isEmpty()) {
            out.quiet("No reading has a budget.");
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
}
