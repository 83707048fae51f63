/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import java.util.List;
import org.tapemetrology.core.quantity.Confidence;

/**
 * Replay equalisations of IEC 60094-1:1981, clause 15.1, and IEC 60094-7 for the cassette, as they hold today. The
 * formula is clause 15 of the former. Speeds are those of clause 10: each is twice the one below.
 *
 * <p>Second-hand for the cassette, verified in IASA-TC 04 for reels. Not for older recordings: those are in {@link
 * EarlierReplayEqualisations}.
 */
public final class Iec60094Edition1981 {
    private static final String TABLE = "IEC 60094-1:1981 clause 15.1, as listed in IASA-TC 04, 5.4.10 table 1";
    private static final String CASSETTE = "IEC 60094-1:1981 clause 15.1 and IEC 60094-7";

    /** Cassette, type I (ferric): 3180 + 120 us at 4.76 cm/s. */
    public static final EqualisationRow CASSETTE_TYPE_I = new EqualisationRow(
            "cassette, type I", 4.76, ReplayEqualisation.of(3180, 120), CASSETTE, Confidence.SECOND_HAND);

    /** Cassette, types II, III and IV: 3180 + 70 us at 4.76 cm/s. */
    public static final EqualisationRow CASSETTE_TYPE_II_III_IV = new EqualisationRow(
            "cassette, types II, III, IV", 4.76, ReplayEqualisation.of(3180, 70), CASSETTE, Confidence.SECOND_HAND);

    /** Reel at 9.53 cm/s, IEC2 and NAB: 3180 + 90 us. */
    public static final EqualisationRow REEL_9_IEC2 =
            new EqualisationRow("IEC2/NAB", 9.53, ReplayEqualisation.of(3180, 90), TABLE, Confidence.VERIFIED);

    /** Reel at 19.05 cm/s, IEC1 (studio): 70 us, no bass term. */
    public static final EqualisationRow REEL_19_IEC1 =
            new EqualisationRow("IEC1", 19.05, ReplayEqualisation.trebleOnly(70), TABLE, Confidence.VERIFIED);

    /** Reel at 19.05 cm/s, IEC2, NAB and DIN home: 3180 + 50 us. */
    public static final EqualisationRow REEL_19_IEC2 =
            new EqualisationRow("IEC2/NAB", 19.05, ReplayEqualisation.of(3180, 50), TABLE, Confidence.VERIFIED);

    /** Reel at 38.1 cm/s, IEC1 (CCIR, DIN, BS): 35 us, no bass term. */
    public static final EqualisationRow REEL_38_IEC1 =
            new EqualisationRow("IEC1", 38.1, ReplayEqualisation.trebleOnly(35), TABLE, Confidence.VERIFIED);

    /** Reel at 38.1 cm/s, NAB: 3180 + 50 us. */
    public static final EqualisationRow REEL_38_NAB =
            new EqualisationRow("IEC2/NAB", 38.1, ReplayEqualisation.of(3180, 50), TABLE, Confidence.VERIFIED);

    /** Reel at 76.2 cm/s, IEC2 and AES: 17.5 us, no bass term. */
    public static final EqualisationRow REEL_76_IEC2 =
            new EqualisationRow("IEC2/AES", 76.2, ReplayEqualisation.trebleOnly(17.5), TABLE, Confidence.VERIFIED);

    private static final List<EqualisationRow> ROWS = List.of(
            CASSETTE_TYPE_I,
            CASSETTE_TYPE_II_III_IV,
            REEL_9_IEC2,
            REEL_19_IEC1,
            REEL_19_IEC2,
            REEL_38_IEC1,
            REEL_38_NAB,
            REEL_76_IEC2);

    private Iec60094Edition1981() {}

    /**
     * All of them, by speed.
     *
     * @return rows
     */
    public static List<EqualisationRow> rows() {
        return ROWS;
    }
}
