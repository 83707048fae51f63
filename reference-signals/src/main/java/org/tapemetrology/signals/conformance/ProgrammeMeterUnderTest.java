/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/**
 * A meter of programme level with ballistics: a volume indicator or a peak programme meter.
 *
 * <p>All calls come from one thread; a figure that is not finite, or in another unit than was asked for, fails its
 * case.
 */
public interface ProgrammeMeterUnderTest extends MeterUnderTest<ProgrammeMeterUnderTest.Asked> {
    /** The figures, in dB re the indication of a steady full-scale sine of 1 kHz, which is 0. */
    enum Asked implements AskedFigure {
        /** Present indication. */
        NOW("level.now"),
        /** Highest indication since the start. */
        MAXIMUM("level.maximum");

        private final String id;

        Asked(String id) {
            this.id = id;
        }

        @Override
        public String id() {
            return id;
        }

        @Override
        public String unit() {
            return "dBFS";
        }
    }
}
