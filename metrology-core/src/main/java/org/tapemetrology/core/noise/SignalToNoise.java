/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Unit;

/**
 * A noise level below a reference level, both from the same channel at the same gain.
 *
 * @param reference level of the reference signal
 * @param noise level of the noise
 */
public record SignalToNoise(DigitalLevel reference, DigitalLevel noise) {
    /**
     * The ratio for a noise reading.
     *
     * @param reference level of the reference signal
     * @param noise a valid reading in dBFS
     * @return the pair of levels
     */
    public static SignalToNoise of(DigitalLevel reference, Reading noise) {
        if (noise.unit() != Unit.DBFS) {
            throw new IllegalArgumentException(
                    noise.quantity().id() + " is in " + noise.unit().symbol() + ", not in " + Unit.DBFS.symbol());
        }
        return new SignalToNoise(
                reference,
                new DigitalLevel(noise.value()
                        .orElseThrow(() ->
                                new IllegalArgumentException(noise.quantity().id() + " has no value: its status is "
                                        + noise.status().id()))));
    }

    /**
     * Reference level minus noise level.
     *
     * @return ratio in dB, positive where the noise is weaker
     */
    public double decibels() {
        return reference.dbfs() - noise.dbfs();
    }

    /**
     * The noise re the reference: the same figure with its sign turned.
     *
     * @return level in dB re the reference
     */
    public double noiseReReference() {
        return noise.dbfs() - reference.dbfs();
    }
}
