/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.examples.service.ServiceRecord.Measured;

/**
 * Azimuth of a machine of one channel by peak level: the head is turned through the highest level of a short wavelength,
 * recorded at each turn, and set where it was highest (common practice, no source). The figure is how far the last recording
 * lies below the highest, once lower ones stand before and after a high one.
 */
public final class PeakAzimuth {
    private static final String METHOD = "highest level of all turns less that of the last";
    /** Levels of a poor tape jump: what comes so near to the highest is on the peak. */
    private static final double ON_THE_PEAK_DB = 0.5;

    private PeakAzimuth() {}

    static CombinedFigures of(List<Measured> all) {
        List<Reading> levels = new ArrayList<>();
        for (Measured one : all) {
            ToneReadings.levelOfHighest(one.measurements(), 1).ifPresent(levels::add);
        }
        if (levels.isEmpty()) {
            return CombinedFigures.NONE;
        }
        Reading highest = levels.get(0);
        for (Reading level : levels) {
            highest = value(level) > value(highest) ? level : highest;
        }
        if (!isEnclosed(levels, value(highest) - ON_THE_PEAK_DB)) {
            return new CombinedFigures(
                    List.of(Reading.without(Quantity.AZIMUTH_LEVEL_DROP, Status.INSUFFICIENT_DATA, METHOD)
                            .onChannel(1)),
                    List.of(
                            "the peak is not passed yet: turn the head on and record again until the level has fallen on both sides of its highest"));
        }
        Reading last = levels.get(levels.size() - 1);
        Reading drop = Reading.valid(Quantity.AZIMUTH_LEVEL_DROP, value(highest) - value(last), METHOD)
                .onChannel(1);
        return new CombinedFigures(List.of(CombinedFigures.withScatterOf(drop, last, highest)), List.of());
    }

    private static double value(Reading level) {
        return level.value().orElseThrow();
    }

    /** Whether a level on the peak has lower ones, off the peak, before and after it. */
    private static boolean isEnclosed(List<Reading> levels, double peak) {
        boolean before = false;
        boolean on = false;
        for (Reading level : levels) {
            boolean high = value(level) >= peak;
            if (on && !high) {
                return true;
            }
            on |= before && high;
            before |= !high;
        }
        return false;
    }
}
