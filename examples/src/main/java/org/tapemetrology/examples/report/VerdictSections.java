/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.examples.report.Report.HandReading;
import org.tapemetrology.examples.report.Report.Judgement;
import org.tapemetrology.examples.report.Report.Stage;

/** The sections of a page that say what is held to a limit: verdicts, and what was read by hand. */
final class VerdictSections {
    private final Report report;
    private final Markup out;

    VerdictSections(Report report, Markup out) {
        this.report = report;
        this.out = out;
    }

    void judged() {
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
            out.quiet("No reading is held to a limit.");
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

    void byHand() {
        if (report.handReadings().isEmpty()) {
            out.quiet("Nothing was read by hand.");
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
        out.quiet("Figures read by hand carry no uncertainty: the verdict is by the figure alone.");
    }
}
