/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

/**
 * How often random flutter alone makes a peak as high as one that was found, anywhere in the band.
 *
 * <p>The periodogram of Gaussian noise, taken as a continuous function of frequency, crosses z times its mean
 * {@code sqrt(pi z / 3) e^-z} times per resolution width (Rice's formula for a chi-square process with the spectral window
 * of a plain record; computed). Where the mean itself was estimated with n degrees of freedom, {@code (1 + 2z/n)^(-n/2)}
 * takes the place of {@code e^-z}. The rate of false alarms that is allowed is spread over the band as {@code f^-3/4},
 * between equal shares for every hertz and for every octave: the lowest octaves have few resolution widths to make a
 * false alarm, but also few to know their noise by.
 */
final class FalseAlarm {
    private final double lowestHz;
    private final double highestHz;
    private final double seconds;

    FalseAlarm(double lowestHz, double highestHz, double seconds) {
        this.lowestHz = lowestHz;
        this.highestHz = highestHz;
        this.seconds = seconds;
    }

    /** Probability for the whole band, at most 1, of a peak of so many times the mean at a frequency. */
    double probability(double hz, double ratio, double degreesOfFreedom) {
        double tail = StrictMath.exp(-degreesOfFreedom / 2 * StrictMath.log1p(2 * ratio / degreesOfFreedom));
        double perWidth = Math.max(1, StrictMath.sqrt(Math.PI * ratio / 3)) * tail;
        double share = 4 * (StrictMath.pow(highestHz, 0.25) - StrictMath.pow(lowestHz, 0.25));
        return Math.min(1, perWidth * seconds * share * StrictMath.pow(hz, 0.75));
    }
}
