/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.output;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.programme.ProgrammeMeasurement;
import org.tapemetrology.core.programme.RecognisedStep;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.examples.files.JsonLine;
import org.tapemetrology.examples.recording.Assessment;
import org.tapemetrology.examples.recording.Recording;

/** The machine-readable form of a measurement: one JSON object on one line. */
public final class MeasurementJson {
    private static final String SCHEMA = "org.tapemetrology.measurement/1";

    private MeasurementJson() {}

    public static String line(Recording.Result result) {
        return JsonLine.of(json -> write(result, Optional.empty(), json));
    }

    /** The same with budgets and verdicts as far as they were asked for. */
    public static String line(Recording.Result result, Assessment.Of assessment) {
        return JsonLine.of(json -> write(result, Optional.of(assessment), json));
    }

    private static void write(Recording.Result result, Optional<Assessment.Of> assessment, JsonGenerator json)
            throws IOException {
        json.writeStartObject();
        json.writeStringField("schema", SCHEMA);
        writeSource(result, json);
        writeReadings(result, assessment, json);
        if (assessment.isPresent() && assessment.get().asked().limits().isPresent()) {
            json.writeArrayFieldStart("verdicts");
            AssessmentJson.writeVerdicts(assessment.get(), Optional.empty(), json);
            json.writeEndArray();
        }
        json.writeEndObject();
    }

    /** Where it comes from, and what went wrong. */
    static void writeSource(Recording.Result result, JsonGenerator json) throws IOException {
        json.writeObjectFieldStart("source");
        json.writeStringField("file", result.file());
        json.writeNumberField("sampleRateHz", result.sampleRateHz());
        json.writeNumberField("channels", result.channels());
        json.writeNumberField("durationSeconds", result.durationSeconds());
        json.writeEndObject();
        json.writeFieldName("error");
        if (result.error().isPresent()) {
            Recording.Failure failure = result.error().get();
            json.writeStartObject();
            json.writeStringField("code", failure.code());
            json.writeStringField("message", failure.message());
            json.writeEndObject();
        } else {
            json.writeNull();
        }
    }

    /** Warnings and readings. */
    static void writeReadings(Recording.Result result, JsonGenerator json) throws IOException {
        writeReadings(result, Optional.empty(), json);
    }

    private static void writeReadings(Recording.Result result, Optional<Assessment.Of> assessment, JsonGenerator json)
            throws IOException {
        json.writeArrayFieldStart("warnings");
        for (Warning warning : result.measurement().warnings()) {
            write(warning, json);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("readings");
        for (Reading reading : result.measurement().readings()) {
            writeReading(
                    reading,
                    Optional.empty(),
                    assessment.flatMap(a -> a.shownBudget(reading)),
                    assessment.map(a -> a.asked().expansion().method()).orElse(Assessment.Expansion.ANALYTIC.method()),
                    json);
        }
        json.writeEndArray();
    }

    static void write(Warning warning, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeStringField("code", warning.code().id());
        JsonLine.numberOrNull(json, "channel", warning.channel());
        json.writeStringField("message", warning.message());
        JsonLine.numberOrNull(json, "fromSeconds", warning.fromSeconds());
        JsonLine.numberOrNull(json, "toSeconds", warning.toSeconds());
        json.writeEndObject();
    }

    /**
     * The readings of a programme: each carries the name of its step.
     *
     * @param assessed one for each step, and one for the limits that speak of none
     */
    public static String line(Recording.OfProgramme measured, List<Assessment.Of> assessed) {
        List<ProgrammeMeasurement.StepMeasurement> steps = measured.steps();
        return JsonLine.of(json -> {
            json.writeStartObject();
            json.writeStringField("schema", SCHEMA);
            writeSource(measured.result(), json);
            json.writeArrayFieldStart("warnings");
            for (Warning warning : measured.result().measurement().warnings()) {
                write(warning, json);
            }
            json.writeEndArray();
            json.writeArrayFieldStart("readings");
            for (int i = 0; i < steps.size(); i++) {
                Assessment.Of one = assessed.get(i);
                for (Reading reading : one.measurement().readings()) {
                    writeReading(
                            reading,
                            Optional.of(steps.get(i).step().name()),
                            one.shownBudget(reading),
                            one.asked().expansion().method(),
                            json);
                }
            }
            json.writeEndArray();
            if (assessed.get(0).asked().limits().isPresent()) {
                json.writeArrayFieldStart("verdicts");
                for (int i = 0; i < assessed.size(); i++) {
                    AssessmentJson.writeVerdicts(
                            assessed.get(i),
                            i < steps.size() ? Optional.of(steps.get(i).step().name()) : Optional.empty(),
                            json);
                }
                json.writeEndArray();
            }
            json.writeArrayFieldStart("steps");
            for (ProgrammeMeasurement.StepMeasurement step : steps) {
                write(step.step(), json);
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }

    private static void write(RecognisedStep step, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeStringField("name", step.name());
        json.writeNumberField("fromSeconds", step.fromSeconds());
        json.writeNumberField("toSeconds", step.toSeconds());
        json.writeNumberField("speedRatio", step.speedRatio());
        json.writeNumberField("confidence", step.confidence());
        json.writeBooleanField("complete", step.complete());
        json.writeEndObject();
    }

    /** A reading, with the step of a programme and the budget, found by a method, where there are any. */
    static void writeReading(
            Reading reading, Optional<String> step, Optional<Budget> budget, String method, JsonGenerator json)
            throws IOException {
        json.writeStartObject();
        if (step.isPresent()) {
            json.writeStringField("step", step.get());
        }
        json.writeStringField("quantity", reading.quantity().id());
        JsonLine.numberOrNull(json, "channel", reading.channel());
        JsonLine.numberOrNull(json, "value", reading.value());
        json.writeStringField("unit", reading.unit().symbol());
        json.writeStringField("status", reading.status().id());
        JsonLine.numberOrNull(json, "expandedUncertainty", known(reading, true));
        JsonLine.numberOrNull(json, "coverageProbability", known(reading, false));
        json.writeStringField("method", reading.method());
        if (reading.atFrequencyHz().isPresent() || reading.atSeconds().isPresent()) {
            json.writeObjectFieldStart("at");
            if (reading.atFrequencyHz().isPresent()) {
                json.writeNumberField("frequencyHz", reading.atFrequencyHz().getAsDouble());
            }
            if (reading.atSeconds().isPresent()) {
                json.writeNumberField("seconds", reading.atSeconds().getAsDouble());
            }
            json.writeEndObject();
        }
        if (reading.uncertainty().isPresent() && reading.uncertainty().get().assumed()) {
            json.writeBooleanField("assumed", true);
        }
        if (budget.isPresent()) {
            AssessmentJson.writeBudget(budget.get(), method, json);
        }
        json.writeEndObject();
    }

    private static OptionalDouble known(Reading reading, boolean halfWidth) {
        return reading.uncertainty()
                .map(u -> OptionalDouble.of(halfWidth ? u.halfWidth() : u.coverageProbability()))
                .orElse(OptionalDouble.empty());
    }
}
