/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import java.util.List;
import org.tapemetrology.core.detector.Ballistics;
import org.tapemetrology.core.detector.TwoStagePeakDetector;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.Root;

/**
 * Recommendation ITU-R BS.468-4, measurement of audio-frequency noise voltage level in sound broadcasting: the weighting
 * network and the quasi-peak detector, and the average-responding variant that puts 0 dB at 2 kHz.
 *
 * <p>What is verified and what second-hand stands at each figure. A sampling rate that is NaN or below 8 kHz is
 * refused. Not for an average or RMS figure under the name of the document, which asks for the quasi-peak.
 */
public final class ItuRBs468Edition4 {
    /** Frequency of 0 dB of the weighting (table 1, verified), in Hz. */
    public static final double REFERENCE_HZ = 1000;

    /** Frequency of 0 dB of the average-responding variant (second-hand), in Hz. */
    public static final double AVERAGE_REFERENCE_HZ = 2000;

    /**
     * First stage of the detector, fitted: clause 2 gives limits for bursts and repeated bursts and no circuit. With
     * these constants the two-stage model uses at most a quarter of every tolerance.
     */
    public static final Ballistics FIRST_STAGE = new Ballistics(1.37e-3, 290e-3);

    /** Second stage of the detector, fitted like the first. */
    public static final Ballistics SECOND_STAGE = new Ballistics(141e-3, 153e-3);

    private ItuRBs468Edition4() {}

    /**
     * The weighting, 0 dB at 1 kHz: one zero at 0 Hz and the six poles of the network of figure 1a (its elements
     * second-hand; the poles computed from them reproduce table 1, verified, within 0.05 dB).
     *
     * @return the prototype
     */
    public static AnalogFilter weighting() {
        return weightingFrom(REFERENCE_HZ);
    }

    /**
     * The same curve with 0 dB at 2 kHz, for the average-responding variant (second-hand).
     *
     * @return the prototype
     */
    public static AnalogFilter averageWeighting() {
        return weightingFrom(AVERAGE_REFERENCE_HZ);
    }

    private static AnalogFilter weightingFrom(double referenceHz) {
        return new AnalogFilter(
                referenceHz,
                List.of(Root.real(0)),
                List.of(
                        Root.real(-4122.702066),
                        Root.real(-9975.063124),
                        Root.pair(-3758.529163, 5790.042337),
                        Root.pair(-2983.159938, 9940.842646)));
    }

    /**
     * The quasi-peak detector. A steady 1 kHz sine reads its RMS value (clause 2.6).
     *
     * @param sampleRateHz rate of its input in Hz, many times the highest frequency of the signal
     * @return a detector at rest
     */
    public static TwoStagePeakDetector quasiPeakDetector(double sampleRateHz) {
        return new TwoStagePeakDetector(sampleRateHz, FIRST_STAGE, SECOND_STAGE);
    }
}
