/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.jr.ob.JSON;
import java.io.IOException;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.conformity.LimitSet;

/**
 * The service of one machine as a JSON document: what it is, what it is held to, what it was measured with, and the
 * recordings of every step before and after the repair. Measuring again adds a recording; nothing is overwritten.
 *
 * <pre>{"schema":"org.tapemetrology.service/1",
 * "machine":{"name":"cassette deck 3","heads":2,"channels":2},
 * "setup":{"tapeSpeedMillimetresPerSecond":47.6,"trackSpacingMillimetres":0.9,"mainsHz":50},
 * "limits":[{"quantity":"speed.error","lower":-1,"upper":1}],
 * "testTapes":[{"name":"speed tape","toneHz":3150,"frequencyPercent":{"within":0.05}}],
 * "converter":{"clockPpm":{"within":20}},
 * "recordings":[{"step":"speed","stage":"before","date":"2026-11-20","file":"speed-before.wav","testTape":"speed tape",
 *   "position":"start","direction":"forward","tapeSpeedMillimetresPerSecond":47.6}],
 * "entered":[{"name":"take-up torque","step":"tape-handling","stage":"before","date":"2026-11-20","value":4.5,
 *   "unit":"mN m","lower":3.5,"upper":6}]}</pre>
 *
 * @param file where it was read from; recordings are found beside it
 * @param machine what the machine is called
 * @param heads 2 or 3
 * @param channels number of channels
 * @param setup tape speed, tracks, levels and mains
 * @param limits what the machine is held to
 * @param recordings what was recorded, in the order of the file
 * @param entered what was read by hand or done
 */
record ServiceFile(
        Path file,
        String machine,
        int heads,
        int channels,
        Setup setup,
        LimitSet limits,
        List<Recorded> recordings,
        List<Entered> entered) {
    private static final String SCHEMA = "org.tapemetrology.service/1";
    private static final double MOST = 1e9;

    /** Before the repair, or after it. */
    enum Stage {
        /** Before. */
        BEFORE("before"),
        /** After. */
        AFTER("after");

        private final String id;

        Stage(String id) {
            this.id = id;
        }

        String id() {
            return id;
        }

        static Stage of(JsonFields fields) {
            String id = fields.requiredText("stage");
            for (Stage stage : values()) {
                if (stage.id.equals(id)) {
                    return stage;
                }
            }
            throw fields.wrong("stage", id + " is none of before, after");
        }
    }

    /**
     * A recording of a step.
     *
     * @param setup that of the machine with the test tape and the speed of this recording
     * @param where start, middle or end of the tape, direction, speed: what tells recordings of a step apart
     */
    record Recorded(ServiceStep step, Stage stage, LocalDate date, Path wav, Setup setup, String where) {}

    /** A figure that was read by hand, or a thing done, with its limit where there is one. */
    record Entered(
            ServiceStep step,
            Stage stage,
            LocalDate date,
            String name,
            OptionalDouble value,
            String unit,
            OptionalDouble lower,
            OptionalDouble upper) {
        /** Whether it keeps its limit; a thing that was done, and a figure without a limit, do. */
        boolean isKept() {
            return value.isEmpty()
                    || (value.getAsDouble() >= lower.orElse(Double.NEGATIVE_INFINITY)
                            && value.getAsDouble() <= upper.orElse(Double.POSITIVE_INFINITY));
        }
    }

    static ServiceFile read(Path file) throws IOException {
        return of(JsonFields.read(file), file);
    }

    /** The service that an object describes; recordings are found beside the file. */
    static ServiceFile of(JsonFields fields, Path file) {
        String schema = fields.requiredText("schema");
        if (!schema.equals(SCHEMA)) {
            throw fields.wrong("schema", "\"" + schema + "\" is not " + SCHEMA);
        }
        JsonFields machine = fields.object("machine").orElseThrow(() -> fields.wrong("machine", "is missing"));
        String name = machine.requiredText("name");
        int heads = (int) machine.requiredNumber("heads", 2, 3);
        int channels = (int) machine.requiredNumber("channels", 1, 2);
        machine.noOthers();
        Setup setup = fields.object("setup").map(Setup::of).orElse(Setup.NONE);
        Optional<JsonFields> converter = fields.object("converter");
        if (converter.isPresent()) {
            setup = setup.with(InstrumentFile.converter(converter.get()));
            converter.get().noOthers();
        }
        Map<String, Setup> tapes = tapes(fields, setup);
        List<Limit> limits = LimitFile.limits(fields, name);
        List<Recorded> recordings = new ArrayList<>();
        for (JsonFields each : fields.objects("recordings")) {
            recordings.add(recorded(each, file, setup, tapes));
            each.noOthers();
        }
        List<Entered> entered = new ArrayList<>();
        for (JsonFields each : fields.objects("entered")) {
            entered.add(entered(each));
            each.noOthers();
        }
        fields.noOthers();
        return new ServiceFile(
                file,
                name,
                heads,
                channels,
                setup,
                new LimitSet(name, limits),
                List.copyOf(recordings),
                List.copyOf(entered));
    }

    private static Map<String, Setup> tapes(JsonFields fields, Setup setup) {
        Map<String, Setup> tapes = new LinkedHashMap<>();
        for (JsonFields each : fields.objects("testTapes")) {
            String name = each.requiredText("name");
            Setup with = setup.with(InstrumentFile.testTape(each));
            OptionalDouble tone = each.number("toneHz", 20, 82_560);
            if (tapes.put(name, tone.isPresent() ? with.withTone(tone.getAsDouble()) : with) != null) {
                throw each.wrong("name", "\"" + name + "\" is the name of another tape too");
            }
            each.noOthers();
        }
        return tapes;
    }

    private static Recorded recorded(JsonFields fields, Path service, Setup machine, Map<String, Setup> tapes) {
        ServiceStep step = step(fields);
        if (step.isByHand()) {
            throw fields.wrong("step", step.id() + " is entered, not recorded");
        }
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
        OptionalDouble tone = fields.number("nominalHz", 20, 82_560);
        if (tone.isPresent()) {
            setup = setup.withTone(tone.getAsDouble());
        }
        List<String> where = new ArrayList<>();
        word(fields, "position", List.of("start", "middle", "end")).ifPresent(where::add);
        word(fields, "direction", List.of("forward", "reverse")).ifPresent(where::add);
        speed.ifPresent(mm -> where.add(mm / 10 + " cm/s"));
        Path folder = service.toAbsolutePath().getParent();
        String wav = fields.requiredText("file");
        return new Recorded(
                step,
                Stage.of(fields),
                date(fields),
                folder == null ? Path.of(wav) : folder.resolve(wav),
                setup,
                String.join(", ", where));
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
                step(fields), Stage.of(fields), date(fields), fields.requiredText("name"), value, unit, lower, upper);
    }

    private static ServiceStep step(JsonFields fields) {
        String id = fields.requiredText("step");
        return ServiceStep.ofId(id).orElseThrow(() -> fields.wrong("step", "\"" + id + "\" is no step of a service"));
    }

    private static LocalDate date(JsonFields fields) {
        String text = fields.requiredText("date");
        try {
            return LocalDate.parse(text);
        } catch (DateTimeParseException wrong) {
            throw fields.wrong("date", "\"" + text + "\" is no date as 2026-11-25");
        }
    }

    /** Adds an entry to one of the lists of a document, leaving everything else as it stands. */
    static void add(Path file, String list, Map<String, Object> entry) throws IOException {
        read(file); // nothing is added to what is not sound
        Map<String, Object> document = JSON.std.mapFrom(Files.readAllBytes(file));
        List<Object> entries = new ArrayList<>();
        if (document.get(list) instanceof List<?> before) {
            entries.addAll(before);
        }
        entries.add(entry);
        document.put(list, entries);
        Path written = file.resolveSibling(file.getFileName() + ".new");
        Files.writeString(
                written, JSON.std.with(JSON.Feature.PRETTY_PRINT_OUTPUT).asString(document));
        try {
            read(written);
        } catch (IllegalArgumentException wrong) {
            Files.delete(written);
            throw new IllegalArgumentException(
                    String.valueOf(wrong.getMessage()).replace(written.toString(), file.toString()), wrong);
        }
        try {
            Files.move(written, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        } catch (AtomicMoveNotSupportedException elsewhere) {
            Files.move(written, file, StandardCopyOption.REPLACE_EXISTING);
        }
    }

    /** A document without recordings. */
    static String blank(String machine, int heads, int channels) {
        return MeasurementJson.line((JsonGenerator json) -> {
            json.writeStartObject();
            json.writeStringField("schema", SCHEMA);
            json.writeObjectFieldStart("machine");
            json.writeStringField("name", machine);
            json.writeNumberField("heads", heads);
            json.writeNumberField("channels", channels);
            json.writeEndObject();
            for (String list : List.of("limits", "testTapes", "recordings", "entered")) {
                json.writeArrayFieldStart(list);
                json.writeEndArray();
            }
            json.writeEndObject();
        });
    }
}
