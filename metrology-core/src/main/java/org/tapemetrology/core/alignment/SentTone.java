/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import org.tapemetrology.core.internal.Require;

/**
 * A tone that stands on a tape or is sent to the input of a machine.
 *
 * @param frequencyHz its frequency in Hz, above 0
 * @param levelDb its level in dB re the reference level
 */
public record SentTone(double frequencyHz, double levelDb) {

    /**
     * A tone, checked.
     *
     * @param frequencyHz its frequency in Hz
     * @param levelDb its level in dB re the reference level, -80 to 20
     * @throws IllegalArgumentException if the frequency is not finite and above 0 or the level is outside -80 dB to
     *     20 dB
     */
    public SentTone {
        Require.positive("frequencyHz", frequencyHz);
        Require.inRange("levelDb", levelDb, -80, 20);
    }
}
