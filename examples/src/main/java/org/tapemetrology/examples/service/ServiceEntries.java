/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.io.IOException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.Step;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.examples.files.Failures;
import org.tapemetrology.examples.files.JsonFields;
import org.tapemetrology.examples.files.ProgrammeFile;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.report.Report.Stage;
import org.tapemetrology.examples.service.ServiceFile.Contents;
import org.tapemetrology.examples.service.ServiceFile.Entered;
import org.tapemetrology.examples.service.ServiceFile.Moment;
import org.tapemetrology.examples.service.ServiceFile.Recorded;
import org.tapemetrology.examples.service.ServiceFile.Repair;

/** Reads what was recorded, entered and repaired from a service file. */
public final class ServiceEntries {
    private static final double MOST = 1e9;
    private static final double HIGHEST_TONE_HZ = 82_560;

    private final Path folder;
    private final Setup machine;
    private final Map<String, Setup> tapes;
    private final Map<String, Programme> programmes = new LinkedHashMap<>();
    private final List<Recorded> recordings = new ArrayList<>();
    private final List<Entered> entered = new ArrayList<>();
    private final List<Repair> repairs = new ArrayList<>();

    ServiceEntries(Path service, JsonFields fields, Setup machine) throws IOException {
        Path parent = service.toAbsolutePath().getParent();
        this.folder = parent == null ? Path.of("") : parent;
        this.machine = machine;
        this.tapes = tapes(fields, machine);
        for (JsonFields each : fields.objects("recordings")) {
            addRecording(each);
            each.noOthers();
        }
        for (JsonFields each : fields.objects("entered")) {
            entered.add(entered(each));
            each.noOthers();
        }
        for (JsonFields each : fields.objects("repairs")) {
            repairs.add(repair(each));
            each.noOthers();
        }
    }

    List<Recorded> recordings() {
        return List.copyOf(recordings);
    }

    List<Entered> entered() {
        return List.copyOf(entered);
    }

    List<Repair> repairs() {
        return List.copyOf(repairs);
    }

    private static Map<String, Setup> tapes(JsonFields fields, Setup machine) {
        Map<String, Setup> tapes = new LinkedHashMap<>();
        for (JsonFields each : fields.objects("testTapes")) {
            String name = each.requiredText("name");
            if (tapes.put(name, machine.withTape(each)) != null) {
                throw each.wrong("name", "\"" + name + "\" is the name of another tape too");
            }
            each.noOthers();
        }
        return tapes;
    }

    private void addRecording(JsonFields fields) throws IOException {
        Setup setup = setup(fields);
        // What the machine recorded itself has no error of a test tape.
        boolean ofTape = fields.has("testTape");
        Stage stage = stage(fields);
        Moment moment = moment(fields);
        Path wav = folder.resolve(fields.requiredText("file"));
        Set<ServiceStep> steps = steps(fields);
        Optional<Programme> programme = programme(fields);
        Map<ServiceStep, List<String>> parts = parts(fields, steps, programme);
        Optional<Boolean> companding =
                word(fields, "companding", List.of("on", "off")).map(word -> word.equals("on"));
        for (ServiceStep step : steps) {
            List<String> own = parts.getOrDefault(step, List.of());
            boolean ofCompanding = step == ServiceStep.COMPANDING;
            if (ofCompanding && (companding.isEmpty() || programme.isEmpty())) {
                throw fields.wrong(
                        companding.isEmpty() ? "companding" : "programme",
                        "is missing: " + step.id() + " compares a programme with and without the noise reduction");
            }
            List<Double> biases = step == ServiceStep.BIAS ? biases(fields, own) : List.of();
            recordings.add(new Recorded(
                    step,
                    stage,
                    moment,
                    wav,
                    ofTape || step.needsReferenceTape() ? setup : setup.with(TestTape.none()),
                    where(fields),
                    new Contents(programme, own, ofCompanding ? companding : Optional.empty(), biases)));
        }
    }

    /** What tells entries of a step apart. */
    private static String where(JsonFields fields) {
        List<String> where = new ArrayList<>();
        word(fields, "position", List.of("start", "middle", "end")).ifPresent(where::add);
        word(fields, "direction", List.of("forward", "reverse")).ifPresent(where::add);
        fields.number("tapeSpeedMillimetresPerSecond", 1, 10_000).ifPresent(mm -> where.add(mm / 10 + " cm/s"));
        return String.join(", ", where);
    }

    private Setup setup(JsonFields fields) {
        Setup setup = machine;
        Optional<String> tape = fields.text("testTape");
        if (tape.isPresent()) {
            Setup known = tapes.get(tape.get());
            if (known == null) {
                throw fields.wrong("testTape", "\"" + tape.get() + "\" is none of " + tapes.keySet());
            }
            setup = known;
        }
        OptionalDouble speed = fields.number("tapeSpeedMillimetresPerSecond", 1, 10_000);
        if (speed.isPresent()) {
            setup = setup.withSpeed(speed.getAsDouble());
        }
        OptionalDouble tone = fields.number("nominalHz", 20, HIGHEST_TONE_HZ);
        return tone.isPresent() ? setup.withTone(tone.getAsDouble()) : setup;
    }

    private static Set<ServiceStep> steps(JsonFields fields) {
        Set<ServiceStep> steps = new LinkedHashSet<>();
        if (fields.has("steps")) {
            if (fields.has("step")) {
                throw fields.wrong("step", "does not go with steps");
            }
            List<String> ids = fields.texts("steps");
            for (int i = 0; i < ids.size(); i++) {
                steps.add(recordedStep(fields, "steps[" + i + "]", ids.get(i)));
            }
            if (steps.isEmpty()) {
                throw fields.wrong("steps", "names none");
            }
        } else {
            steps.add(recordedStep(fields, "step", fields.requiredText("step")));
        }
        return steps;
    }

    private static ServiceStep recordedStep(JsonFields fields, String name, String id) {
        ServiceStep step = step(fields, name, id);
        if (step.isByHand()) {
            throw fields.wrong(name, step.id() + " is entered, not recorded");
        }
        return step;
    }

    private static ServiceStep step(JsonFields fields, String name, String id) {
        return ServiceStep.ofId(id).orElseThrow(() -> fields.wrong(name, "\"" + id + "\" is no step of a service"));
    }

    /** A built-in programme, or a file beside the service file; one that serves several recordings is read once. */
    private Optional<Programme> programme(JsonFields fields) throws IOException {
        Optional<String> name = fields.text("programme");
        if (name.isEmpty()) {
            return Optional.empty();
        }
        Programme known = programmes.get(name.get());
        if (known == null) {
            try {
                known = ProgrammeFile.named(name.get(), folder);
            } catch (IOException | IllegalArgumentException wrong) {
                throw fields.wrong("programme", ": " + Failures.message(wrong));
            }
            programmes.put(name.get(), known);
        }
        return Optional.of(known);
    }

    private static Map<ServiceStep, List<String>> parts(
            JsonFields fields, Set<ServiceStep> steps, Optional<Programme> programme) {
        Map<ServiceStep, List<String>> parts = new LinkedHashMap<>();
        Optional<JsonFields> given = fields.object("parts");
        if (given.isPresent() && programme.isEmpty()) {
            throw fields.wrong("parts", "are those of a programme, and none is given");
        }
        for (ServiceStep step : steps) {
            List<String> names = given.map(object -> object.texts(step.id())).orElse(List.of());
            Set<String> known = programme.stream()
                    .flatMap(one -> one.steps().stream())
                    .map(Step::name)
                    .collect(Collectors.toCollection(LinkedHashSet::new));
            for (String name : names) {
                if (!known.contains(name)) {
                    throw fields.wrong("parts." + step.id(), "\"" + name + "\" is none of " + known);
                }
            }
            if (programme.isPresent() && names.isEmpty() && dependsOnTheTone(step)) {
                throw fields.wrong(
                        "parts." + step.id(), "is missing: which steps of the programme are meant, of " + known);
            }
            parts.put(step, names);
        }
        given.ifPresent(JsonFields::noOthers);
        return parts;
    }

    /** Whether a step is judged by a figure that every tone has, so that it must be said which tone is meant. */
    private static boolean dependsOnTheTone(ServiceStep step) {
        return step.judges(Quantity.LEVEL)
                || step.judges(Quantity.LEVEL_RE_REFERENCE)
                || step.judges(Quantity.DISTORTION_THIRD_HARMONIC)
                || step == ServiceStep.BIAS;
    }

    private static List<Double> biases(JsonFields fields, List<String> parts) {
        OptionalDouble one = fields.number("bias", -MOST, MOST);
        if (one.isPresent()) {
            return List.of(one.getAsDouble());
        }
        if (parts.isEmpty()) {
            throw fields.wrong("bias", "is missing: the bias of the recording, in any unit that rises with it");
        }
        List<Double> biases = fields.numbers("biases", -MOST, MOST);
        if (biases.size() != parts.size()) {
            throw fields.wrong("biases", "are " + biases.size() + ", the parts " + parts.size());
        }
        return biases;
    }

    private static Optional<String> word(JsonFields fields, String name, List<String> known) {
        Optional<String> word = fields.text(name);
        if (word.isPresent() && !known.contains(word.get())) {
            throw fields.wrong(name, "\"" + word.get() + "\" is none of " + String.join(", ", known));
        }
        return word;
    }

    private static Entered entered(JsonFields fields) {
        OptionalDouble lower = fields.number("lower", -MOST, MOST);
        OptionalDouble upper = fields.number("upper", -MOST, MOST);
        if (lower.isPresent() && upper.isPresent() && lower.getAsDouble() > upper.getAsDouble()) {
            throw fields.wrong("lower", lower.getAsDouble() + " is above upper, " + upper.getAsDouble());
        }
        OptionalDouble value = fields.number("value", -MOST, MOST);
        String unit = fields.text("unit").orElse("");
        if (value.isPresent() && unit.isBlank()) {
            throw fields.wrong("unit", "is missing");
        }
        return new Entered(
                step(fields, "step", fields.requiredText("step")),
                stage(fields),
                moment(fields),
                where(fields),
                fields.requiredText("name"),
                value,
                unit,
                lower,
                upper);
    }

    private static Repair repair(JsonFields fields) {
        String id = fields.requiredText("kind");
        Repair.Kind kind = Arrays.stream(Repair.Kind.values())
                .filter(each -> each.id().equals(id))
                .findFirst()
                .orElseThrow(() -> fields.wrong("kind", "\"" + id + "\" is none of electronics, heads, transport"));
        return new Repair(kind, fields.requiredText("what"), moment(fields));
    }

    private static Moment moment(JsonFields fields) {
        String date = fields.requiredText("date");
        Optional<String> time = fields.text("time");
        try {
            LocalDate.parse(date);
        } catch (DateTimeParseException wrong) {
            throw fields.wrong("date", "\"" + date + "\" is no date as 2026-11-25");
        }
        try {
            return new Moment(LocalDate.parse(date), time.map(LocalTime::parse));
        } catch (DateTimeException wrong) {
            throw fields.wrong("time", "\"" + time.orElse("") + "\" is no time as 14:30");
        }
    }

    private static Stage stage(JsonFields fields) {
        String id = fields.requiredText("stage");
        for (Stage stage : Stage.values()) {
            if (stage.id().equals(id)) {
                return stage;
            }
        }
        throw fields.wrong("stage", id + " is none of before, after");
    }
}
