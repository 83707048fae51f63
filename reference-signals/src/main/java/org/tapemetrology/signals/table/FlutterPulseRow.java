/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

/**
 * A row of the test of a quasi-peak flutter indicator by unidirectional pulses, one per second.
 *
 * <p>Read by {@link PublishedTables}, which refuses what is no number; a row itself is not checked.
 *
 * @param pulseMilliseconds duration of a pulse in ms
 * @param indication which indication the figures are about
 * @param nominalPercent indication re that of a 4 Hz sine of the same peak-to-peak size
 * @param lowerPercent lower limit in %
 * @param upperPercent upper limit in %
 * @param confidence how sure the nominal indication is
 * @param toleranceConfidence how sure the limits are
 */
public record FlutterPulseRow(
        double pulseMilliseconds,
        Indication indication,
        double nominalPercent,
        double lowerPercent,
        double upperPercent,
        Confidence confidence,
        Confidence toleranceConfidence) {
    /** Which indication while the pulses repeat. */
    public enum Indication {
        /** The highest, just after a pulse. */
        HIGHEST,
        /** The lowest, just before the next pulse. */
        FALL_BACK
    }
}
