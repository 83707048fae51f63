/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import java.util.Optional;

/**
 * A row of a frequency weighting.
 *
 * <p>Read by {@link PublishedTables}, which refuses what is no number; a row itself is not checked.
 *
 * @param nominalHz frequency in Hz as it is printed
 * @param exactHz frequency in Hz at which the response holds; differs from the nominal one in IEC 61672-1 alone
 * @param responseDb response re the reference frequency, in dB
 * @param tolerance tolerance in dB; empty where none is known
 * @param confidence how sure the response is
 * @param toleranceConfidence how sure the tolerance is
 */
public record WeightingRow(
        double nominalHz,
        double exactHz,
        double responseDb,
        Optional<Tolerance> tolerance,
        Confidence confidence,
        Confidence toleranceConfidence) {

    /**
     * The response as an amplitude ratio.
     *
     * @return 10^(response / 20)
     */
    public double ratio() {
        return StrictMath.pow(10, responseDb / 20);
    }
}
