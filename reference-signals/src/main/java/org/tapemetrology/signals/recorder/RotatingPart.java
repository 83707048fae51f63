/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import org.tapemetrology.signals.internal.Require;

/**
 * A part of the transport whose run-out makes a sinusoidal speed deviation, once per revolution.
 *
 * @param name what the part is called
 * @param rateHz its rate at the nominal tape speed in Hz, at the beginning of the pass
 * @param peakPercent peak deviation of the tape speed in %
 * @param ratePercentPerMinute how fast its rate changes, in % a minute; a pack that grows slows down
 */
public record RotatingPart(String name, double rateHz, double peakPercent, double ratePercentPerMinute) {
    /**
     * Checks the values.
     *
     * @param name not empty
     * @param rateHz 0.01 Hz to 5 kHz
     * @param peakPercent 0 to 10
     * @param ratePercentPerMinute -20 to 20
     * @throws IllegalArgumentException if the name is blank or a number is outside its range; NaN is in none
     */
    public RotatingPart {
        Require.that(!name.isBlank(), "name of the part is blank, allowed: any text");
        Require.within("rate of the " + name + " in Hz", rateHz, 0.01, 5000);
        Require.within("peak deviation of the " + name + " in %", peakPercent, 0, 10);
        Require.within("change of the rate of the " + name + " in % per minute", ratePercentPerMinute, -20, 20);
    }

    /**
     * A part whose surface moves with the tape: rate = v/(&pi;d).
     *
     * @param name what the part is called
     * @param diameterMm its diameter in mm
     * @param speedMmPerSecond tape speed
     * @param peakPercent peak deviation of the tape speed in %
     * @return the part
     */
    public static RotatingPart ofDiameter(String name, double diameterMm, double speedMmPerSecond, double peakPercent) {
        return new RotatingPart(name, speedMmPerSecond / (Math.PI * diameterMm), peakPercent, 0);
    }
}
