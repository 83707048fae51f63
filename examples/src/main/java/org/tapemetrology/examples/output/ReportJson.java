/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.output;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.examples.files.JsonLine;
import org.tapemetrology.examples.recording.Assessment;
import org.tapemetrology.examples.recording.Recording;
import org.tapemetrology.examples.report.Cautions;
import org.tapemetrology.examples.report.Report;
import org.tapemetrology.examples.report.Report.Budgeted;
import org.tapemetrology.examples.report.Report.Judgement;
import org.tapemetrology.examples.report.Report.NamedLine;
import org.tapemetrology.examples.report.Report.Outcome;
import org.tapemetrology.examples.report.Report.Recorded;
import org.tapemetrology.examples.report.Report.Strip;
import org.tapemetrology.examples.report.Report.StripPoint;
import org.tapemetrology.examples.report.Report.Suspect;

/** The machine-readable form of a report: one JSON object; readings, warnings, verdicts and budgets as everywhere. */
public final class ReportJson {
    private static final String SCHEMA = "org.tapemetrology.report/1";

    private ReportJson() {}

    public static String of(Report report) {
        return JsonLine.of(json -> {
            json.writeStartObject();
            json.writeStringField("schema", SCHEMA);
            json.writeStringField("machine", report.machine());
            json.writeStringField("made", report.made().toString());
            json.writeBooleanField("proven", report.isProven());
            writeFacts(report, json);
            writeSteps(report, json);
            writeHandReadings(report, json);
            json.writeArrayFieldStart("recordings");
            for (Recorded recorded : report.recordings()) {
                write(recorded, json);
            }
            json.writeEndArray();
            json.writeArrayFieldStart("combined");
            for (Report.Combined combined : report.combined()) {
                write(combined, json);
            }
            json.writeEndArray();
            json.writeArrayFieldStart("problems");
            for (Report.Problem problem : report.problems()) {
                json.writeStartObject();
                json.writeStringField("where", problem.where());
                json.writeStringField("message", problem.message());
                json.writeEndObject();
            }
            json.writeEndArray();
            writeTexts("missing", report.missing(), json);
            writeTexts("cautions", Cautions.sentences(), json);
            json.writeEndObject();
        });
    }

    private static void writeTexts(String name, List<String> texts, JsonGenerator json) throws IOException {
        json.writeArrayFieldStart(name);
        for (String text : texts) {
            json.writeString(text);
        }
        json.writeEndArray();
    }

    private static void writeFacts(Report report, JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("facts");
        for (Report.Facts group : report.facts()) {
            json.writeStartObject();
            json.writeStringField("title", group.title());
            json.writeArrayFieldStart("facts");
            for (Report.Fact fact : group.facts()) {
                json.writeStartObject();
                json.writeStringField("name", fact.name());
                json.writeStringField("value", fact.value());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void writeSteps(Report report, JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("steps");
        for (Report.Step step : report.steps()) {
            json.writeStartObject();
            json.writeStringField("step", step.step().id());
            write("before", step.before(), json);
            write("after", step.after(), json);
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void write(String stage, Optional<Outcome> outcome, JsonGenerator json) throws IOException {
        json.writeFieldName(stage);
        if (outcome.isEmpty()) {
            json.writeNull();
            return;
        }
        json.writeStartObject();
        json.writeStringField("verdict", outcome.get().verdict().id());
        json.writeStringField("decidedBy", outcome.get().deciding());
        json.writeStringField("place", outcome.get().place());
        json.writeEndObject();
    }

    private static void writeHandReadings(Report report, JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("entered");
        for (Report.HandReading hand : report.handReadings()) {
            json.writeStartObject();
            json.writeStringField("step", hand.step().id());
            json.writeStringField("stage", hand.stage().id());
            json.writeStringField("date", hand.date().toString());
            json.writeStringField("place", hand.place());
            json.writeBooleanField("counts", hand.counts());
            json.writeStringField("name", hand.name());
            JsonLine.numberOrNull(json, "value", hand.value());
            json.writeStringField("unit", hand.unit());
            JsonLine.numberOrNull(json, "lower", hand.lower());
            JsonLine.numberOrNull(json, "upper", hand.upper());
            textOrNull("verdict", hand.verdict().map(v -> v.id()), json);
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void textOrNull(String name, Optional<String> text, JsonGenerator json) throws IOException {
        json.writeFieldName(name);
        if (text.isPresent()) {
            json.writeString(text.get());
        } else {
            json.writeNull();
        }
    }

    private static void write(Recorded recorded, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeNumberField("number", recorded.number());
        json.writeStringField("step", recorded.step().id());
        json.writeStringField("stage", recorded.stage().id());
        json.writeStringField("date", recorded.date().toString());
        json.writeStringField("place", recorded.place());
        json.writeStringField("testTape", recorded.tape());
        json.writeBooleanField("counts", recorded.counts());
        writeTexts("doubts", recorded.doubts(), json);
        MeasurementJson.writeSource(
                new Recording.Result(
                        recorded.source().file(),
                        recorded.source().sampleRateHz(),
                        recorded.source().channels(),
                        recorded.source().durationSeconds(),
                        recorded.measurement(),
                        recorded.error().map(e -> new Recording.Failure(e.code(), e.message()))),
                json);
        json.writeArrayFieldStart("warnings");
        for (Warning warning : recorded.measurement().warnings()) {
            MeasurementJson.write(warning, json);
        }
        json.writeEndArray();
        Map<Reading, Budget> budgets = recorded.budgets().stream()
                .collect(Collectors.toMap(Budgeted::reading, Budgeted::budget, (one, same) -> one));
        json.writeArrayFieldStart("readings");
        List<Reading> readings = recorded.measurement().readings();
        for (int i = 0; i < readings.size(); i++) {
            Reading reading = readings.get(i);
            MeasurementJson.writeReading(
                    reading,
                    recorded.part(i),
                    Optional.ofNullable(budgets.get(reading)),
                    Assessment.Expansion.ANALYTIC.method(),
                    json);
        }
        json.writeEndArray();
        writeVerdicts(recorded.judgements(), json);
        writeStrips("speedOverTimePercent", recorded.curves().speed().stream().toList(), json);
        writeStrips("levelOverTimeDbfs", recorded.curves().levels(), json);
        writeComponents(recorded, json);
        json.writeEndObject();
    }

    private static void writeVerdicts(List<Judgement> judgements, JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("verdicts");
        for (Judgement judgement : judgements) {
            AssessmentJson.writeVerdict(judgement.decision(), judgement.advice(), Optional.empty(), json);
        }
        json.writeEndArray();
    }

    private static void write(Report.Combined combined, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeStringField("step", combined.step().id());
        json.writeStringField("stage", combined.stage().id());
        json.writeArrayFieldStart("readings");
        for (Reading reading : combined.readings()) {
            MeasurementJson.writeReading(
                    reading, Optional.empty(), Optional.empty(), Assessment.Expansion.ANALYTIC.method(), json);
        }
        json.writeEndArray();
        writeVerdicts(combined.judgements(), json);
        writeTexts("notes", combined.notes(), json);
        json.writeEndObject();
    }

    /** Points as seconds, lowest, mean, highest. */
    private static void writeStrips(String name, List<Strip> strips, JsonGenerator json) throws IOException {
        json.writeArrayFieldStart(name);
        for (Strip strip : strips) {
            json.writeStartObject();
            json.writeNumberField("channel", strip.channel());
            json.writeNumberField("intervalSeconds", strip.intervalSeconds());
            json.writeArrayFieldStart("points");
            for (StripPoint point : strip.points()) {
                json.writeArray(new double[] {point.seconds(), point.low(), point.mean(), point.high()}, 0, 4);
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void writeComponents(Recorded recorded, JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("components");
        if (recorded.curves().spectrum().isPresent()) {
            for (NamedLine line : recorded.curves().spectrum().get().lines()) {
                json.writeStartObject();
                json.writeNumberField("frequencyHz", line.frequencyHz());
                json.writeNumberField("frequencyExpandedUncertaintyHz", line.frequencyUncertaintyHz());
                json.writeNumberField("peakDeviationPercent", line.peakPercent());
                json.writeNumberField("peakDeviationExpandedUncertaintyPercent", line.peakUncertaintyPercent());
                json.writeArrayFieldStart("parts");
                for (Suspect suspect : line.parts()) {
                    json.writeStartObject();
                    json.writeStringField("part", suspect.part());
                    json.writeNumberField("probability", suspect.probability());
                    json.writeNumberField("harmonic", suspect.harmonic());
                    json.writeEndObject();
                }
                json.writeEndArray();
                json.writeNumberField("unexplained", line.unexplained());
                JsonLine.numberOrNull(json, "weightedQuasiPeakWithout", line.weightedWithout());
                json.writeEndObject();
            }
        }
        json.writeEndArray();
    }
}
