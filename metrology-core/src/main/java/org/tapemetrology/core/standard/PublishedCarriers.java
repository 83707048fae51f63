/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import java.util.List;
import java.util.OptionalDouble;

/**
 * The carriers of published flutter measurements: 3150 Hz (IEC 60386:1972 clause 3.2), 3000 Hz (NAB, JIS; from memory) and
 * 12.5 kHz for scrape flutter (practice at high tape speeds; from memory).
 *
 * <p>A tone of NaN is near none. Not for a tape with another tone: its nominal frequency has to be told.
 */
public final class PublishedCarriers {
    /** All of them in Hz. */
    public static final List<Double> HZ = List.of(NabEdition1965.CARRIER_HZ, Iec60386Edition1972.CARRIER_HZ, 12_500.0);

    /** How far from a carrier a tone may be and still be taken for it. */
    public static final double WITHIN = 0.15;

    private PublishedCarriers() {}

    /**
     * The carrier that a tone is nearest to, by ratio.
     *
     * @param toneHz frequency of the tone in Hz
     * @return the carrier in Hz, empty where none is within 15 %
     */
    public static OptionalDouble nearest(double toneHz) {
        double best = 0;
        for (double carrier : HZ) {
            if (Math.abs(toneHz / carrier - 1) <= WITHIN
                    && (best == 0 || Math.abs(toneHz / carrier - 1) < Math.abs(toneHz / best - 1))) {
                best = carrier;
            }
        }
        return best == 0 ? OptionalDouble.empty() : OptionalDouble.of(best);
    }
}
