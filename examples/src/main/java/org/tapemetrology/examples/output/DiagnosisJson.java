/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.output;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.diagnosis.Component;
import org.tapemetrology.core.diagnosis.Diagnosis;
import org.tapemetrology.core.diagnosis.Repair;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.transport.Attribution;
import org.tapemetrology.examples.files.JsonLine;
import org.tapemetrology.examples.recording.FoundParts;
import org.tapemetrology.examples.recording.Recording;

/** The machine-readable form of a diagnosis: one JSON object on one line. */
public final class DiagnosisJson {
    private static final String SCHEMA = "org.tapemetrology.diagnosis/1";

    private DiagnosisJson() {}

    public static String line(Recording.Result result, Optional<FoundParts> found) {
        Optional<Diagnosis> diagnosis = found.map(FoundParts::diagnosis);
        return JsonLine.of(json -> {
            json.writeStartObject();
            json.writeStringField("schema", SCHEMA);
            MeasurementJson.writeSource(result, json);
            MeasurementJson.writeReadings(result, json);
            json.writeArrayFieldStart("components");
            if (diagnosis.isPresent()) {
                for (Component component : diagnosis.get().components()) {
                    write(component, json);
                }
            }
            json.writeEndArray();
            json.writeArrayFieldStart("repairs");
            if (diagnosis.isPresent()) {
                for (Repair repair : diagnosis.get().repairs()) {
                    write(repair, json);
                }
            }
            json.writeEndArray();
            json.writeArrayFieldStart("scrape");
            if (found.isPresent()) {
                for (FoundParts.Resonance resonance : found.get().resonances()) {
                    write(resonance, json);
                }
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }

    private static void write(Component component, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeNumberField("frequencyHz", component.line().frequencyHz());
        json.writeNumberField("frequencyUncertaintyHz", component.line().frequencyUncertaintyHz());
        json.writeNumberField("peakDeviationPercent", component.line().amplitudePercent());
        json.writeNumberField(
                "peakDeviationUncertaintyPercent", 100 * component.line().amplitudeUncertainty());
        json.writeNumberField("significance", 1 - component.line().falseAlarmProbability());
        json.writeNumberField("decibelsOverNoise", component.line().noiseRatioDb());
        json.writeNumberField("order", component.order());
        write(component.parts(), json);
        json.writeNumberField("unexplained", component.attribution().unexplained());
        JsonLine.numberOrNull(json, "weightedQuasiPeakWithout", component.weightedQuasiPeakWithout());
        json.writeEndObject();
    }

    private static void write(FoundParts.Resonance resonance, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeNumberField("frequencyHz", resonance.peak().frequencyHz());
        json.writeNumberField("halfWidthHz", resonance.peak().halfWidthHz());
        json.writeNumberField("rmsDeviationPercent", resonance.peak().rmsPercent());
        write(resonance.attribution().parts(), json);
        json.writeEndObject();
    }

    private static void write(List<Attribution.PartProbability> parts, JsonGenerator json) throws IOException {
        json.writeArrayFieldStart("parts");
        for (Attribution.PartProbability part : parts) {
            json.writeStartObject();
            json.writeStringField("part", part.part());
            json.writeNumberField("probability", part.probability());
            json.writeNumberField("harmonic", part.harmonic());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void write(Repair repair, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeStringField("part", repair.part());
        json.writeArrayFieldStart("frequenciesHz");
        for (double hz : repair.frequenciesHz()) {
            json.writeNumber(hz);
        }
        json.writeEndArray();
        json.writeObjectFieldStart("without");
        write(repair.without(), json);
        json.writeEndObject();
        json.writeEndObject();
    }

    /** Every standard reading that would remain, by its id. */
    private static void write(Measurement without, JsonGenerator json) throws IOException {
        for (Reading reading : without.readings()) {
            if (reading.quantity() != Quantity.FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM) {
                JsonLine.numberOrNull(json, reading.quantity().id(), reading.value());
            }
        }
    }
}
