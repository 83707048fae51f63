/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.List;
import java.util.function.Consumer;
import org.tapemetrology.core.conformity.Verdict;

/**
 * A table with caption and headings. On a narrow screen every row becomes a list of named cells; roles are written out, since
 * some browsers take them away from a table that is shown as something else. Thread-confined.
 */
final class Table {
    private final Markup out;
    private final List<String> columns;

    /** Begins a table. */
    Table(Markup out, String caption, String... columns) {
        this.out = out;
        this.columns = List.of(columns);
        out.open("table", "role", "table");
        out.element("caption", caption);
        out.open("thead", "role", "rowgroup").open("tr", "role", "row");
        for (String column : columns) {
            out.element("th", column, "scope", "col", "role", "columnheader");
        }
        out.close().close().open("tbody", "role", "rowgroup");
    }

    /** Nothing to say; on a narrow screen the cell is left away. */
    static final Cell NONE = out -> out.text("\u2013");

    /** What a cell holds. */
    interface Cell extends Consumer<Markup> {}

    static Cell text(String text) {
        return out -> out.breakable(text);
    }

    /** A verdict as shape and word. */
    static Cell verdict(Verdict verdict) {
        return out -> verdict(out, verdict);
    }

    /** A row; its first cell heads it. */
    void row(Cell... cells) {
        if (cells.length != columns.size()) {
            throw new IllegalArgumentException(cells.length + " cells do not go with " + columns);
        }
        out.open("tr", "role", "row");
        for (int i = 0; i < cells.length; i++) {
            if (i == 0) {
                out.open("th", "scope", "row", "role", "rowheader");
            } else {
                out.open(
                        "td",
                        "role",
                        "cell",
                        "data-column",
                        columns.get(i),
                        "class",
                        cells[i] == NONE ? "none" : "some");
                out.open("div");
            }
            cells[i].accept(out);
            out.close();
            if (i > 0) {
                out.close();
            }
        }
        out.close();
    }

    /** A row of texts. */
    void row(String... cells) {
        Cell[] made = new Cell[cells.length];
        for (int i = 0; i < cells.length; i++) {
            made[i] = text(cells[i]);
        }
        row(made);
    }

    void end() {
        out.close().close();
    }

    /** A verdict as shape and word: a disc, a barred square, a ring that is open. */
    static void verdict(Markup out, Verdict verdict) {
        Palette colour = switch (verdict) {
            case PASS, CONDITIONAL_PASS -> Palette.PASS;
            case FAIL, CONDITIONAL_FAIL -> Palette.FAIL;
            case UNDECIDED -> Palette.UNDECIDED;
        };
        out.open("span", "class", "verdict " + verdict.id());
        out.open("svg", "viewBox", "0 0 14 14", "aria-hidden", "true", "class", "sign");
        switch (verdict) {
            case PASS ->
                out.empty("circle", "cx", 7, "cy", 7, "r", 6, "fill", colour.hex())
                        .empty(
                                "path",
                                "d",
                                "M4 7.2 6.2 9.6 10 4.8",
                                "fill",
                                "none",
                                "stroke",
                                Palette.PAPER.hex(),
                                "stroke-width",
                                1.7);
            case CONDITIONAL_PASS ->
                out.empty(
                        "circle", "cx", 7, "cy", 7, "r", 5, "fill", "none", "stroke", colour.hex(), "stroke-width", 2);
            case UNDECIDED ->
                out.empty(
                        "path",
                        "d",
                        "M7 1 13 7 7 13 1 7Z",
                        "fill",
                        "none",
                        "stroke",
                        colour.hex(),
                        "stroke-width",
                        1.8,
                        "stroke-dasharray",
                        "3 2");
            case CONDITIONAL_FAIL ->
                out.empty(
                        "rect",
                        "x",
                        2,
                        "y",
                        2,
                        "width",
                        10,
                        "height",
                        10,
                        "fill",
                        "none",
                        "stroke",
                        colour.hex(),
                        "stroke-width",
                        2);
            case FAIL ->
                out.empty("rect", "x", 1, "y", 1, "width", 12, "height", 12, "fill", colour.hex())
                        .empty(
                                "path",
                                "d",
                                "M4 4 10 10M10 4 4 10",
                                "fill",
                                "none",
                                "stroke",
                                Palette.PAPER.hex(),
                                "stroke-width",
                                1.7);
        }
        out.close().text(Words.verdict(verdict)).close();
    }
}
