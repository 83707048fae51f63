/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** The cells of one row by the names of their columns; every error names the file, the line and the column. */
record TableRow(String place, Map<String, String> cells) {
    String text(String column) {
        String cell = cell(column);
        if (cell.isEmpty()) {
            throw new IllegalStateException(place + ": the cell " + column + " is empty");
        }
        return cell;
    }

    double number(String column) {
        String cell = text(column);
        double number;
        try {
            number = Double.parseDouble(cell);
        } catch (NumberFormatException e) {
            throw new IllegalStateException(place + ": the cell " + column + " holds no number but " + cell, e);
        }
        if (Double.isNaN(number)) {
            throw new IllegalStateException(place + ": the cell " + column + " holds no number but " + cell);
        }
        return number;
    }

    OptionalDouble optionalNumber(String column) {
        return cell(column).isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(number(column));
    }

    <E extends Enum<E>> E word(String column, Class<E> words) {
        String cell = text(column);
        try {
            return Enum.valueOf(words, cell);
        } catch (IllegalArgumentException e) {
            throw new IllegalStateException(
                    place + ": the cell " + column + " holds " + cell + ", which is no " + words.getSimpleName(), e);
        }
    }

    Confidence confidence(String column) {
        return word(column, Confidence.class);
    }

    Tolerance tolerance(String minusColumn, String plusColumn) {
        try {
            return new Tolerance(number(minusColumn), number(plusColumn));
        } catch (IllegalArgumentException e) {
            throw new IllegalStateException(place + ": " + e.getMessage(), e);
        }
    }

    Optional<Tolerance> optionalTolerance(String minusColumn, String plusColumn) {
        return cell(minusColumn).isEmpty() && cell(plusColumn).isEmpty()
                ? Optional.empty()
                : Optional.of(tolerance(minusColumn, plusColumn));
    }

    private String cell(String column) {
        String cell = cells.get(column);
        if (cell == null) {
            throw new IllegalStateException(place + ": there is no column " + column);
        }
        return cell;
    }
}
