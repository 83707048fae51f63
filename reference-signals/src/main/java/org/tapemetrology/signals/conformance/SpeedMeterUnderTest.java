/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/**
 * A meter of the mean speed, fed with a recorded test tone.
 *
 * <p>All calls come from one thread; a figure that is not finite, or in another unit than was asked for, fails its
 * case.
 */
public interface SpeedMeterUnderTest extends MeterUnderTest<SpeedMeterUnderTest.Asked> {
    /** The figures. */
    enum Asked implements AskedFigure {
        /** (mean frequency - nominal frequency) / nominal frequency over the whole recording. */
        SPEED_ERROR("speed.error", "%");

        private final String id;
        private final String unit;

        Asked(String id, String unit) {
            this.id = id;
            this.unit = unit;
        }

        @Override
        public String id() {
            return id;
        }

        @Override
        public String unit() {
            return unit;
        }
    }
}
