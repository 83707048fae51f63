/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

/**
 * A row of the test of a quasi-peak flutter indicator by unidirectional pulses, one per second.
 *
 * @param pulseMilliseconds duration of a pulse
 * @param indication which indication the figures are about
 * @param nominalPercent indication re that of a 4 Hz sine of the same peak-to-peak size
 * @param lowerPercent lower limit
 * @param upperPercent upper limit
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
