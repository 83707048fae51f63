/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import java.util.List;
import org.tapemetrology.core.detector.AverageDetector;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.Root;

/**
 * IEC 60268-17, standard volume indicators: full-wave average, 99 % of the deflection 300 ms after the onset of a sine,
 * 1 % to 1.5 % overswing (second-hand; the tolerance of 10 % on the time from memory).
 *
 * <p>Sampling rates are in Hz; one that is NaN is refused. Not for the scale and input of an instrument: the dynamics
 * alone are here.
 */
public final class Iec60268Part17 {
    /**
     * Damping ratio of the movement, computed: a second-order step response with 1.25 % overswing, the middle of the
     * limits, has {@code zeta = ln(80) / sqrt(pi^2 + ln(80)^2)}.
     */
    public static final double DAMPING = 0.812717;

    /** Natural angular frequency of the movement in rad/s, computed: it first reaches 99 % at 300 ms. */
    public static final double ANGULAR_FREQUENCY = 13.5119;

    private Iec60268Part17() {}

    /**
     * The indicator's detector. A steady sine reads its RMS value.
     *
     * @param sampleRateHz rate of its input in Hz
     * @return a detector at rest
     */
    public static AverageDetector detector(double sampleRateHz) {
        return detector(sampleRateHz, DAMPING, ANGULAR_FREQUENCY);
    }

    /** A detector with a movement of its own, for tests that such a movement is found out. */
    static AverageDetector detector(double sampleRateHz, double damping, double angularFrequency) {
        double hertz = angularFrequency / (2 * StrictMath.PI);
        Root pole = Root.pair(-damping * hertz, StrictMath.sqrt(1 - damping * damping) * hertz);
        return new AverageDetector(new AnalogFilter(0, List.of(), List.of(pole)).bilinear(sampleRateHz));
    }
}
