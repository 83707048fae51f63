/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import java.util.List;
import org.tapemetrology.core.quantity.Confidence;

/**
 * Least requirements for home tape recorders, reel and cassette: DIN 45500 sheet 4, as reported by the trade press of
 * 1977.
 *
 * <p>Second-hand: the text was not read. Not for a machine whose maker states limits of his own.
 */
public final class Din45500Sheet4 {
    /**
     * Tolerance field of the response: 5 dB from 250 Hz to 6.3 kHz, 7 dB from 40 Hz and up to 12.5 kHz. The level may lie
     * at most that much below the highest level: a width, not a plus-minus.
     */
    public static final ResponseField RESPONSE = new ResponseField(
            List.of(
                    new ResponseField.Band(40, 250, 7),
                    new ResponseField.Band(250, 6300, 5),
                    new ResponseField.Band(6300, 12500, 7)),
            "DIN 45500 sheet 4, as reported by the trade press of 1977",
            Confidence.SECOND_HAND);

    private Din45500Sheet4() {}
}
