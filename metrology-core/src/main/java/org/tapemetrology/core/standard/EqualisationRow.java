/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Confidence;

/**
 * A published replay equalisation of a tape speed.
 *
 * @param name its usual name
 * @param speedCmPerSecond nominal tape speed in cm/s
 * @param curve time constants
 * @param source where it is published
 * @param confidence how well it is known
 */
public record EqualisationRow(
        String name, double speedCmPerSecond, ReplayEqualisation curve, String source, Confidence confidence) {

    /**
     * A row, checked.
     *
     * @param name its usual name
     * @param speedCmPerSecond nominal tape speed in cm/s, above 0
     * @param curve time constants
     * @param source where it is published
     * @param confidence how well it is known
     * @throws IllegalArgumentException if the speed is not finite and above 0
     */
    public EqualisationRow {
        Require.positive("speedCmPerSecond", speedCmPerSecond);
    }
}
