/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.io.IOException;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.Advice;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.flutter.FlutterSeries;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.transport.Transport;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.examples.files.Failures;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.recording.Recording;
import org.tapemetrology.examples.report.Report;
import org.tapemetrology.examples.report.Report.Budgeted;
import org.tapemetrology.examples.report.Report.Curves;
import org.tapemetrology.examples.report.Report.Failure;
import org.tapemetrology.examples.report.Report.HandReading;
import org.tapemetrology.examples.report.Report.Judgement;
import org.tapemetrology.examples.report.Report.Outcome;
import org.tapemetrology.examples.report.Report.Problem;
import org.tapemetrology.examples.report.Report.Source;
import org.tapemetrology.examples.report.Report.Stage;
import org.tapemetrology.examples.report.Report.Strip;
import org.tapemetrology.examples.report.Report.StripPoint;
import org.tapemetrology.examples.report.Words;
import org.tapemetrology.examples.service.ServiceFile.Entered;
import org.tapemetrology.examples.service.ServiceFile.Recorded;
import org.tapemetrology.examples.service.ServiceRecord.Measured;
import org.tapemetrology.examples.service.ServiceRecord.Standing;

/**
 * Makes a report of a service file: the only place where the two touch. What is wrong in the file, and what makes a recording
 * doubtful, become problems of the report, and the rest is reported. A step that a problem touches is never passed.
 */
public final class ServiceReport {
    /** What tells one measurement of a file from another one. */
    private record Sound(Path wav, Setup setup) {
        static Sound of(Recorded recorded) {
            return new Sound(recorded.wav(), recorded.setup());
        }
    }

    private final SalvagedService salvaged;
    private final ServiceFile service;
    private final ServiceRecord record;
    private final Optional<Transport> transport;
    private final Map<Sound, Curves> curves = new ConcurrentHashMap<>();
    private final List<Problem> problems = new ArrayList<>();
    private final Set<String> doubtful;

    private ServiceReport(
            SalvagedService salvaged,
            ServiceFile service,
            Optional<Transport> transport,
            DecisionRule rule,
            Progress progress) {
        this.salvaged = salvaged;
        this.service = service;
        this.transport = transport.or(service::transport);
        this.doubtful = new HashSet<>(salvaged.doubtful());
        this.problems.addAll(salvaged.problems());
        this.record = ServiceRecord.of(service, rule, progress, Optional.of(this::watch));
    }

    /** The report of a service file on a day; parts that are given here stand in for those of the file. */
    public static Report of(
            Path file, LocalDate made, Optional<Transport> transport, DecisionRule rule, Progress progress) {
        SalvagedService salvaged;
        try {
            salvaged = SalvagedService.read(file);
        } catch (IOException unreadable) {
            salvaged = new SalvagedService(
                    SalvagedService.NAMELESS,
                    Optional.empty(),
                    List.of(new Problem(file.toString(), Failures.message(unreadable))),
                    List.of(),
                    Set.of());
        }
        if (salvaged.service().isEmpty()) {
            return new Report(
                    salvaged.machine(),
                    made,
                    List.of(),
                    List.of(),
                    List.of(),
                    List.of(),
                    List.of(),
                    salvaged.problems(),
                    List.of("A service file that can be read: everything else follows from it."));
        }
        return new ServiceReport(salvaged, salvaged.service().get(), transport, rule, progress).report(made);
    }

    /** What the meter of a recording knows beside its readings; called from several threads. */
    private void watch(Path wav, Setup setup, Recording.Measured found) throws IOException {
        Sound sound = new Sound(wav, setup);
        List<ServiceStep> steps = service.recordings().stream()
                .filter(recorded -> Sound.of(recorded).equals(sound))
                .map(Recorded::step)
                .toList();
        List<Strip> levels =
                steps.stream().anyMatch(step -> step.judges(Quantity.LEVEL) || step.judges(Quantity.AZIMUTH_DELAY))
                        ? LevelTrace.of(wav)
                        : List.of();
        boolean ofFlutter = steps.contains(ServiceStep.FLUTTER);
        Curves made = new Curves(Optional.empty(), levels, Optional.empty());
        for (int channel = 1;
                (ofFlutter || steps.contains(ServiceStep.SPEED))
                        && channel <= found.meter().channels();
                channel++) {
            Optional<Reading> speed = found.result().measurement().find(Quantity.SPEED_ERROR, channel);
            Optional<DeviationSeries> deviation = found.meter().deviation(channel);
            if (speed.isPresent() && speed.get().isValid() && deviation.isPresent()) {
                double ratio = 1 + speed.get().value().orElseThrow() / 100;
                int number = channel;
                made = new Curves(
                        found.meter().series(channel).flatMap(series -> strip(number, series)),
                        levels,
                        ofFlutter
                                ? SpectrumOfRecording.of(channel, deviation.get(), transport, ratio)
                                : Optional.empty());
                break; // the tape moves past all tracks alike
            }
        }
        curves.put(sound, made);
    }

    private static Optional<Strip> strip(int channel, FlutterSeries series) {
        double[] seconds = series.seconds();
        double[] low = series.speedLowPercent();
        double[] mean = series.speedPercent();
        double[] high = series.speedHighPercent();
        List<StripPoint> points = new ArrayList<>();
        for (int i = 0; i < seconds.length; i++) {
            points.add(new StripPoint(seconds[i], low[i], mean[i], high[i]));
        }
        return points.size() < 2 ? Optional.empty() : Optional.of(new Strip(channel, series.intervalSeconds(), points));
    }

    private Report report(LocalDate made) {
        List<Report.Recorded> recordings = new ArrayList<>();
        List<Measured> all = record.measured();
        for (int i = 0; i < all.size(); i++) {
            recordings.add(recorded(salvaged.recordingNumbers().get(i), all.get(i)));
        }
        problems.addAll(doubts(recordings));
        List<Report.Combined> combined = new ArrayList<>();
        for (Stage stage : Stage.values()) {
            for (ServiceStep step : service.steps()) {
                combined(step, stage).ifPresent(combined::add);
            }
        }
        List<HandReading> hand =
                service.entered().stream().map(this::handReading).toList();
        // Both speak of the steps that the machine needs, in the same order.
        List<Standing> before = record.standings(Stage.BEFORE);
        List<Standing> after = record.standings(Stage.AFTER);
        List<Report.Step> steps = new ArrayList<>();
        for (int i = 0; i < before.size(); i++) {
            steps.add(new Report.Step(
                    before.get(i).step(),
                    outcome(before.get(i), recordings, combined, hand),
                    outcome(after.get(i), recordings, combined, hand)));
        }
        return new Report(
                service.machine(),
                made,
                new ServiceFacts(service).groups(),
                steps,
                hand,
                recordings,
                combined,
                problems,
                missing(steps, recordings, combined));
    }

    private Optional<Report.Combined> combined(ServiceStep step, Stage stage) {
        ServiceRecord.Combined found = record.combined(step, stage);
        return found.figures().readings().isEmpty()
                        && found.figures().notes().isEmpty()
                        && found.decisions().isEmpty()
                ? Optional.empty()
                : Optional.of(new Report.Combined(
                        step,
                        stage,
                        found.figures().readings(),
                        found.decisions().stream()
                                .map(decision -> new Judgement(
                                        decision, isDecided(decision) ? List.of() : List.of(decision.reason())))
                                .toList(),
                        found.figures().notes()));
    }

    /** What makes recordings doubtful, told once for all the steps that it concerns. */
    private static List<Problem> doubts(List<Report.Recorded> recordings) {
        Map<Problem, List<String>> steps = new LinkedHashMap<>();
        for (Report.Recorded recorded : recordings) {
            for (String doubt : recorded.doubts()) {
                Problem problem = new Problem(
                        "recordings[" + (recorded.number() - 1) + "], %s, "
                                + recorded.stage().id(),
                        doubt);
                steps.computeIfAbsent(problem, p -> new ArrayList<>())
                        .add(recorded.step().id());
            }
        }
        return steps.entrySet().stream()
                .map(e -> new Problem(
                        e.getKey().where().replace("%s", String.join(" and ", e.getValue())),
                        e.getKey().message()))
                .toList();
    }

    private Report.Recorded recorded(int number, Measured measured) {
        Recorded recorded = measured.recorded();
        Recording.Result result = measured.result();
        Stage stage = recorded.stage();
        List<Budgeted> budgets = new ArrayList<>();
        for (Measurement part : measured.measurements()) {
            for (Reading reading : part.readings()) {
                if (reading.isValid()) {
                    measured.budgets()
                            .budget(reading, part)
                            .ifPresent(budget -> budgets.add(new Budgeted(reading, budget)));
                }
            }
        }
        return new Report.Recorded(
                number,
                recorded.step(),
                stage,
                recorded.date(),
                recorded.where(),
                tape(recorded),
                new Source(result.file(), result.sampleRateHz(), result.channels(), result.durationSeconds()),
                record.counts(measured),
                measured.doubts(),
                result.measurement(),
                measured.parts().stream()
                        .flatMap(part ->
                                Collections.nCopies(
                                        part.measurement().readings().size(),
                                        part.step().name())
                                        .stream())
                        .toList(),
                result.error().map(e -> new Failure(e.code(), e.message())),
                measured.decisions().stream()
                        .map(decision -> new Judgement(decision, advice(decision, budgets)))
                        .toList(),
                budgets,
                recorded.contents().programme().isPresent()
                        ? Curves.NONE
                        : curves.getOrDefault(Sound.of(recorded), Curves.NONE));
    }

    private static String tape(Recorded recorded) {
        TestTape tape = recorded.setup().testTape();
        return tape.equals(TestTape.assumed()) ? "" : tape.name();
    }

    private static String key(ServiceStep step, Stage stage) {
        return step.id() + " " + stage.id();
    }

    private static boolean isDecided(Decision decision) {
        return decision.verdict() == Verdict.PASS || decision.verdict() == Verdict.FAIL;
    }

    private static List<String> advice(Decision decision, List<Budgeted> budgets) {
        if (isDecided(decision)) {
            return List.of();
        }
        return budgets.stream()
                .filter(budgeted -> budgeted.reading().equals(decision.reading()))
                .findFirst()
                .map(budgeted -> Advice.on(decision, budgeted.budget()).sentences())
                .orElse(List.of(decision.reason()));
    }

    private HandReading handReading(Entered entered) {
        boolean judged = entered.value().isEmpty()
                || entered.lower().isPresent()
                || entered.upper().isPresent();
        return new HandReading(
                entered.step(),
                entered.stage(),
                entered.date(),
                entered.where(),
                record.counts(entered),
                entered.name(),
                entered.value(),
                entered.unit(),
                entered.lower(),
                entered.upper(),
                judged ? Optional.of(entered.isKept() ? Verdict.PASS : Verdict.FAIL) : Optional.empty());
    }

    /** What the service says of a step, and what decided it; an entry that was left out leaves it undecided at best. */
    private Optional<Outcome> outcome(
            Standing standing,
            List<Report.Recorded> recordings,
            List<Report.Combined> combined,
            List<HandReading> hand) {
        Stage stage = standing.stage();
        Optional<Outcome> left = doubtful.contains(key(standing.step(), stage))
                ? Optional.of(new Outcome(Verdict.UNDECIDED, "an entry is wrong: see the problems under Result", ""))
                : Optional.empty();
        Optional<Outcome> said = standing.verdict()
                .map(verdict -> candidates(standing.step(), stage, recordings, combined, hand)
                        .filter(candidate -> candidate.verdict() == verdict)
                        .findFirst()
                        .orElseGet(() -> new Outcome(verdict, String.join("; ", standing.deciding()), "")));
        return Stream.concat(said.stream(), left.stream())
                .max(Comparator.comparing(Outcome::verdict, Report.gravity()));
    }

    /** What can have decided a step. */
    private static Stream<Outcome> candidates(
            ServiceStep step,
            Stage stage,
            List<Report.Recorded> recordings,
            List<Report.Combined> combined,
            List<HandReading> hand) {
        List<Report.Recorded> counting = recordings.stream()
                .filter(r -> r.step() == step && r.stage() == stage && r.counts())
                .toList();
        Stream<Outcome> doubts = counting.stream()
                .flatMap(r -> r.doubts().stream().map(doubt -> new Outcome(Verdict.UNDECIDED, doubt, r.place())));
        Stream<Map.Entry<Decision, String>> single =
                counting.stream().flatMap(r -> r.judgements().stream().map(j -> Map.entry(j.decision(), r.place())));
        Stream<Map.Entry<Decision, String>> together = combined.stream()
                .filter(c -> c.step() == step && c.stage() == stage)
                .flatMap(c -> c.judgements().stream().map(j -> Map.entry(j.decision(), "several recordings")));
        Stream<Outcome> decided = Stream.concat(single, together)
                .sorted(Map.Entry.comparingByKey(Report.worstFirst()))
                .map(each -> new Outcome(each.getKey().verdict(), Words.deciding(each.getKey()), each.getValue()));
        // A figure without a limit can't break it, as the service has it.
        Stream<Outcome> byHand = hand.stream()
                .filter(reading -> reading.step() == step && reading.stage() == stage && reading.counts())
                .map(reading -> new Outcome(reading.verdict().orElse(Verdict.PASS), entered(reading), reading.place()));
        return Stream.of(doubts, decided, byHand).flatMap(each -> each);
    }

    private static String entered(HandReading reading) {
        return reading.value().isPresent()
                ? reading.name() + " " + Words.entered(reading.value().getAsDouble()) + " " + reading.unit()
                : reading.name() + ": done";
    }

    private List<String> missing(
            List<Report.Step> steps, List<Report.Recorded> recordings, List<Report.Combined> combined) {
        List<String> missing = new ArrayList<>();
        missingSteps("before", steps.stream().filter(s -> s.before().isEmpty())).ifPresent(missing::add);
        missingSteps("after", steps.stream().filter(s -> s.after().isEmpty())).ifPresent(missing::add);
        List<Decision> decisions = Stream.concat(
                        recordings.stream().flatMap(r -> r.judgements().stream()),
                        combined.stream().flatMap(c -> c.judgements().stream()))
                .map(Judgement::decision)
                .toList();
        for (Limit limit : service.limits().limits()) {
            boolean used = decisions.stream()
                    .anyMatch(d -> d.limit().equals(limit) && d.reading().isValid());
            if (!used) {
                missing.add("A reading of " + Words.subject(limit) + ", for which the machine has a limit.");
            }
        }
        String unjudged = recordings.stream()
                .filter(r ->
                        r.counts() && r.judgements().isEmpty() && r.doubts().isEmpty())
                .map(Report.Recorded::step)
                .filter(step -> combined.stream()
                        .noneMatch(c -> c.step() == step && !c.judgements().isEmpty()))
                .map(ServiceStep::id)
                .distinct()
                .collect(Collectors.joining(", "));
        if (!unjudged.isEmpty()) {
            missing.add("A limit for what was recorded of: " + unjudged + ".");
        }
        String assumed = recordings.stream()
                .filter(Report.Recorded::counts)
                .flatMap(r -> r.judgements().stream())
                .map(j -> j.decision().reading())
                .filter(r -> r.uncertainty().map(u -> u.assumed()).orElse(false))
                .map(r -> r.quantity().id())
                .distinct()
                .collect(Collectors.joining(", "));
        if (!assumed.isEmpty()) {
            missing.add("A certificate of test tape or converter: assumed values stand in the uncertainty of " + assumed
                    + ".");
        }
        if (transport.isEmpty()
                && recordings.stream().anyMatch(r -> r.curves().spectrum().isPresent())) {
            missing.add("The parts of the transport: without them the components of the flutter have no names.");
        }
        return missing;
    }

    private static Optional<String> missingSteps(String stage, Stream<Report.Step> steps) {
        String names = steps.map(s -> s.step().id()).collect(Collectors.joining(", "));
        return names.isEmpty()
                ? Optional.empty()
                : Optional.of("Anything recorded or entered " + stage + " the repair of: " + names + ".");
    }
}
