/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.jr.ob.JSON;
import java.io.IOException;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.tapemetrology.examples.files.JsonFields;
import org.tapemetrology.examples.files.JsonLine;

/** Writes a service file: begins one, and adds to it without losing anything. */
public final class ServiceDocument {
    private ServiceDocument() {}

    /** Adds an entry to one of the lists of a document, leaving everything else as it stands. */
    public static void add(Path file, String list, Map<String, Object> entry) throws IOException {
        ServiceFile.read(file); // nothing is added to what is not sound
        Map<String, Object> document = JsonFields.object(file);
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
            ServiceFile.read(written);
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
    public static String blank(String machine, int heads, int channels) {
        return JsonLine.of((JsonGenerator json) -> {
            json.writeStartObject();
            json.writeStringField("schema", ServiceFile.SCHEMA);
            json.writeObjectFieldStart("machine");
            json.writeStringField("name", machine);
            json.writeNumberField("heads", heads);
            json.writeNumberField("channels", channels);
            json.writeEndObject();
            for (String list : List.of("limits", "testTapes", "recordings", "entered", "repairs")) {
                json.writeArrayFieldStart(list);
                json.writeEndArray();
            }
            json.writeEndObject();
        });
    }
}
