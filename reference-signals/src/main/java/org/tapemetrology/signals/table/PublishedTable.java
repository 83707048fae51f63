/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import java.util.List;

/**
 * A table of a published standard. Immutable.
 *
 * @param <R> what a row holds
 * @param standard the standard, with those that print the same table
 * @param edition its edition
 * @param clause the clause or table in it
 * @param unit unit of the values
 * @param source where the figures were read
 * @param note what a user of the table must know; empty for nothing
 * @param rows the rows in printed order, at least one
 */
public record PublishedTable<R>(
        String standard, String edition, String clause, String unit, String source, String note, List<R> rows) {
    /**
     * Copies the rows.
     *
     * @param standard the standard
     * @param edition its edition
     * @param clause the clause or table in it
     * @param unit unit of the values
     * @param source where the figures were read
     * @param note what a user of the table must know
     * @param rows the rows in printed order
     */
    public PublishedTable {
        rows = List.copyOf(rows);
    }
}
