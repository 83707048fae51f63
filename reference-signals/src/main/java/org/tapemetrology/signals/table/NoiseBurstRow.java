/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import java.util.OptionalDouble;

/**
 * A row of the test of a quasi-peak noise indicator by bursts of 5 kHz.
 *
 * @param burstMilliseconds duration of a burst
 * @param burstsPerSecond repetition; empty for a single burst
 * @param nominalPercent reading re that of the steady tone
 * @param lowerPercent lower limit
 * @param upperPercent upper limit
 * @param confidence how sure the figures are
 */
public record NoiseBurstRow(
        double burstMilliseconds,
        OptionalDouble burstsPerSecond,
        double nominalPercent,
        double lowerPercent,
        double upperPercent,
        Confidence confidence) {}
