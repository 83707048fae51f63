/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What was read at one moment, and what the reader must know about it.
 *
 * @param readings every figure, valid or not
 * @param warnings every warning
 */
public record Measurement(List<Reading> readings, List<Warning> warnings) {
    /**
     * A measurement, its lists copied.
     *
     * @param readings every figure
     * @param warnings every warning
     */
    public Measurement {
        readings = List.copyOf(readings);
        warnings = List.copyOf(warnings);
    }

    /**
     * The first reading of a quantity, on whatever channel.
     *
     * @param quantity the quantity
     * @return the reading, empty where the recording does not allow it
     */
    public Optional<Reading> find(Quantity quantity) {
        return readings.stream().filter(r -> r.quantity() == quantity).findFirst();
    }

    /**
     * The first reading of a quantity on a channel.
     *
     * @param quantity the quantity
     * @param channel 1-based channel
     * @return the reading, empty where there is none
     */
    public Optional<Reading> find(Quantity quantity, int channel) {
        return readings.stream()
                .filter(r -> r.quantity() == quantity && r.channel().orElse(0) == channel)
                .findFirst();
    }

    /**
     * This measurement with one more warning.
     *
     * @param warning the warning
     * @return a measurement with the same readings
     */
    public Measurement withWarning(Warning warning) {
        List<Warning> more = new ArrayList<>(warnings);
        more.add(warning);
        return new Measurement(readings, more);
    }

    /**
     * Whether there is a warning of a kind.
     *
     * @param code the kind
     * @return true where there is one
     */
    public boolean warnsOf(WarningCode code) {
        return warnings.stream().anyMatch(w -> w.code() == code);
    }
}
