/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

import static org.tapemetrology.core.level.Decibels.requireFinite;
import static org.tapemetrology.core.level.Decibels.requirePositive;

/**
 * An RMS voltage and its levels: 0 dBV is 1 V, 0 dBu is the voltage of 1 mW in 600 ohm, {@code sqrt(0.6)} V (both by
 * definition).
 *
 * @param volts RMS voltage in volts, above 0
 */
public record VoltageLevel(double volts) {
    /** RMS voltage of 0 dBu in volts: {@code sqrt(0.6)}. */
    public static final double DBU_REFERENCE_VOLTS = StrictMath.sqrt(0.6);

    /**
     * A voltage, checked.
     *
     * @param volts RMS voltage in volts
     * @throws IllegalArgumentException if the voltage is not finite and above 0
     */
    public VoltageLevel {
        requirePositive("volts", volts);
    }

    /**
     * The voltage of a level re {@code sqrt(0.6)} V.
     *
     * @param dbu level in dBu
     * @return the voltage
     */
    public static VoltageLevel ofDbu(double dbu) {
        return new VoltageLevel(DBU_REFERENCE_VOLTS * Decibels.toRatio(requireFinite("dbu", dbu)));
    }

    /**
     * The voltage of a level re 1 V.
     *
     * @param dbv level in dBV
     * @return the voltage
     */
    public static VoltageLevel ofDbv(double dbv) {
        return new VoltageLevel(Decibels.toRatio(requireFinite("dbv", dbv)));
    }

    /**
     * The level re {@code sqrt(0.6)} V.
     *
     * @return level in dBu
     */
    public double dbu() {
        return Decibels.ofRatio(volts / DBU_REFERENCE_VOLTS);
    }

    /**
     * The level re 1 V.
     *
     * @return level in dBV
     */
    public double dbv() {
        return Decibels.ofRatio(volts);
    }
}
