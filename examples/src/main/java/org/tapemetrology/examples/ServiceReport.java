/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.tapemetrology.core.Content;
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
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.transport.Transport;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.examples.ServiceFile.Entered;
import org.tapemetrology.examples.ServiceFile.Recorded;
import org.tapemetrology.examples.ServiceRecord.Measured;
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

/**
 * Makes a report of a service file: the only place where the two touch. What is wrong in the file, what can't be read, a wrong
 * tape and a recording of one channel where the machine has two become problems of the report, and the rest is reported.
 * A step that a problem touches is never passed.
 */
final class ServiceReport {
    /** A tone further off than this is that of another tape; it is also how far a carrier is recognised. */
    private static final double SAME_TONE = 0.15;

    private final SalvagedService salvaged;
    private final ServiceFile service;
    private final ServiceRecord record;
    private final Optional<Transport> transport;
    private final Map<Recorded, Curves> curves = new HashMap<>();
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
        this.transport = transport;
        this.doubtful = new HashSet<>(salvaged.doubtful());
        this.problems.addAll(salvaged.problems());
        this.record = ServiceRecord.of(service, rule, progress, Optional.of(this::watch));
    }

    /** The report of a service file on a day. */
    static Report of(Path file, LocalDate made, Optional<Transport> transport, DecisionRule rule, Progress progress) {
        SalvagedService salvaged;
        try {
            salvaged = SalvagedService.read(file);
        } catch (IOException unreadable) {
            salvaged = new SalvagedService(
                    SalvagedService.NAMELESS,
                    Optional.empty(),
                    List.of(new Problem(file.toString(), Workbench.message(unreadable))),
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
                    salvaged.problems(),
                    List.of("A service file that can be read: everything else follows from it."));
        }
        return new ServiceReport(salvaged, salvaged.service().get(), transport, rule, progress).report(made);
    }

    /** What the meter of a recording knows beside its readings. */
    private void watch(Recorded recorded, Recording.Measured found) throws IOException {
        boolean ofSpeed = recorded.step() == ServiceStep.SPEED || recorded.step() == ServiceStep.FLUTTER;
        List<Strip> levels =
                recorded.step().judges(Quantity.LEVEL) || recorded.step().judges(Quantity.AZIMUTH_DELAY)
                        ? LevelTrace.of(recorded.wav())
                        : List.of();
        Curves made = new Curves(Optional.empty(), levels, Optional.empty());
        for (int channel = 1; ofSpeed && channel <= found.meter().channels(); channel++) {
            Optional<Reading> speed = found.result().measurement().find(Quantity.SPEED_ERROR, channel);
            Optional<DeviationSeries> deviation = found.meter().deviation(channel);
            if (speed.isPresent() && speed.get().isValid() && deviation.isPresent()) {
                double ratio = 1 + speed.get().value().orElseThrow() / 100;
                int number = channel;
                made = new Curves(
                        found.meter().series(channel).flatMap(series -> strip(number, series)),
                        levels,
                        recorded.step() == ServiceStep.FLUTTER
                                ? SpectrumOfRecording.of(channel, deviation.get(), transport, ratio)
                                : Optional.empty());
                break; // the tape moves past all tracks alike
            }
        }
        curves.put(recorded, made);
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
        List<HandReading> hand =
                service.entered().stream().map(ServiceReport::handReading).toList();
        List<Report.Step> steps = ServiceStep.of(service.heads(), service.channels()).stream()
                .map(step -> new Report.Step(
                        step,
                        outcome(step, Stage.BEFORE, recordings, hand),
                        outcome(step, Stage.AFTER, recordings, hand)))
                .toList();
        return new Report(
                service.machine(),
                made,
                new ServiceFacts(service).groups(),
                steps,
                hand,
                recordings,
                problems,
                missing(steps, recordings));
    }

    private Report.Recorded recorded(int number, Measured measured) {
        Recorded recorded = measured.recorded();
        Recording.Result result = measured.result();
        Stage stage = stage(recorded.stage());
        boolean counts = record.latest(recorded.step(), recorded.stage()).contains(measured);
        String where = "recordings[" + (number - 1) + "], " + recorded.step().id() + ", " + stage.id();
        result.error().ifPresent(e -> problems.add(new Problem(where, e.message())));
        Optional<String> doubt = doubt(recorded, result);
        doubt.ifPresent(what -> problems.add(new Problem(where, recorded.wav() + ": " + what)));
        shortcoming(result).ifPresent(what -> {
            problems.add(new Problem(where, recorded.wav() + ": " + what));
            doubtful.add(key(recorded.step(), stage));
        });
        ReadingBudgets budgets =
                new ReadingBudgets(recorded.setup().testTape(), recorded.setup().converter());
        Measurement measurement = result.measurement();
        return new Report.Recorded(
                number,
                recorded.step(),
                stage,
                recorded.date(),
                recorded.where(),
                tape(recorded),
                new Source(result.file(), result.sampleRateHz(), result.channels(), result.durationSeconds()),
                counts,
                doubt,
                measurement,
                result.error().map(e -> new Failure(e.code(), e.message())),
                doubt.isPresent()
                        ? List.of()
                        : measured.decisions().stream()
                                .map(decision -> new Judgement(decision, advice(decision, measurement, budgets)))
                                .toList(),
                measurement.readings().stream()
                        .filter(Reading::isValid)
                        .flatMap(reading ->
                                budgets
                                        .budget(reading, measurement)
                                        .map(budget -> new Budgeted(reading, budget))
                                        .stream())
                        .toList(),
                curves.getOrDefault(recorded, Curves.NONE));
    }

    private static String tape(Recorded recorded) {
        TestTape tape = recorded.setup().testTape();
        return tape.equals(TestTape.assumed()) ? "" : tape.name();
    }

    private static Stage stage(ServiceFile.Stage stage) {
        return stage == ServiceFile.Stage.BEFORE ? Stage.BEFORE : Stage.AFTER;
    }

    private static String key(ServiceStep step, Stage stage) {
        return step.id() + " " + stage.id();
    }

    /** Why a recording is none of what its entry says: then none of its figures is judged. */
    private static Optional<String> doubt(Recorded recorded, Recording.Result result) {
        boolean needsTone = recorded.step().needsReferenceTape() && recorded.step() != ServiceStep.REPLAY_RESPONSE;
        if (!needsTone || result.error().isPresent()) {
            return Optional.empty();
        }
        List<Double> tones = tones(result);
        if (recorded.setup().toneHz().isEmpty()) {
            return tones.isEmpty() ? Optional.of("no test tone was found; is it the right tape?") : Optional.empty();
        }
        double nominal = recorded.setup().toneHz().getAsDouble();
        String expected = String.format(
                Locale.ROOT, "that of %s, %.1f Hz", recorded.setup().testTape().name(), nominal);
        Optional<Double> other = (tones.isEmpty() ? tonesOfAnyFrequency(recorded) : tones)
                .stream()
                        .filter(tone -> Math.abs(tone / nominal - 1) > SAME_TONE)
                        .findFirst();
        if (other.isPresent()) {
            return Optional.of(String.format(
                    Locale.ROOT,
                    "its tone of %.1f Hz is not %s: a wrong tape, or a wrong section of it; its figures are not judged",
                    other.get(),
                    expected));
        }
        return tones.isEmpty()
                ? Optional.of("no test tone was found, least of all " + expected + ": is it the right tape?")
                : Optional.empty();
    }

    private static List<Double> tones(Recording.Result result) {
        return result.measurement().readings().stream()
                .filter(reading -> reading.quantity() == Quantity.TONE_FREQUENCY && reading.isValid())
                .map(reading -> reading.value().orElseThrow())
                .toList();
    }

    /** A tone far from the one expected is not even looked for: this looks once more, for any. */
    private static List<Double> tonesOfAnyFrequency(Recorded recorded) {
        MeterSettings any = new MeterSettings(Content.AUTOMATIC, OptionalDouble.empty(), Setup.NONE, List.of(), false);
        try {
            return tones(new Recording(recorded.wav().toString(), 0, Double.POSITIVE_INFINITY)
                    .measure(any, Progress.none()));
        } catch (IOException | IllegalArgumentException unreadable) {
            return List.of(); // it could be read a moment ago; what it held then is told
        }
    }

    /** What a recording lacks while its figures stand. */
    private Optional<String> shortcoming(Recording.Result result) {
        if (result.error().isEmpty() && result.channels() < service.channels()) {
            return Optional.of(String.format(
                    Locale.ROOT,
                    "%d channel of a machine of %d: what lies between the channels, and the other channel, can't be read",
                    result.channels(),
                    service.channels()));
        }
        return result.measurement().warnings().stream()
                .filter(warning -> warning.code() == WarningCode.CHANNELS_SWAPPED)
                .map(Warning::message)
                .findFirst();
    }

    private static List<String> advice(Decision decision, Measurement measurement, ReadingBudgets budgets) {
        if (decision.verdict() == Verdict.PASS || decision.verdict() == Verdict.FAIL) {
            return List.of();
        }
        return budgets.budget(decision.reading(), measurement)
                .map(budget -> Advice.on(decision, budget).sentences())
                .orElse(List.of(decision.reason()));
    }

    private static HandReading handReading(Entered entered) {
        boolean judged = entered.value().isEmpty()
                || entered.lower().isPresent()
                || entered.upper().isPresent();
        return new HandReading(
                entered.step(),
                stage(entered.stage()),
                entered.date(),
                entered.name(),
                entered.value(),
                entered.unit(),
                entered.lower(),
                entered.upper(),
                judged ? Optional.of(entered.isKept() ? Verdict.PASS : Verdict.FAIL) : Optional.empty());
    }

    /** The worst of what was recorded and entered; what a problem touches is undecided at best. */
    private Optional<Outcome> outcome(
            ServiceStep step, Stage stage, List<Report.Recorded> recordings, List<HandReading> hand) {
        List<Outcome> found = new ArrayList<>();
        List<Report.Recorded> counting = recordings.stream()
                .filter(r -> r.step() == step && r.stage() == stage && r.counts())
                .toList();
        counting.forEach(recorded -> unjudged(recorded).ifPresent(found::add));
        counting.stream()
                .flatMap(r -> r.judgements().stream().map(j -> Map.entry(j.decision(), r)))
                .min(Map.Entry.comparingByKey(Report.worstFirst()))
                .ifPresent(worst -> found.add(new Outcome(
                        worst.getKey().verdict(),
                        Words.deciding(worst.getKey()),
                        worst.getValue().place())));
        for (HandReading reading : hand) {
            if (reading.step() == step && reading.stage() == stage) {
                // A figure without a limit can't break it, as the service has it.
                found.add(new Outcome(reading.verdict().orElse(Verdict.PASS), entered(reading), ""));
            }
        }
        if (doubtful.contains(key(step, stage))) {
            found.add(new Outcome(Verdict.UNDECIDED, "see the problems under Result", ""));
        }
        return found.stream().max(Comparator.comparing(Outcome::verdict, Report.gravity()));
    }

    /** The outcome of a recording that no verdict speaks of. */
    private static Optional<Outcome> unjudged(Report.Recorded recorded) {
        Optional<String> why = recorded.error()
                .map(Failure::message)
                .or(recorded::doubt)
                .or(() -> recorded.judgements().isEmpty()
                        ? Optional.of("no limit of the machine is for what this step reads")
                        : Optional.empty());
        return why.map(sentence -> new Outcome(Verdict.UNDECIDED, sentence, recorded.place()));
    }

    private static String entered(HandReading reading) {
        return reading.value().isPresent()
                ? reading.name() + " " + Words.entered(reading.value().getAsDouble()) + " " + reading.unit()
                : reading.name() + ": done";
    }

    private List<String> missing(List<Report.Step> steps, List<Report.Recorded> recordings) {
        List<String> missing = new ArrayList<>();
        missingSteps("before", steps.stream().filter(s -> s.before().isEmpty())).ifPresent(missing::add);
        missingSteps("after", steps.stream().filter(s -> s.after().isEmpty())).ifPresent(missing::add);
        for (Limit limit : service.limits().limits()) {
            boolean used = recordings.stream()
                    .flatMap(r -> r.judgements().stream())
                    .anyMatch(j -> j.decision().limit().equals(limit)
                            && j.decision().reading().isValid());
            if (!used) {
                missing.add("A reading of " + limit.quantity().id()
                        + (limit.atFrequencyHz().isPresent()
                                ? " at " + Words.entered(limit.atFrequencyHz().getAsDouble()) + " Hz"
                                : "")
                        + ", for which the machine has a limit.");
            }
        }
        String unjudged = recordings.stream()
                .filter(r -> r.counts()
                        && r.judgements().isEmpty()
                        && r.doubt().isEmpty()
                        && r.error().isEmpty())
                .map(r -> r.step().id())
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
