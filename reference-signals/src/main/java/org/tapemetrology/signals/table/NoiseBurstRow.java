/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import java.util.OptionalDouble;

/**
 * A row of the test of a quasi-peak noise indicator by bursts of 5 kHz.
 *
 * <p>Read by {@link PublishedTables}, which refuses what is no number; a row itself is not checked.
 *
 * @param burstMilliseconds duration of a burst in ms
 * @param burstsPerSecond repetition in 1/s; empty for a single burst
 * @param nominalPercent reading re that of the steady tone, in %
 * @param lowerPercent lower limit in %
 * @param upperPercent upper limit in %
 * @param confidence how sure the figures are
 */
public record NoiseBurstRow(
        double burstMilliseconds,
        OptionalDouble burstsPerSecond,
        double nominalPercent,
        double lowerPercent,
        double upperPercent,
        Confidence confidence) {}
