/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.files;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.jr.ob.JSON;
import java.io.CharConversionException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;

/**
 * The fields of a JSON object that was read from a file. Each is asked for by name and checked; {@link #noOthers()} then
 * refuses what nobody asked for. Every error names the file and the field, as in {@code parts[2].kind}.
 */
public final class JsonFields {
    /** Larger than any description of a machine, and small enough for any memory. */
    private static final long MOST_BYTES = 1 << 20;

    private static final JSON PARSER = JSON.std.with(JSON.Feature.FAIL_ON_DUPLICATE_MAP_KEYS);

    private final String file;
    private final String path;
    private final Map<String, Object> fields;
    private final Set<String> asked = new HashSet<>();

    private JsonFields(String file, String path, Map<String, Object> fields) {
        this.file = file;
        this.path = path;
        this.fields = fields;
    }

    /** Reads a file that holds one JSON object. */
    public static JsonFields read(Path file) throws IOException {
        return of(file, object(file));
    }

    /** The fields of an object that was read from a file and looked through since. */
    public static JsonFields of(Path file, Map<String, Object> fields) {
        return new JsonFields(file.toString(), "", fields);
    }

    /** The object that a file holds. */
    public static Map<String, Object> object(Path file) throws IOException {
        if (!Files.isRegularFile(file)) {
            throw new IOException(file + ": no such file");
        }
        if (Files.size(file) > MOST_BYTES) {
            throw new IOException(file + ": " + Files.size(file) + " bytes are more than " + MOST_BYTES);
        }
        byte[] bytes = Files.readAllBytes(file);
        try {
            Map<String, Object> read = PARSER.mapFrom(bytes);
            if (read == null) {
                throw new IOException(file + ": is null, not an object");
            }
            return read;
        } catch (CharConversionException wrong) {
            throw new IOException(file + ": is no text in UTF-8, UTF-16 or UTF-32: " + wrong.getMessage(), wrong);
        } catch (JsonProcessingException wrong) {
            throw new IOException(
                    String.format(
                            "%s: not JSON in line %d, column %d: %s",
                            file,
                            wrong.getLocation() == null
                                    ? 1
                                    : wrong.getLocation().getLineNr(),
                            wrong.getLocation() == null
                                    ? 1
                                    : wrong.getLocation().getColumnNr(),
                            wrong.getOriginalMessage()),
                    wrong);
        }
    }

    /** A number between two bounds, both allowed; empty where the field is missing. */
    public OptionalDouble number(String name, double least, double greatest) {
        Object value = get(name);
        if (value == null) {
            return OptionalDouble.empty();
        }
        if (!(value instanceof Number number)) {
            throw wrong(name, "is no number");
        }
        double given = number.doubleValue();
        if (!(given >= least && given <= greatest)) {
            throw wrong(name, given + " is not in [" + least + ", " + greatest + "]");
        }
        return OptionalDouble.of(given);
    }

    /** A number that must be there. */
    public double requiredNumber(String name, double least, double greatest) {
        return number(name, least, greatest).orElseThrow(() -> wrong(name, "is missing"));
    }

    /** A list of numbers that must be there, each between two bounds. */
    public List<Double> numbers(String name, double least, double greatest) {
        if (!(get(name) instanceof List<?> list)) {
            throw wrong(name, "is no list");
        }
        List<Double> numbers = new ArrayList<>();
        for (Object each : list) {
            if (!(each instanceof Number number)) {
                throw wrong(name + "[" + numbers.size() + "]", "is no number");
            }
            double given = number.doubleValue();
            if (!(given >= least && given <= greatest)) {
                throw wrong(name + "[" + numbers.size() + "]", given + " is not in [" + least + ", " + greatest + "]");
            }
            numbers.add(given);
        }
        return numbers;
    }

    /** A text; empty where the field is missing. */
    public Optional<String> text(String name) {
        Object value = get(name);
        if (value == null) {
            return Optional.empty();
        }
        if (!(value instanceof String text)) {
            throw wrong(name, "is no text");
        }
        return Optional.of(text);
    }

    /** A text that must be there. */
    public String requiredText(String name) {
        return text(name).orElseThrow(() -> wrong(name, "is missing"));
    }

    /** A list of texts; empty where the field is missing. */
    public List<String> texts(String name) {
        Object value = get(name);
        if (value == null) {
            return List.of();
        }
        if (!(value instanceof List<?> list)) {
            throw wrong(name, "is no list");
        }
        List<String> texts = new ArrayList<>();
        for (Object each : list) {
            if (!(each instanceof String text)) {
                throw wrong(name + "[" + texts.size() + "]", "is no text");
            }
            texts.add(text);
        }
        return texts;
    }

    /** Whether a field says true; false where it is missing. */
    boolean flag(String name) {
        Object value = get(name);
        if (value != null && !(value instanceof Boolean)) {
            throw wrong(name, "is neither true nor false");
        }
        return Boolean.TRUE.equals(value);
    }

    /** An object; empty where the field is missing. */
    public Optional<JsonFields> object(String name) {
        Object value = get(name);
        return value == null ? Optional.empty() : Optional.of(object(value, name));
    }

    /** A list of objects; empty where the field is missing. */
    public List<JsonFields> objects(String name) {
        Object value = get(name);
        if (value == null) {
            return List.of();
        }
        if (!(value instanceof List<?> list)) {
            throw wrong(name, "is no list");
        }
        List<JsonFields> objects = new ArrayList<>();
        for (int i = 0; i < list.size(); i++) {
            objects.add(object(list.get(i), name + "[" + i + "]"));
        }
        return objects;
    }

    @SuppressWarnings("unchecked") // the keys of a JSON object are texts
    private JsonFields object(@Nullable Object value, String name) {
        if (!(value instanceof Map)) {
            throw wrong(name, "is no object");
        }
        return new JsonFields(file, path + name + ".", (Map<String, Object>) value);
    }

    /** Whether a field is there. */
    public boolean has(String name) {
        return get(name) != null;
    }

    private @Nullable Object get(String name) {
        asked.add(name);
        return fields.get(name);
    }

    /** Refuses fields that nobody asked for: one that is misspelt must not pass unseen. */
    public void noOthers() {
        Set<String> others = new TreeSet<>(fields.keySet());
        others.removeAll(asked);
        if (!others.isEmpty()) {
            String other = others.iterator().next();
            throw wrong(other, "is not known here; known are " + String.join(", ", new TreeSet<>(asked)));
        }
    }

    /** Whether a message names the file already. */
    boolean isNamedBy(String message) {
        return message.startsWith(file + ": ");
    }

    /** An error that names the file; one that does not yet is put down to a field. */
    IllegalArgumentException named(IllegalArgumentException wrong, String name) {
        String message = String.valueOf(wrong.getMessage());
        return isNamedBy(message) ? wrong : wrong(name, ": " + message);
    }

    /** An error about a field. */
    public IllegalArgumentException wrong(String name, String what) {
        return new IllegalArgumentException(file + ": " + path + name + " " + what);
    }
}
