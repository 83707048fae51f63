/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import java.util.List;
import org.tapemetrology.core.quantity.Confidence;

/**
 * Replay equalisations of earlier editions and national standards (CCIR, DIN, IEC before 1968), to which recordings of
 * their time were made.
 *
 * <p>Each row says whether it is verified or from memory. Not for recordings of today: those are in
 * {@link Iec60094Edition1981}.
 */
public final class EarlierReplayEqualisations {
    private static final String TABLE = "IASA-TC 04, 5.4.10 table 1";

    /** 76.2 cm/s, CCIR and the former IEC1: 35 us, no bass term. */
    public static final EqualisationRow REEL_76_CCIR =
            new EqualisationRow("CCIR/IEC1", 76.2, ReplayEqualisation.trebleOnly(35), TABLE, Confidence.VERIFIED);

    /** 19.05 cm/s before 1966 to 1968: 100 us, no bass term. */
    public static final EqualisationRow REEL_19_BEFORE_1968 = new EqualisationRow(
            "before 1966-68", 19.05, ReplayEqualisation.trebleOnly(100), TABLE, Confidence.VERIFIED);

    /** 9.53 cm/s, DIN 1962: 3180 + 120 us. */
    public static final EqualisationRow REEL_9_DIN_1962 =
            new EqualisationRow("DIN 1962", 9.53, ReplayEqualisation.of(3180, 120), TABLE, Confidence.VERIFIED);

    /** 9.53 cm/s, IEC 1962 to 1968: 3180 + 140 us. */
    public static final EqualisationRow REEL_9_IEC_1962 =
            new EqualisationRow("IEC 1962-68", 9.53, ReplayEqualisation.of(3180, 140), TABLE, Confidence.VERIFIED);

    /** 9.53 cm/s, DIN 1955 to 1961: 200 us, no bass term. */
    public static final EqualisationRow REEL_9_DIN_1955 =
            new EqualisationRow("DIN 1955-61", 9.53, ReplayEqualisation.trebleOnly(200), TABLE, Confidence.VERIFIED);

    /** Cassette by the older DIN 45513-6: 1590 + 120 us. */
    public static final EqualisationRow CASSETTE_DIN = new EqualisationRow(
            "cassette, older DIN", 4.76, ReplayEqualisation.of(1590, 120), "DIN 45513-6", Confidence.MEMORY);

    private static final List<EqualisationRow> ROWS =
            List.of(CASSETTE_DIN, REEL_9_DIN_1955, REEL_9_DIN_1962, REEL_9_IEC_1962, REEL_19_BEFORE_1968, REEL_76_CCIR);

    private EarlierReplayEqualisations() {}

    /**
     * All of them, by speed.
     *
     * @return rows
     */
    public static List<EqualisationRow> rows() {
        return ROWS;
    }
}
