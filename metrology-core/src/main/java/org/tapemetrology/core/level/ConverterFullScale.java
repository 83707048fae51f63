/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

/**
 * Full scale of a converter: the RMS voltage of the sine that reads 0 dBFS.
 *
 * @param sine RMS voltage of the full-scale sine
 */
public record ConverterFullScale(VoltageLevel sine) {
    /**
     * Full scale in volts.
     *
     * @param rmsVolts RMS voltage of the full-scale sine, above 0
     * @return the full scale
     */
    public static ConverterFullScale ofVolts(double rmsVolts) {
        return new ConverterFullScale(new VoltageLevel(rmsVolts));
    }

    /**
     * The voltage at the converter's analogue side.
     *
     * @param level digital level
     * @return the voltage
     */
    public VoltageLevel voltageOf(DigitalLevel level) {
        return new VoltageLevel(sine.volts() * Decibels.toRatio(level.dbfs()));
    }

    /**
     * The level at the converter's digital side.
     *
     * @param voltage voltage at the analogue side
     * @return digital level
     */
    public DigitalLevel levelOf(VoltageLevel voltage) {
        return new DigitalLevel(Decibels.ofRatio(voltage.volts() / sine.volts()));
    }
}
