/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import org.tapemetrology.core.detector.Ballistics;
import org.tapemetrology.core.detector.TwoStagePeakDetector;

/**
 * IEC 60268-10, peak programme level meters, types I and II. The standard gives limits for the indication of 5 kHz
 * bursts and for the return (second-hand, tolerances from memory); the time constants here are fitted to them and use
 * at most 0.3 of every tolerance.
 *
 * <p>Sampling rates are in Hz; one that is NaN or below 8 kHz is refused. Not for the scale, zone and input of an
 * instrument: the dynamics alone are here.
 */
public final class Iec60268Part10 {
    /** First stage of the type I model, fitted. */
    public static final Ballistics TYPE_I_FIRST_STAGE = new Ballistics(1.0215e-3, 49.815e-3);

    /** Second stage of the type I model, fitted. */
    public static final Ballistics TYPE_I_SECOND_STAGE = new Ballistics(3.248e-3, 738.3e-3);

    /** First stage of the type II model, fitted. */
    public static final Ballistics TYPE_II_FIRST_STAGE = new Ballistics(1.462e-3, 48.42e-3);

    /** Second stage of the type II model, fitted. */
    public static final Ballistics TYPE_II_SECOND_STAGE = new Ballistics(5.868e-3, 1012.2e-3);

    private Iec60268Part10() {}

    /**
     * The detector of a type I meter. A steady sine reads its RMS value.
     *
     * @param sampleRateHz rate of its input in Hz, many times the highest frequency of the signal
     * @return a detector at rest
     */
    public static TwoStagePeakDetector typeOneDetector(double sampleRateHz) {
        return new TwoStagePeakDetector(sampleRateHz, TYPE_I_FIRST_STAGE, TYPE_I_SECOND_STAGE);
    }

    /**
     * The detector of a type II meter. A steady sine reads its RMS value.
     *
     * @param sampleRateHz rate of its input in Hz, many times the highest frequency of the signal
     * @return a detector at rest
     */
    public static TwoStagePeakDetector typeTwoDetector(double sampleRateHz) {
        return new TwoStagePeakDetector(sampleRateHz, TYPE_II_FIRST_STAGE, TYPE_II_SECOND_STAGE);
    }
}
