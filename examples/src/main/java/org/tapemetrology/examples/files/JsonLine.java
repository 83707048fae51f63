/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.files;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.json.JsonWriteFeature;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** JSON on one line. */
public final class JsonLine {
    /** ASCII only, so that no encoding of the output can spoil it. */
    private static final JsonFactory FACTORY =
            JsonFactory.builder().enable(JsonWriteFeature.ESCAPE_NON_ASCII).build();

    private JsonLine() {}

    /** What writes a value. */
    @FunctionalInterface
    public interface Content {
        /**
         * Writes it.
         *
         * @param json where to
         * @throws IOException as the generator says, which does not happen on a line
         */
        void write(JsonGenerator json) throws IOException;
    }

    /**
     * One line.
     *
     * @param content writes the value
     * @return the line without its end
     */
    public static String of(Content content) {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = FACTORY.createGenerator(text)) {
            content.write(json);
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible); // a StringWriter does not fail
        }
        return text.toString();
    }

    /**
     * A field with a number, or with {@code null} where there is none.
     *
     * @param json where to
     * @param name name of the field
     * @param value the number
     * @throws IOException as the generator says
     */
    public static void numberOrNull(JsonGenerator json, String name, OptionalDouble value) throws IOException {
        if (value.isPresent()) {
            json.writeNumberField(name, value.getAsDouble());
        } else {
            json.writeNullField(name);
        }
    }

    /**
     * The same of a whole number.
     *
     * @param json where to
     * @param name name of the field
     * @param value the number
     * @throws IOException as the generator says
     */
    public static void numberOrNull(JsonGenerator json, String name, OptionalInt value) throws IOException {
        if (value.isPresent()) {
            json.writeNumberField(name, value.getAsInt());
        } else {
            json.writeNullField(name);
        }
    }
}
