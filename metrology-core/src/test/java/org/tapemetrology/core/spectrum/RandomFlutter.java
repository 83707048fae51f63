/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;

/**
 * Gaussian random flutter of a stated density: independent Gaussian amplitudes at the frequencies of a period over twice
 * as long as the record, of which the record is a part, so its ends do not meet.
 */
final class RandomFlutter {
    /** As machines have it: falling as 1/f, a step down by 6 dB at 30 Hz, and the plateau of the playback noise. */
    static final DoubleUnaryOperator OF_A_MACHINE = f -> (f < 30 ? 1e-8 : 2.5e-9) / f + 2e-12;

    private RandomFlutter() {}

    static double[] record(long seed, int length, double rateHz, DoubleUnaryOperator densityPerHz) {
        Random random = new Random(seed);
        int points = Fourier.pointsFor(2L * length);
        double[][] spectrum = new double[2][points];
        double spacing = rateHz / points;
        for (int k = 1; k < points / 2; k++) {
            // Power density x spacing, half at either sign of the frequency, half in either part.
            double sigma = Math.sqrt(densityPerHz.applyAsDouble(k * spacing) * spacing) / 2;
            spectrum[0][k] = sigma * random.nextGaussian();
            spectrum[1][k] = sigma * random.nextGaussian();
            spectrum[0][points - k] = spectrum[0][k];
            spectrum[1][points - k] = -spectrum[1][k];
        }
        FastFourierTransformer.transformInPlace(spectrum, DftNormalization.STANDARD, TransformType.FORWARD);
        double[] record = new double[length];
        System.arraycopy(spectrum[0], 0, record, 0, length);
        return record;
    }

    /** Adds a component, its phase referred to the middle of the record. */
    static void add(double[] record, double rateHz, double hz, double amplitude, double phaseRad) {
        addDrifting(record, rateHz, hz, 0, amplitude, phaseRad);
    }

    /** Adds a component whose frequency drifts evenly; frequency and phase are those in the middle of the record. */
    static void addDrifting(
            double[] record, double rateHz, double hz, double driftHzPerSecond, double amplitude, double phaseRad) {
        double middle = (record.length - 1) / 2.0;
        for (int i = 0; i < record.length; i++) {
            double t = (i - middle) / rateHz;
            record[i] += amplitude * Math.cos(2 * Math.PI * (hz + driftHzPerSecond * t / 2) * t + phaseRad);
        }
    }
}
