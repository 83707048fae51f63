/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

/**
 * How fast the indication of a peak programme meter falls.
 *
 * @param type type of meter, I or II
 * @param fallDb fall of the indication
 * @param seconds nominal time that it takes
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
