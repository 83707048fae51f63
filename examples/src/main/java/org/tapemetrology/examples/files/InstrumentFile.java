/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.files;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.Distribution;
import org.tapemetrology.core.uncertainty.StatedValue;
import org.tapemetrology.core.uncertainty.TestTape;

/**
 * Descriptions of test tapes and converters as JSON. Every field may be left out; what is left out is assumed. An error is
 * stated as one of
 *
 * <pre>{"value":0.02, "uncertainty":0.05, "factor":2}   a certificate: known error, expanded uncertainty, coverage factor
 * {"within":0.3}                                   a limit to both sides
 * {"atMost":0.02}                                  an effect that only adds</pre>
 */
public final class InstrumentFile {
    /** Larger than any error that leaves an instrument usable. */
    private static final double MOST = 1e6;

    private InstrumentFile() {}

    public static TestTape testTape(Path file) throws IOException {
        JsonFields fields = JsonFields.read(file);
        TestTape tape = testTape(fields);
        fields.number("toneHz", 20, 82_560);
        fields.noOthers();
        return tape;
    }

    /** A tape; fields that are not its own are left for the caller to ask for or to refuse. */
    public static TestTape testTape(JsonFields fields) {
        TestTape assumed = TestTape.assumed();
        String source = fields.text("certificate").orElse("description of the tape");
        return new TestTape(
                fields.text("name").orElse(assumed.name()),
                stated(fields, "frequencyPercent", source, assumed.frequency()),
                stated(fields, "slowSpeedPercent", source, assumed.slowSpeed()),
                stated(fields, "ownFlutterPercent", source, assumed.ownFlutter()),
                stated(fields, "levelDb", source, assumed.level()),
                stated(fields, "levelFluctuationDb", source, assumed.levelFluctuation()),
                stated(fields, "balanceDb", source, assumed.balance()),
                stated(fields, "responseDb", source, assumed.response()),
                stated(fields, "delayMicroseconds", source, assumed.delay()));
    }

    public static Converter converter(Path file) throws IOException {
        JsonFields fields = JsonFields.read(file);
        Converter converter = converter(fields);
        fields.noOthers();
        return converter;
    }

    /** A converter; fields that are not its own are left for the caller to ask for or to refuse. */
    public static Converter converter(JsonFields fields) {
        Converter assumed = Converter.assumed();
        String source = fields.text("certificate").orElse("description of the converter");
        return new Converter(
                fields.text("name").orElse(assumed.name()),
                stated(fields, "clockPpm", source, assumed.clock()),
                stated(fields, "clockStabilityPpm", source, assumed.clockStability()),
                stated(fields, "ownFlutterPercent", source, assumed.ownFlutter()),
                stated(fields, "gainDb", source, assumed.gain()),
                stated(fields, "fullScaleDb", source, assumed.fullScale()),
                stated(fields, "balanceDb", source, assumed.balance()),
                stated(fields, "delayMicroseconds", source, assumed.delay()),
                stated(fields, "distortionPercent", source, assumed.distortion()),
                fields.number("noiseDbfs", -250, 0).orElse(assumed.noiseDbfs()),
                fields.number("crosstalkDb", 0, 250).orElse(assumed.crosstalkDb()));
    }

    private static StatedValue stated(JsonFields fields, String name, String source, StatedValue assumed) {
        Optional<JsonFields> given = fields.object(name);
        if (given.isEmpty()) {
            return assumed;
        }
        JsonFields value = given.get();
        StatedValue stated;
        if (value.has("atMost")) {
            stated = StatedValue.atMost(value.requiredNumber("atMost", 0, MOST), source);
        } else if (value.has("within")) {
            stated = StatedValue.within(value.requiredNumber("within", 0, MOST), source);
        } else {
            stated = StatedValue.certified(
                    value.requiredNumber("value", -MOST, MOST),
                    value.requiredNumber("uncertainty", 0, MOST),
                    value.number("factor", 0.1, 10).orElse(2),
                    source);
        }
        value.noOthers();
        return stated;
    }

    /** A converter as it is read back, without what is assumed. */
    public static String json(Converter converter, String certificate) {
        return JsonLine.of(json -> {
            json.writeStartObject();
            json.writeStringField("name", converter.name());
            json.writeStringField("certificate", certificate);
            write(json, "clockPpm", converter.clock());
            write(json, "clockStabilityPpm", converter.clockStability());
            write(json, "ownFlutterPercent", converter.ownFlutter());
            write(json, "gainDb", converter.gain());
            write(json, "fullScaleDb", converter.fullScale());
            write(json, "balanceDb", converter.balance());
            write(json, "delayMicroseconds", converter.delay());
            write(json, "distortionPercent", converter.distortion());
            json.writeNumberField("noiseDbfs", converter.noiseDbfs());
            json.writeNumberField("crosstalkDb", converter.crosstalkDb());
            json.writeEndObject();
        });
    }

    private static void write(JsonGenerator json, String name, StatedValue value) throws IOException {
        if (value.assumed()) {
            return;
        }
        json.writeObjectFieldStart(name);
        if (value.distribution() == Distribution.ONE_SIDED) {
            json.writeNumberField("atMost", value.halfWidth());
        } else if (value.distribution() == Distribution.RECTANGULAR && value.value() == 0) {
            json.writeNumberField("within", value.halfWidth());
        } else {
            json.writeNumberField("value", value.value());
            json.writeNumberField("uncertainty", 2 * value.distribution().standardUncertainty(value.halfWidth()));
            json.writeNumberField("factor", 2);
        }
        json.writeEndObject();
    }
}
