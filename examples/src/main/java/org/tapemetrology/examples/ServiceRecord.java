/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.Content;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.core.conformity.LimitSet;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.examples.ServiceFile.Recorded;
import org.tapemetrology.examples.ServiceFile.Stage;

/**
 * What the recordings of a service say: every step before and after, judged by the limits of the machine. Of several
 * recordings of a step (start, middle and end of the tape, directions, speeds) the worst counts; of those of the same place
 * the last one. A recording that cannot be measured leaves the others as they are.
 */
final class ServiceRecord {
    /** A recording with what it says. */
    record Measured(Recorded recorded, Recording.Result result, List<Decision> decisions) {}

    /** What a step says at one stage; the verdict is empty where nothing was recorded or entered. */
    record Standing(ServiceStep step, Stage stage, Optional<Verdict> verdict, List<String> why) {}

    /** Is told of every recording while the meter that measured it is at hand, with the deviation of the tone kept. */
    interface Watcher {
        void measured(Recorded recorded, Recording.Measured found) throws IOException;
    }

    private final ServiceFile service;
    private final List<Measured> measured = new ArrayList<>();

    private ServiceRecord(ServiceFile service) {
        this.service = service;
    }

    static ServiceRecord of(ServiceFile service, DecisionRule rule, Progress progress) {
        return of(service, rule, progress, Optional.empty());
    }

    /** The same, with someone who looks at each meter. */
    static ServiceRecord of(ServiceFile service, DecisionRule rule, Progress progress, Optional<Watcher> watcher) {
        ServiceRecord record = new ServiceRecord(service);
        for (Recorded recorded : service.recordings()) {
            record.measured.add(record.measure(recorded, rule, progress, watcher));
        }
        return record;
    }

    private Measured measure(Recorded recorded, DecisionRule rule, Progress progress, Optional<Watcher> watcher) {
        String file = recorded.wav().toString();
        Content content = recorded.step() == ServiceStep.NOISE ? Content.NOISE : Content.AUTOMATIC;
        MeterSettings settings =
                new MeterSettings(content, OptionalDouble.empty(), recorded.setup(), List.of(), watcher.isPresent());
        try {
            Recording.Measured found = new Recording(file, 0, Double.POSITIVE_INFINITY).measured(settings, progress);
            if (watcher.isPresent()) {
                watcher.get().measured(recorded, found);
            }
            LimitSet limits = new LimitSet(
                    service.limits().name(),
                    service.limits().limits().stream()
                            .filter(limit -> recorded.step().judges(limit.quantity()))
                            .toList());
            return new Measured(
                    recorded,
                    found.result(),
                    limits.decide(
                            found.result().measurement(), rule, found.meter().budgets()));
        } catch (IOException | IllegalArgumentException unreadable) {
            return new Measured(recorded, Recording.Result.failed(file, unreadable), List.of());
        }
    }

    List<Measured> measured() {
        return List.copyOf(measured);
    }

    /** Every step that the machine needs, at a stage. */
    List<Standing> standings(Stage stage) {
        return ServiceStep.of(service.heads(), service.channels()).stream()
                .map(step -> standing(step, stage))
                .toList();
    }

    private Standing standing(ServiceStep step, Stage stage) {
        List<Verdict> verdicts = new ArrayList<>();
        List<String> why = new ArrayList<>();
        for (Measured one : latest(step, stage)) {
            String place = one.recorded().where().isEmpty()
                    ? ""
                    : " (" + one.recorded().where() + ")";
            if (one.result().error().isPresent()) {
                verdicts.add(Verdict.UNDECIDED);
                why.add(one.result().error().get().message());
            }
            for (Decision decision : one.decisions()) {
                verdicts.add(decision.verdict());
                why.add(AssessmentTable.line(decision).replaceAll(" +", " ") + place);
                correction(decision).ifPresent(why::add);
            }
            if (one.result().error().isEmpty() && one.decisions().isEmpty()) {
                verdicts.add(Verdict.UNDECIDED);
                why.add("no limit of the machine is for what this step reads" + place);
            }
        }
        for (ServiceFile.Entered entered : service.entered()) {
            if (entered.step() == step && entered.stage() == stage) {
                verdicts.add(entered.isKept() ? Verdict.PASS : Verdict.FAIL);
                why.add(entered.name()
                        + (entered.value().isPresent()
                                ? " " + entered.value().getAsDouble() + " " + entered.unit()
                                : ": done"));
            }
        }
        return new Standing(step, stage, verdicts.stream().max(Comparator.comparingInt(ServiceRecord::severity)), why);
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

    /** The last recording of each place; the order of the file decides within a day. */
    List<Measured> latest(ServiceStep step, Stage stage) {
        Map<String, Measured> latest = new LinkedHashMap<>();
        for (Measured one : measured) {
            Recorded recorded = one.recorded();
            if (recorded.step() == step && recorded.stage() == stage) {
                Measured before = latest.get(recorded.where());
                if (before == null
                        || !recorded.date().isBefore(before.recorded().date())) {
                    latest.put(recorded.where(), one);
                }
            }
        }
        return List.copyOf(latest.values());
    }

    /** The first step in the trade's order that is not passed; what stands after the repair counts, else before it. */
    Optional<Standing> next() {
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
