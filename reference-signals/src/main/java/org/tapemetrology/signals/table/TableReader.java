/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;

/**
 * Reads a table from a resource: lines {@code # key: text} about the whole, a line of column names, a line for each row.
 * Nothing is skipped or assumed: whatever is missing, unknown or doubled is an error, since a table that was read by
 * halves would still look like a table.
 */
final class TableReader {
    private static final Set<String> REQUIRED = Set.of("standard", "edition", "clause", "unit", "source");
    private static final String NOTE = "note";

    private final String name;
    private final Map<String, String> about = new HashMap<>();
    private List<String> columns = List.of();
    private int line;

    private TableReader(String name) {
        this.name = name;
    }

    static <R> PublishedTable<R> resource(String name, List<String> columns, Function<TableRow, R> row) {
        InputStream stream = TableReader.class.getResourceAsStream(name);
        if (stream == null) {
            throw new IllegalStateException("the table " + name + " is missing");
        }
        try (Reader reader = new InputStreamReader(stream, StandardCharsets.UTF_8)) {
            return read(name, reader, columns, row);
        } catch (IOException e) {
            throw new UncheckedIOException("the table " + name + " cannot be read", e);
        }
    }

    static <R> PublishedTable<R> read(String name, Reader reader, List<String> columns, Function<TableRow, R> row)
            throws IOException {
        return new TableReader(name).table(new BufferedReader(reader), columns, row);
    }

    private <R> PublishedTable<R> table(BufferedReader reader, List<String> expected, Function<TableRow, R> row)
            throws IOException {
        List<R> rows = new ArrayList<>();
        for (String text = reader.readLine(); text != null; text = reader.readLine()) {
            line++;
            if (text.startsWith("#")) {
                addAbout(text.substring(1));
            } else if (columns.isEmpty()) {
                columns = List.of(text.split(",", -1));
                check(columns.equals(expected), "the columns are " + columns + ", expected: " + expected);
            } else {
                rows.add(row.apply(cells(text)));
            }
        }
        check(about.keySet().containsAll(REQUIRED), "it says " + about.keySet() + ", expected: all of " + REQUIRED);
        check(!rows.isEmpty(), "the table has no rows");
        return new PublishedTable<>(
                get("standard"), get("edition"), get("clause"), get("unit"), get("source"), get(NOTE), rows);
    }

    private void addAbout(String text) {
        int colon = text.indexOf(':');
        check(colon > 0, "there is no colon after the key");
        String key = text.substring(0, colon).strip();
        String value = text.substring(colon + 1).strip();
        check(columns.isEmpty(), "the key " + key + " stands below the column names");
        check(REQUIRED.contains(key) || key.equals(NOTE), "the key " + key + " is unknown");
        check(!value.isEmpty(), "the key " + key + " has no text");
        check(about.put(key, value) == null, "the key " + key + " stands twice");
    }

    private TableRow cells(String text) {
        String[] cells = text.split(",", -1);
        check(cells.length == columns.size(), "the row has " + cells.length + " cells, expected: " + columns.size());
        Map<String, String> byColumn = new HashMap<>();
        for (int i = 0; i < cells.length; i++) {
            byColumn.put(columns.get(i), cells[i].strip());
        }
        return new TableRow(place(), byColumn);
    }

    private String get(String key) {
        return about.getOrDefault(key, "");
    }

    private String place() {
        return name + ", line " + line;
    }

    private void check(boolean holds, String message) {
        if (!holds) {
            throw new IllegalStateException(place() + ": " + message);
        }
    }
}
