/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/** Lines of comma-separated values as RFC 4180 has them, each record on one line. */
final class Csv {
    private Csv() {}

    static String line(List<String> cells) {
        return cells.stream().map(Csv::cell).collect(Collectors.joining(",", "", "\n"));
    }

    private static String cell(String text) {
        String flat = Numbers.oneLine(text);
        return flat.contains(",") || flat.contains("\"") ? '"' + flat.replace("\"", "\"\"") + '"' : flat;
    }

    /** A value with all the digits that it has; nothing for an infinite one. */
    static String number(double value) {
        return Double.isInfinite(value) ? "" : String.format(Locale.ROOT, "%.6f", value);
    }

    /** The cells of a line; the message of the exception says what is wrong with it. */
    static List<String> cells(String line) {
        List<String> cells = new ArrayList<>();
        StringBuilder cell = new StringBuilder();
        boolean quoted = false;
        boolean closed = false;
        for (int i = 0; i < line.length(); i++) {
            char c = line.charAt(i);
            if (quoted) {
                if (c != '"') {
                    cell.append(c);
                } else if (i + 1 < line.length() && line.charAt(i + 1) == '"') {
                    cell.append('"');
                    i++;
                } else {
                    quoted = false;
                    closed = true;
                }
            } else if (c == ',') {
                cells.add(cell.toString());
                cell.setLength(0);
                closed = false;
            } else if (c == '"' && cell.isEmpty() && !closed) {
                quoted = true;
            } else if (closed || c == '"') {
                throw new IllegalArgumentException("a quotation mark stands inside a cell");
            } else {
                cell.append(c);
            }
        }
        if (quoted) {
            throw new IllegalArgumentException("a quotation mark is not closed");
        }
        cells.add(cell.toString());
        return cells;
    }
}
