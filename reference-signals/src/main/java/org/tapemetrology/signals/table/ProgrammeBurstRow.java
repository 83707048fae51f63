/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

/**
 * A row of the test of a peak programme meter by bursts of 5 kHz.
 *
 * <p>Read by {@link PublishedTables}, which refuses what is no number; a row itself is not checked.
 *
 * @param burstMilliseconds duration of the burst in ms
 * @param indicationDb indication re that of the steady tone, in dB
 * @param tolerance tolerance in dB
 * @param confidence how sure the indication is
 * @param toleranceConfidence how sure the tolerance is
 */
public record ProgrammeBurstRow(
        double burstMilliseconds,
        double indicationDb,
        Tolerance tolerance,
        Confidence confidence,
        Confidence toleranceConfidence) {}
