/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import org.apache.commons.math3.distribution.TDistribution;
import org.tapemetrology.core.internal.Require;

/**
 * A periodic component of the relative speed deviation, {@code A cos(2 pi f t + phase)}, told from the random flutter
 * around it. Uncertainties follow from the density of that flutter by least squares (for a single line they are the
 * Cramer-Rao bounds); they have the degrees of freedom with which the density is known.
 *
 * <p>Made by {@link LineFit}; its numbers are not checked.
 *
 * @param frequencyHz frequency in Hz, at the middle of the record
 * @param amplitude peak amplitude, a ratio
 * @param phaseRad phase at the middle of the record in rad, -pi to pi
 * @param frequencyUncertaintyHz standard uncertainty of the frequency in Hz
 * @param amplitudeUncertainty standard uncertainty of the amplitude, a ratio
 * @param phaseUncertaintyRad standard uncertainty of the phase in rad
 * @param driftHzPerSecond drift of the frequency in Hz/s; 0 for a line that is steady within what the noise tells
 * @param driftUncertaintyHzPerSecond its standard uncertainty in Hz/s; 0 for a steady line
 * @param noiseDensityPerHz one-sided power density of the random flutter around the line in 1/Hz
 * @param degreesOfFreedom degrees of freedom of that density
 * @param noiseRatioDb power of the line over that of the random flutter in a band of 1/(length of the record), in dB
 * @param falseAlarmProbability probability that random flutter alone makes such a line anywhere in the band
 */
public record Line(
        double frequencyHz,
        double amplitude,
        double phaseRad,
        double frequencyUncertaintyHz,
        double amplitudeUncertainty,
        double phaseUncertaintyRad,
        double driftHzPerSecond,
        double driftUncertaintyHzPerSecond,
        double noiseDensityPerHz,
        double degreesOfFreedom,
        double noiseRatioDb,
        double falseAlarmProbability) {

    /**
     * Peak amplitude in per cent.
     *
     * @return amplitude in %
     */
    public double amplitudePercent() {
        return 100 * amplitude;
    }

    /**
     * Factor that makes expanded uncertainties of the standard ones, by Student's distribution (JCGM 100:2008, G.3).
     *
     * @param coverageProbability probability that the interval holds the truth, 0.5 to 0.9999
     * @return coverage factor
     */
    public double coverageFactor(double coverageProbability) {
        Require.inRange("coverageProbability", coverageProbability, 0.5, 0.9999);
        // Without a random generator, which it does not need here.
        return new TDistribution(null, degreesOfFreedom).inverseCumulativeProbability((1 + coverageProbability) / 2);
    }
}
