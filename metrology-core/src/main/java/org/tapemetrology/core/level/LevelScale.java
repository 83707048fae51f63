/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/**
 * Levels on the scales that a service sheet uses: the voltage at the converter, in dBu, and the level re a reference, in dB.
 * Noise is given re the reference where there is one. Immutable.
 *
 * @param fullScale voltage of a full-scale sine, empty where it is not known
 * @param reference level that levels and noise are given re, empty without one
 */
public record LevelScale(Optional<ConverterFullScale> fullScale, Optional<DigitalLevel> reference) {
    private static final String VOLTAGE = "by the full scale of the converter";
    private static final String RE_REFERENCE = "re the reference level";

    /** No scale but that of full scale itself. */
    public static final LevelScale NONE = new LevelScale(Optional.empty(), Optional.empty());

    /**
     * The readings of one channel on these scales.
     *
     * @param readings readings re full scale
     * @return the same in the same order, each level followed by what it is on these scales
     */
    public List<Reading> applied(List<Reading> readings) {
        List<Reading> scaled = new ArrayList<>();
        for (Reading reading : readings) {
            boolean noise = reading.quantity().id().startsWith("noise.");
            scaled.add(
                    reference.isPresent() && noise ? reading.re(reference.get().dbfs()) : reading);
            if (reading.quantity() == Quantity.LEVEL) {
                fullScale.ifPresent(scale -> scaled.add(voltage(reading, scale)));
                reference.ifPresent(level -> scaled.add(relative(reading, level)));
            }
        }
        return scaled;
    }

    private static Reading withScatterOf(Reading level, Reading scaled) {
        return level.typeA().map(scaled::withTypeA).orElse(scaled);
    }

    private static Reading voltage(Reading level, ConverterFullScale scale) {
        return level.isValid()
                ? withScatterOf(
                        level,
                        Reading.valid(
                                Quantity.LEVEL_VOLTAGE,
                                scale.voltageOf(new DigitalLevel(level.value().orElseThrow()))
                                        .dbu(),
                                VOLTAGE))
                : Reading.without(Quantity.LEVEL_VOLTAGE, level.status(), VOLTAGE);
    }

    private static Reading relative(Reading level, DigitalLevel reference) {
        return level.isValid()
                ? withScatterOf(
                        level,
                        Reading.valid(
                                Quantity.LEVEL_RE_REFERENCE,
                                level.value().orElseThrow() - reference.dbfs(),
                                RE_REFERENCE))
                : Reading.without(Quantity.LEVEL_RE_REFERENCE, level.status(), RE_REFERENCE);
    }
}
