/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

/**
 * How fast the indication of a peak programme meter falls.
 *
 * <p>Read by {@link PublishedTables}, which refuses what is no number; a row itself is not checked.
 *
 * @param type type of meter, I or II
 * @param fallDb fall of the indication in dB
 * @param seconds nominal time that it takes in s
 * @param tolerance tolerance in seconds
 * @param confidence how sure the time is
 * @param toleranceConfidence how sure the tolerance is
 */
public record ReturnRow(
        String type,
        double fallDb,
        double seconds,
        Tolerance tolerance,
        Confidence confidence,
        Confidence toleranceConfidence) {}
