/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.tapemetrology.core.internal.Require;

/**
 * Spectrum of scrape flutter: one-sided power density of the relative deviation in %<sup>2</sup>/Hz from 200 Hz up, with
 * its confidence, and the resonances that stand out of it. Immutable.
 *
 * <p>Frequencies are in Hz (the method is this library's own, see {@link ScrapeMeter}). Cost: resonances take a sort
 * of their surroundings for each frequency. A deviation that is not finite makes every density of its spectrum so,
 * and then no resonance stands out.
 *
 * <p>Not for what lies below 200 Hz: that is {@link FlutterSpectrum}.
 */
public final class ScrapeSpectrum {
    /** Probability that noise alone makes a peak anywhere in the band. */
    public static final double FALSE_ALARM_PROBABILITY = 0.005;

    /** A resonance of a free length of tape is narrower than what its background is taken from, in Hz on either side. */
    private static final double BACKGROUND_HZ = 100;
    /** The median of a smooth but sloping background misses its middle by so much. */
    private static final double MARGIN = 1.1;

    private final int first;
    private final double spacingHz;
    private final double halfBandwidthHz;
    private final double degreesOfFreedom;
    private final double[] density;

    ScrapeSpectrum(int first, double spacingHz, double halfBandwidthHz, double degreesOfFreedom, double[] density) {
        this.first = first;
        this.spacingHz = spacingHz;
        this.halfBandwidthHz = halfBandwidthHz;
        this.degreesOfFreedom = degreesOfFreedom;
        this.density = density;
    }

    /**
     * A resonance.
     *
     * <p>Its numbers are not checked.
     *
     * @param frequencyHz its middle in Hz, the centre of its power
     * @param halfWidthHz half the width over which it stands out, in Hz
     * @param rmsPercent RMS relative deviation that it adds, in %
     */
    public record Peak(double frequencyHz, double halfWidthHz, double rmsPercent) {}

    /**
     * How many frequencies there are.
     *
     * @return the number
     */
    public int size() {
        return density.length;
    }

    /**
     * A frequency.
     *
     * @param index which one, from 0
     * @return frequency in Hz
     */
    public double frequencyHz(int index) {
        return (first + Objects.checkIndex(index, density.length)) * spacingHz;
    }

    /**
     * Power density.
     *
     * @param index which frequency, from 0
     * @return density in %<sup>2</sup>/Hz; its root is in % per root Hz
     */
    public double density(int index) {
        return density[index];
    }

    /**
     * Factor from a density to the ends of its confidence interval, by the chi-square distribution.
     *
     * @param coverageProbability 0.5 to 0.9999
     * @return lower and upper factor
     */
    public double[] intervalFactors(double coverageProbability) {
        Require.inRange("coverageProbability", coverageProbability, 0.5, 0.9999);
        ChiSquaredDistribution chiSquare = new ChiSquaredDistribution(null, degreesOfFreedom);
        double tail = (1 - coverageProbability) / 2;
        return new double[] {
            degreesOfFreedom / chiSquare.inverseCumulativeProbability(1 - tail),
            degreesOfFreedom / chiSquare.inverseCumulativeProbability(tail)
        };
    }

    /**
     * RMS deviation of the whole band.
     *
     * @return RMS in %
     */
    public double rmsPercent() {
        return Math.sqrt(Arrays.stream(density).sum() * spacingHz);
    }

    /**
     * The resonances: where the density rises above the median of its surroundings farther than noise would anywhere in
     * the band.
     *
     * @return resonances by rising frequency
     */
    public List<Peak> peaks() {
        double cells = Math.max(1, density.length * spacingHz / (2 * halfBandwidthHz));
        double least = MARGIN
                * new ChiSquaredDistribution(null, degreesOfFreedom)
                        .inverseCumulativeProbability(1 - FALSE_ALARM_PROBABILITY / cells)
                / degreesOfFreedom;
        List<Peak> peaks = new ArrayList<>();
        double[] background = background();
        // The skirts of a strong peak ripple about the limit: what is nearer than two bandwidths belongs together.
        int together = (int) Math.ceil(4 * halfBandwidthHz / spacingHz);
        for (int i = 0; i < density.length; i++) {
            if (density[i] > least * background[i]) {
                int end = i + 1;
                for (int k = end; k < Math.min(density.length, end + together); k++) {
                    end = density[k] > least * background[k] ? k + 1 : end;
                }
                peaks.add(peak(background, i, end));
                i = end;
            }
        }
        return peaks;
    }

    private Peak peak(double[] background, int from, int end) {
        double power = 0;
        double moment = 0;
        for (int i = from; i < end; i++) {
            double excess = density[i] - background[i];
            power += excess;
            moment += excess * frequencyHz(i);
        }
        return new Peak(moment / power, (end - from) * spacingHz / 2, Math.sqrt(power * spacingHz));
    }

    private double[] background() {
        int reach = (int) Math.ceil(BACKGROUND_HZ / spacingHz);
        double[] background = new double[density.length];
        for (int i = 0; i < density.length; i++) {
            double[] around =
                    Arrays.copyOfRange(density, Math.max(0, i - reach), Math.min(density.length, i + reach + 1));
            Arrays.sort(around);
            background[i] = around[around.length / 2];
        }
        return background;
    }
}
