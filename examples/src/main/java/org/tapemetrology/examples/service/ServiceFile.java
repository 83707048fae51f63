/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.io.IOException;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.transport.Transport;
import org.tapemetrology.examples.files.InstrumentFile;
import org.tapemetrology.examples.files.JsonFields;
import org.tapemetrology.examples.files.LimitFile;
import org.tapemetrology.examples.files.MachineLimits;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.files.TransportFile;
import org.tapemetrology.examples.report.Report.Stage;

/**
 * The service of one machine as a JSON document: what it is, what it is held to, what it was measured with, the recordings of
 * every step before and after the repair, and what was repaired. Measuring again adds a recording; nothing is overwritten.
 *
 * <pre>{"schema":"org.tapemetrology.service/1",
 * "machine":{"name":"cassette deck 3","heads":2,"channels":2,"leftOut":["companding-noise-reduction"]},
 * "setup":{"tapeSpeedMillimetresPerSecond":47.6,"trackSpacingMillimetres":0.9,"mainsHz":50},
 * "limits":[{"quantity":"speed.error","lower":-1,"upper":1},
 *   {"quantity":"response","fromHz":63,"toHz":10000,"lower":-3,"upper":3}],
 * "testTapes":[{"name":"speed tape","toneHz":3150,"fullWidth":true,"frequencyPercent":{"within":0.05}}],
 * "converter":{"clockPpm":{"within":20}},
 * "transport":{"tapeSpeedMillimetresPerSecond":47.6,"parts":[{"name":"capstan","kind":"capstan","diameterMillimetres":2.0}]},
 * "recordings":[{"steps":["speed","flutter"],"stage":"before","date":"2026-11-20","time":"14:30","file":"speed-before.wav",
 *   "testTape":"speed tape","position":"start","direction":"forward","tapeSpeedMillimetresPerSecond":47.6},
 *  {"steps":["record-sensitivity","record-response"],"stage":"after","date":"2026-11-22","file":"record-side.wav",
 *   "programme":"record-side","parts":{"record-sensitivity":["record level"]}},
 *  {"step":"bias","stage":"after","date":"2026-11-22","file":"bias-3.wav","bias":3}],
 * "entered":[{"name":"take-up torque","step":"tape-handling","stage":"before","date":"2026-11-20","value":4.5,
 *   "unit":"mN m","lower":3.5,"upper":6}],
 * "repairs":[{"kind":"electronics","what":"new coupling capacitors","date":"2026-11-21"}]}</pre>
 *
 * <p>A recording serves one step or several, by a field of that name. Where it is one of a {@code programme} (a built-in one or a
 * JSON file beside the service file), {@code parts} says for a step which steps of the programme are meant; without it all
 * are. Steps that ask for a level or for its distortion must say so. {@code companding} is {@code on} or {@code off}, the first of its parts is the reference
 * level; {@code bias} is the bias in any unit that a recording was made with, {@code biases} that of each of its parts.
 *
 * <p>Of recordings, and of entries of one name, the last counts, for each {@code position}, {@code direction} and
 * {@code tapeSpeedMillimetresPerSecond} that is given; what is older stays in the file. After a repair what it may have changed
 * is due again.
 *
 * @param file where it was read from; recordings are found beside it
 * @param machine what the machine is called
 * @param heads 2 or 3
 * @param channels number of channels
 * @param steps the steps that the machine needs, in the trade's order, but those that it was said to leave out
 * @param setup tape speed, tracks, levels and mains
 * @param limits what the machine is held to
 * @param recordings what was recorded, in the order of the file: one for each step that a recording serves
 * @param entered what was read by hand or done
 * @param repairs what was repaired
 * @param transport the parts of the transport (see {@link TransportFile}), empty where they are not described
 */
public record ServiceFile(
        Path file,
        String machine,
        int heads,
        int channels,
        List<ServiceStep> steps,
        Setup setup,
        MachineLimits limits,
        List<Recorded> recordings,
        List<Entered> entered,
        List<Repair> repairs,
        Optional<Transport> transport) {
    static final String SCHEMA = "org.tapemetrology.service/1";

    /** A day, and the time of it where it is known: without it an entry stands at the start of its day. */
    record Moment(LocalDate date, Optional<LocalTime> time) {
        boolean isBefore(Moment other) {
            return start().isBefore(other.start());
        }

        private LocalDateTime start() {
            return date.atTime(time.orElse(LocalTime.MIN));
        }
    }

    /**
     * What a recording holds beside a single tone, or noise.
     *
     * @param programme the programme that was recorded, empty without one
     * @param parts names of its steps that are meant; empty for all
     * @param companding whether the companding noise reduction was on; empty where it is not asked
     * @param biases the bias of the recording, or that of each of the parts
     */
    record Contents(
            Optional<Programme> programme, List<String> parts, Optional<Boolean> companding, List<Double> biases) {
        static final Contents PLAIN = new Contents(Optional.empty(), List.of(), Optional.empty(), List.of());
    }

    /**
     * A recording of a step.
     *
     * @param setup that of the machine with the test tape and the speed of this recording
     * @param where start, middle or end of the tape, direction, speed: what tells recordings of a step apart
     */
    record Recorded(
            ServiceStep step, Stage stage, Moment moment, Path wav, Setup setup, String where, Contents contents) {
        LocalDate date() {
            return moment.date();
        }

        /** What a later recording must have in common with this one to take its place. */
        String place() {
            return where
                    + contents.companding().map(on -> on ? " on" : " off").orElse("")
                    + (contents.biases().isEmpty() ? "" : contents.biases());
        }
    }

    /**
     * A figure that was read by hand, or a thing done, with its limit where there is one.
     *
     * @param where start, middle or end of the tape, direction, speed, where they are given
     */
    record Entered(
            ServiceStep step,
            Stage stage,
            Moment moment,
            String where,
            String name,
            OptionalDouble value,
            String unit,
            OptionalDouble lower,
            OptionalDouble upper) {
        LocalDate date() {
            return moment.date();
        }

        /** What a later entry must have in common with this one to take its place. */
        String subject() {
            return where + ": " + name;
        }

        /** Whether it keeps its limit; a thing that was done, and a figure without a limit, do. */
        boolean isKept() {
            return value.isEmpty()
                    || (value.getAsDouble() >= lower.orElse(Double.NEGATIVE_INFINITY)
                            && value.getAsDouble() <= upper.orElse(Double.POSITIVE_INFINITY));
        }
    }

    /** A repair, after which what it may have changed is due again. */
    record Repair(Kind kind, String what, Moment moment) {
        /** What was repaired, and what is to be measured again after it (common practice, no source). */
        enum Kind {
            /** Amplifiers and supply: replay levels are checked again. */
            ELECTRONICS("electronics", ServiceStep.REPLAY_LEVEL),
            /** A head was changed or moved: everything that is set by it. */
            HEADS(
                    "heads",
                    ServiceStep.REPLAY_AZIMUTH,
                    ServiceStep.REPLAY_LEVEL,
                    ServiceStep.REPLAY_RESPONSE,
                    ServiceStep.RECORD_AZIMUTH,
                    ServiceStep.BIAS,
                    ServiceStep.RECORD_SENSITIVITY,
                    ServiceStep.RECORD_RESPONSE),
            /** Motor, belts, rollers: no reference tape is loaded before a scrap tape came out unharmed. */
            TRANSPORT("transport", ServiceStep.TAPE_HANDLING, ServiceStep.SPEED, ServiceStep.FLUTTER);

            private final String id;

            @SuppressWarnings("ImmutableEnumChecker") // Set.of cannot be changed
            private final Set<ServiceStep> again;

            Kind(String id, ServiceStep... again) {
                this.id = id;
                this.again = Set.of(again);
            }

            String id() {
                return id;
            }

            boolean makesDue(ServiceStep step) {
                return again.contains(step);
            }
        }
    }

    /** The last repair that came after something was found and makes it due again; what was found before any repair stays found. */
    Optional<Repair> repairSince(ServiceStep step, Stage stage, Moment moment) {
        return stage == Stage.BEFORE
                ? Optional.empty()
                : repairs.stream()
                        .filter(repair -> repair.kind().makesDue(step) && moment.isBefore(repair.moment()))
                        .reduce((first, last) -> last);
    }

    public static ServiceFile read(Path file) throws IOException {
        return of(JsonFields.read(file), file);
    }

    /** The service that an object describes; recordings are found beside the file. */
    static ServiceFile of(JsonFields fields, Path file) throws IOException {
        String schema = fields.requiredText("schema");
        if (!schema.equals(SCHEMA)) {
            throw fields.wrong("schema", "\"" + schema + "\" is not " + SCHEMA);
        }
        JsonFields machine = fields.object("machine").orElseThrow(() -> fields.wrong("machine", "is missing"));
        String name = machine.requiredText("name");
        int heads = (int) machine.requiredNumber("heads", 2, 3);
        int channels = (int) machine.requiredNumber("channels", 1, 2);
        List<ServiceStep> steps = steps(machine, heads, channels);
        machine.noOthers();
        Setup setup = fields.object("setup").map(Setup::of).orElse(Setup.NONE);
        Optional<JsonFields> converter = fields.object("converter");
        if (converter.isPresent()) {
            setup = setup.with(InstrumentFile.converter(converter.get()));
            converter.get().noOthers();
        }
        ServiceEntries entries = new ServiceEntries(file, fields, setup);
        ServiceFile service = new ServiceFile(
                file,
                name,
                heads,
                channels,
                steps,
                setup,
                LimitFile.limits(fields, name, name),
                entries.recordings(),
                entries.entered(),
                entries.repairs(),
                fields.object("transport").map(TransportFile::of));
        fields.noOthers();
        return service;
    }

    private static List<ServiceStep> steps(JsonFields machine, int heads, int channels) {
        List<ServiceStep> steps = new ArrayList<>(ServiceStep.of(heads, channels));
        if (machine.has("leftOut")) {
            for (String id : machine.texts("leftOut")) {
                if (!steps.removeIf(step -> step.id().equals(id))) {
                    throw machine.wrong("leftOut", "\"" + id + "\" is no step of such a machine");
                }
            }
        }
        return List.copyOf(steps);
    }
}
