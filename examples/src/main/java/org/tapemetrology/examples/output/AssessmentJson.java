/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.output;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.UncertaintyComponent;
import org.tapemetrology.examples.files.JsonLine;
import org.tapemetrology.examples.recording.Assessment;

/** The machine-readable form of budgets and verdicts. */
public final class AssessmentJson {
    private AssessmentJson() {}

    static void writeBudget(Budget budget, String method, JsonGenerator json) throws IOException {
        json.writeObjectFieldStart("budget");
        json.writeStringField("method", method);
        json.writeNumberField("combinedUncertainty", budget.combined());
        writeFinite(json, "effectiveDegreesOfFreedom", budget.effectiveDegreesOfFreedom());
        json.writeArrayFieldStart("components");
        for (UncertaintyComponent component : budget.components()) {
            json.writeStartObject();
            json.writeStringField("name", component.name());
            json.writeStringField("evaluation", component.evaluation().id());
            json.writeStringField("distribution", component.distribution().id());
            json.writeNumberField("standardUncertainty", component.standardUncertainty());
            json.writeStringField("inputUnit", component.inputUnit());
            json.writeNumberField("sensitivity", component.sensitivity());
            json.writeNumberField("contribution", component.contribution());
            json.writeNumberField("share", budget.share(component));
            writeFinite(json, "degreesOfFreedom", component.degreesOfFreedom());
            json.writeStringField("source", component.source());
            json.writeBooleanField("assumed", component.assumed());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    /** JSON has no infinity: null stands for it. */
    private static void writeFinite(JsonGenerator json, String name, double value) throws IOException {
        if (Double.isFinite(value)) {
            json.writeNumberField(name, value);
        } else {
            json.writeNullField(name);
        }
    }

    /** The verdicts on a recording, or on a step of a programme, as elements of an array. */
    static void writeVerdicts(Assessment.Of assessment, Optional<String> step, JsonGenerator json) throws IOException {
        for (Decision decision : assessment.decisions()) {
            writeVerdict(decision, assessment.advice(decision), step, json);
        }
    }

    static void writeVerdict(Decision decision, List<String> advice, Optional<String> step, JsonGenerator json)
            throws IOException {
        Limit limit = decision.limit();
        json.writeStartObject();
        if (step.isPresent()) {
            json.writeStringField("step", step.get());
        }
        json.writeStringField("quantity", limit.quantity().id());
        JsonLine.numberOrNull(json, "channel", decision.reading().channel());
        OptionalDouble at = limit.range().isPresent() ? decision.reading().atFrequencyHz() : limit.atFrequencyHz();
        if (at.isPresent()) {
            json.writeObjectFieldStart("at");
            json.writeNumberField("frequencyHz", at.getAsDouble());
            json.writeEndObject();
        }
        json.writeStringField("verdict", decision.verdict().id());
        JsonLine.numberOrNull(json, "probabilityOfConformity", decision.probabilityOfConformity());
        json.writeObjectFieldStart("limit");
        json.writeStringField("name", limit.name());
        JsonLine.numberOrNull(json, "lower", limit.lower());
        JsonLine.numberOrNull(json, "upper", limit.upper());
        json.writeStringField("unit", limit.unit().symbol());
        json.writeStringField("source", limit.source());
        json.writeStringField("confidence", limit.confidence().id());
        json.writeEndObject();
        json.writeStringField("rule", decision.rule().description());
        JsonLine.numberOrNull(json, "guardBand", decision.guardBand());
        json.writeStringField("reason", decision.reason());
        json.writeArrayFieldStart("advice");
        for (String sentence : advice) {
            json.writeString(sentence);
        }
        json.writeEndArray();
        json.writeEndObject();
    }
}
