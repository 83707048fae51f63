/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.core.programme.ProgrammeMeasurement.StepMeasurement;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.examples.output.AssessmentTable;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.recording.Recording;
import org.tapemetrology.examples.report.Report.Stage;
import org.tapemetrology.examples.service.ServiceFile.Entered;
import org.tapemetrology.examples.service.ServiceFile.Moment;
import org.tapemetrology.examples.service.ServiceFile.Recorded;
import org.tapemetrology.examples.service.ServiceFile.Repair;

/**
 * What the recordings of a service say: every step before and after, judged by the limits of the machine. Of several
 * recordings of a step (start, middle and end of the tape, directions, speeds) the worst counts; of those of the same place
 * the last one. A recording that cannot be measured leaves the others as they are. After a repair what it may have changed is
 * due again. Of what was entered by hand the last entry of each name and place counts ({@link HandEntries}).
 */
public final class ServiceRecord {
    /**
     * A recording with what it says of its step.
     *
     * @param result its readings and warnings; of a programme those of the parts that are meant
     * @param parts the steps of its programme that are meant, empty without one
     * @param budgets what gives the budgets of the readings
     * @param decisions by the limits that one recording can be judged by
     * @param doubts what makes it doubtful, so that it passes nothing
     * @param told what else a person must know
     */
    record Measured(
            Recorded recorded,
            Recording.Result result,
            List<StepMeasurement> parts,
            ReadingBudgets budgets,
            List<Decision> decisions,
            List<String> doubts,
            List<String> told) {
        /** What was measured, part by part. */
        List<Measurement> measurements() {
            return recorded.contents().programme().isEmpty()
                    ? List.of(result.measurement())
                    : parts.stream().map(StepMeasurement::measurement).toList();
        }
    }

    /** A line of what a step says; without a verdict it is told beside those that have one. */
    private record Finding(Optional<Verdict> verdict, String line) {}

    /**
     * What a step says at one stage.
     *
     * @param verdict the worst of what counts; empty where nothing was recorded or entered
     * @param why everything that is to be told
     * @param deciding those of the lines that say as much as the verdict
     */
    public record Standing(
            ServiceStep step, Stage stage, Optional<Verdict> verdict, List<String> why, List<String> deciding) {
        private static Standing of(ServiceStep step, Stage stage, List<Finding> findings) {
            Optional<Verdict> worst = findings.stream()
                    .flatMap(finding -> finding.verdict().stream())
                    .max(Comparator.comparingInt(ServiceRecord::severity));
            return new Standing(
                    step,
                    stage,
                    worst,
                    findings.stream().map(Finding::line).toList(),
                    findings.stream()
                            .filter(finding ->
                                    worst.isPresent() && finding.verdict().equals(worst))
                            .map(Finding::line)
                            .toList());
        }
    }

    private final ServiceFile service;
    private final StepJudge judge;
    private final HandEntries hand;
    private final List<Measured> measured = new ArrayList<>();

    private ServiceRecord(ServiceFile service, DecisionRule rule) {
        this.service = service;
        this.judge = new StepJudge(service, rule);
        this.hand = new HandEntries(service);
    }

    public static ServiceRecord of(ServiceFile service, DecisionRule rule, Progress progress) {
        return of(service, rule, progress, Optional.empty());
    }

    /** The same, with someone who looks at each meter. */
    public static ServiceRecord of(
            ServiceFile service, DecisionRule rule, Progress progress, Optional<ServiceMeasurements.Watcher> watcher) {
        ServiceRecord record = new ServiceRecord(service, rule);
        ServiceMeasurements measurements = new ServiceMeasurements(service.recordings(), progress, watcher);
        for (Recorded recorded : service.recordings()) {
            record.measured.add(record.judge.judged(recorded, measurements.of(recorded)));
        }
        return record;
    }

    /** Every recording, once for each step that it serves, in the order of the file. */
    List<Measured> measured() {
        return List.copyOf(measured);
    }

    /** Whether a recording counts: no later one has taken its place, and no repair has made it due again. */
    boolean counts(Measured one) {
        return repairSince(one.recorded()).isEmpty()
                && latest(one.recorded().step(), one.recorded().stage()).contains(one);
    }

    /** Figures that several recordings of a step make together, with their decisions. */
    public record Combined(CombinedFigures figures, List<Decision> decisions) {}

    /** What the recordings of a step say together, as of the bias or of a companding noise reduction. */
    public Combined combined(ServiceStep step, Stage stage) {
        List<Measured> counting =
                latest(step, stage).stream().filter(this::counts).toList();
        CombinedFigures figures =
                CombinedFigures.of(service, step, sinceRepair(step, stage).toList(), counting);
        List<Decision> decisions = counting.isEmpty()
                ? List.of()
                : judge.decisions(step, figures.measurement(), counting.get(0).budgets());
        return new Combined(figures, decisions);
    }

    /** Every step that the machine needs, at a stage. */
    public List<Standing> standings(Stage stage) {
        return service.steps().stream().map(step -> standing(step, stage)).toList();
    }

    private Standing standing(ServiceStep step, Stage stage) {
        List<Finding> findings = new ArrayList<>();
        Optional<Repair> repair = stage == Stage.AFTER ? repairSince(step) : Optional.empty();
        if (repair.isPresent()) {
            findings.add(dueAgain("", repair.get()));
            return Standing.of(step, stage, findings);
        }
        List<Measured> latest = latest(step, stage);
        for (Measured one : latest) {
            Optional<Repair> later = repairSince(one.recorded());
            if (later.isPresent()) {
                findings.add(dueAgain(one.recorded().where() + " ", later.get()));
                continue;
            }
            one.doubts().forEach(doubt -> findings.add(new Finding(Optional.of(Verdict.UNDECIDED), doubt)));
            one.told().forEach(line -> findings.add(new Finding(Optional.empty(), line)));
            addDecisions(one.decisions(), place(one.recorded().where()), findings);
        }
        Combined combined = combined(step, stage);
        combined.figures().notes().forEach(note -> findings.add(new Finding(Optional.empty(), note)));
        addDecisions(combined.decisions(), "", findings);
        boolean judged = !combined.decisions().isEmpty()
                || latest.stream().anyMatch(one -> !one.decisions().isEmpty());
        if (!latest.isEmpty() && !judged) {
            undecidable(findings).ifPresent(why -> findings.add(new Finding(Optional.of(Verdict.UNDECIDED), why)));
        }
        hand.latest(step, stage).forEach(entered -> findings.add(finding(entered)));
        return Standing.of(step, stage, findings);
    }

    /** Why recordings that were held against no limit decide nothing. */
    private Optional<String> undecidable(List<Finding> findings) {
        if (service.limits().limits().isEmpty()) {
            return Optional.of("the service file names no limit, so nothing can be decided");
        }
        return findings.stream().allMatch(finding -> finding.verdict().isEmpty())
                ? Optional.of("no limit of the machine is for what this step reads")
                : Optional.empty();
    }

    private Finding finding(Entered entered) {
        Optional<Repair> repair = hand.repairSince(entered);
        if (repair.isPresent()) {
            return dueAgain(entered.name() + place(entered.where()) + " ", repair.get());
        }
        String what =
                entered.value().isPresent() ? " " + entered.value().getAsDouble() + " " + entered.unit() : ": done";
        return new Finding(
                Optional.of(entered.isKept() ? Verdict.PASS : Verdict.FAIL),
                entered.name() + what + place(entered.where()));
    }

    private static Finding dueAgain(String what, Repair repair) {
        return new Finding(
                Optional.of(Verdict.UNDECIDED),
                what + "due again: " + repair.kind().id() + " repaired on "
                        + repair.moment().date() + " (" + repair.what() + ")");
    }

    /** Whether what was read by hand counts. */
    boolean counts(Entered entered) {
        return hand.counts(entered);
    }

    private static String place(String where) {
        return where.isEmpty() ? "" : " (" + where + ")";
    }

    private static void addDecisions(List<Decision> decisions, String place, List<Finding> findings) {
        for (Decision decision : decisions) {
            findings.add(new Finding(
                    Optional.of(decision.verdict()),
                    AssessmentTable.line(decision).replaceAll(" +", " ") + place));
            correction(decision).ifPresent(line -> findings.add(new Finding(Optional.empty(), line)));
        }
    }

    /** The last repair that makes a step due, where nothing was recorded or entered for it since. */
    private Optional<Repair> repairSince(ServiceStep step) {
        return service.repairs().stream()
                .filter(repair -> repair.kind().makesDue(step))
                .filter(repair -> Stream.concat(
                                service.recordings().stream()
                                        .filter(one -> one.step() == step)
                                        .map(Recorded::moment),
                                service.entered().stream()
                                        .filter(one -> one.step() == step)
                                        .map(Entered::moment))
                        .allMatch((Moment moment) -> moment.isBefore(repair.moment())))
                .reduce((first, last) -> last);
    }

    /** How far and which way a trimmer has to move a reading that does not keep a limit on both sides. */
    private static Optional<String> correction(Decision decision) {
        OptionalDouble lower = decision.limit().lower();
        OptionalDouble upper = decision.limit().upper();
        OptionalDouble value = decision.reading().value();
        if (decision.verdict() == Verdict.PASS || lower.isEmpty() || upper.isEmpty() || value.isEmpty()) {
            return Optional.empty();
        }
        double middle = (lower.getAsDouble() + upper.getAsDouble()) / 2;
        double change = middle - value.getAsDouble();
        double enough = (upper.getAsDouble() - lower.getAsDouble()) / 2
                - decision.guardBand().orElse(0);
        String unit = decision.limit().unit().symbol();
        return Optional.of(String.format(
                Locale.ROOT,
                "it is to %s by %.3g %s; %s",
                change > 0 ? "rise" : "fall",
                Math.abs(change),
                unit,
                enough > 0
                        ? String.format(
                                Locale.ROOT,
                                "good enough within %.3g %s of %s %s",
                                enough,
                                unit,
                                Double.toString(middle),
                                unit)
                        : "its uncertainty is larger than the limit: a better test tape or converter comes first"));
    }

    private static int severity(Verdict verdict) {
        return switch (verdict) {
            case PASS -> 0;
            case CONDITIONAL_PASS -> 1;
            case UNDECIDED -> 2;
            case CONDITIONAL_FAIL -> 3;
            case FAIL -> 4;
        };
    }

    private Stream<Measured> all(ServiceStep step, Stage stage) {
        return measured.stream()
                .filter(one -> one.recorded().step() == step && one.recorded().stage() == stage);
    }

    private Stream<Measured> sinceRepair(ServiceStep step, Stage stage) {
        return all(step, stage).filter(one -> repairSince(one.recorded()).isEmpty());
    }

    private Optional<Repair> repairSince(Recorded recorded) {
        return service.repairSince(recorded.step(), recorded.stage(), recorded.moment());
    }

    /** The last recording of each place; the order of the file decides within a day. */
    private List<Measured> latest(ServiceStep step, Stage stage) {
        Map<String, Measured> latest = new LinkedHashMap<>();
        all(step, stage).forEach(one -> {
            Recorded recorded = one.recorded();
            Measured before = latest.get(recorded.place());
            if (before == null || !recorded.moment().isBefore(before.recorded().moment())) {
                latest.put(recorded.place(), one);
            }
        });
        return List.copyOf(latest.values());
    }

    /** The first step in the trade's order that is not passed; what stands after the repair counts, else before it. */
    public Optional<Standing> next() {
        Map<ServiceStep, Standing> now = new EnumMap<>(ServiceStep.class);
        standings(Stage.BEFORE).forEach(standing -> now.put(standing.step(), standing));
        standings(Stage.AFTER).stream()
                .filter(standing -> standing.verdict().isPresent())
                .forEach(standing -> now.put(standing.step(), standing));
        return now.values().stream()
                .filter(standing -> standing.verdict().orElse(Verdict.UNDECIDED) != Verdict.PASS)
                .findFirst();
    }
}
