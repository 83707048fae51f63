/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.level.DigitalLevel;

/**
 * A tone as it was recorded, to which its residue after erasure refers. Immutable.
 *
 * @param level its level through the same replay chain as the residue
 * @param frequencyHz its frequency on replay in Hz
 */
public record RecordedTone(DigitalLevel level, double frequencyHz) {
    /**
     * A tone, checked.
     *
     * @param level its level
     * @param frequencyHz finite and above 0
     * @throws IllegalArgumentException if the frequency is not finite and above 0
     */
    public RecordedTone {
        Require.positive("frequencyHz", frequencyHz);
    }
}
