/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

import static org.tapemetrology.core.level.Decibels.requireFinite;
import static org.tapemetrology.core.level.Decibels.requirePositive;

import java.util.OptionalDouble;

/**
 * An RMS level on the digital scale in dBFS, {@code 20 lg(sqrt(2) rms)} with a full scale of 1: a full-scale sine is
 * 0 dBFS (AES17, second-hand).
 *
 * @param dbfs the level in dBFS, finite
 */
public record DigitalLevel(double dbfs) {
    /**
     * Levels below this, in dBFS, are taken for digital silence, which has no level: it lies 50 dB below the noise of
     * 24-bit samples and is what filters leave of their past.
     */
    public static final double SILENCE_DBFS = -200;

    /**
     * A level, checked.
     *
     * @param dbfs the level in dBFS
     * @throws IllegalArgumentException if the level is not finite
     */
    public DigitalLevel {
        requireFinite("dbfs", dbfs);
    }

    /**
     * The level of an RMS value.
     *
     * @param rms RMS of the samples, above 0, with a full scale of 1
     * @return the level
     */
    public static DigitalLevel ofRms(double rms) {
        return new DigitalLevel(Decibels.ofRatio(requirePositive("rms", rms)) + Decibels.ofRatio(StrictMath.sqrt(2)));
    }

    /**
     * The level of a sine by its peak.
     *
     * @param amplitude zero-to-peak value, above 0, with a full scale of 1
     * @return the level
     */
    public static DigitalLevel ofSine(double amplitude) {
        return new DigitalLevel(Decibels.ofRatio(requirePositive("amplitude", amplitude)));
    }

    /**
     * The level of an RMS value that may be that of digital silence.
     *
     * @param rms RMS of the samples, with a full scale of 1
     * @return the level in dBFS, empty where it is below {@link #SILENCE_DBFS}
     */
    public static OptionalDouble dbfsAboveSilence(double rms) {
        double dbfs = Decibels.ofRatio(rms) + Decibels.ofRatio(StrictMath.sqrt(2));
        return dbfs >= SILENCE_DBFS ? OptionalDouble.of(dbfs) : OptionalDouble.empty();
    }

    /**
     * RMS of the samples.
     *
     * @return the RMS value with a full scale of 1
     */
    public double rms() {
        return Decibels.toRatio(dbfs) * StrictMath.sqrt(0.5);
    }
}
