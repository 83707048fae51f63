/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/**
 * A meter of wow and flutter, fed with a recorded test tone.
 *
 * <p>All calls come from one thread; a figure that is not finite, or in another unit than was asked for, fails its
 * case.
 */
public interface FlutterMeterUnderTest extends MeterUnderTest<FlutterMeterUnderTest.Asked> {
    /** The figures, all in % of the mean speed. A meter need only give those of the suites it is run against. */
    enum Asked implements AskedFigure {
        /** Highest indication of the weighted quasi-peak meter since it settled, at most 3 s after the start. */
        QUASI_PEAK("flutter.weighted.quasi-peak"),
        /** Present indication of the weighted quasi-peak meter. */
        QUASI_PEAK_NOW("flutter.weighted.quasi-peak.now"),
        /** Weighted magnitude that is exceeded for 5 % of the time. */
        TWO_SIGMA("flutter.weighted.two-sigma"),
        /** Weighted, true RMS. */
        WEIGHTED_RMS("flutter.weighted.rms"),
        /** Weighted, average-responding, scaled to the RMS of a sine. */
        WEIGHTED_AVERAGE("flutter.weighted.average"),
        /** Flat from 0.5 Hz to 200 Hz, average-responding, scaled to the RMS of a sine. */
        UNWEIGHTED_AVERAGE("flutter.unweighted.average");

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
            return "%";
        }
    }
}
