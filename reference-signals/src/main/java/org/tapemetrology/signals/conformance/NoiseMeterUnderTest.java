/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/**
 * A meter of weighted noise.
 *
 * <p>All calls come from one thread; a figure that is not finite, or in another unit than was asked for, fails its
 * case.
 */
public interface NoiseMeterUnderTest extends MeterUnderTest<NoiseMeterUnderTest.Asked> {
    /**
     * The figures, all in dB re a full-scale sine of 1 kHz, which reads 0. A meter need only give those of the suites it is
     * run against.
     */
    enum Asked implements AskedFigure {
        /** A-weighted RMS level; the first second may be left out. */
        A_WEIGHTED("noise.a-weighted"),
        /** Steady indication of the ITU-R BS.468 meter; the first 5 s may be left out. */
        QUASI_PEAK("noise.quasi-peak"),
        /** Highest indication of the ITU-R BS.468 meter; the first 5 s may be left out. */
        QUASI_PEAK_MAXIMUM("noise.quasi-peak.maximum");

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
