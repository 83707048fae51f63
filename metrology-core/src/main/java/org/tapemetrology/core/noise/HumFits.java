/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.Arrays;
import java.util.Optional;
import org.apache.commons.math3.distribution.FDistribution;
import org.apache.commons.math3.special.Gamma;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * Harmonic fits at one mains frequency over consecutive windows of 1 s, to a whole number of blocks, and whether they found more than noise.
 *
 * <p>A fit gives a figure for noise alone too. In noise the mean power of a harmonic over w windows, 2 w degrees of
 * freedom, over that of the noise beside it follows an F distribution; what the search adds is bounded by the expected
 * highest of as many independent lines as the harmonic passes while the fundamental is searched.
 */
final class HumFits {
    /** Chance that noise alone, with both mains frequencies and all harmonics, yields one that stands out. */
    static final double FALSE_ALARMS = 0.01;

    private static final int MAINS_FREQUENCIES = 2;
    /** Eight bins of two degrees of freedom each; neighbours under a Hann window share about half of theirs. */
    private static final double NOISE_DEGREES = 8;

    /** The decimators are filled after 17 ms at the lowest rate. */
    static final double SETTLING_SECONDS = 0.02;

    private final double mainsHz;
    private final HarmonicFit fit;
    private final int settlingSamples;
    private final double[] window;
    private final double[] powerSums = new double[HarmonicFit.HARMONICS];
    private final double[] noiseSums = new double[HarmonicFit.HARMONICS];
    private final double[] before = new double[HarmonicFit.HARMONICS];
    private final LongRunMean[] powers = new LongRunMean[HarmonicFit.HARMONICS];
    private final LongRunMean total = new LongRunMean();
    private int unsettled;
    private int filled;
    private long windows;

    HumFits(double mainsHz, double rateHz) {
        this.mainsHz = mainsHz;
        this.window = new double[HarmonicFit.BLOCKS * (int) Math.round(rateHz / HarmonicFit.BLOCKS)];
        this.fit = new HarmonicFit(mainsHz, rateHz, window.length);
        this.settlingSamples = (int) Math.ceil(SETTLING_SECONDS * rateHz);
        this.unsettled = settlingSamples;
        Arrays.setAll(powers, i -> new LongRunMean());
    }

    /** Highest frequency that a fit looks at. */
    static double highestHz(double mainsHz) {
        return HarmonicFit.HARMONICS * (mainsHz + HarmonicFit.SEARCHED_HZ);
    }

    void process(double[] samples, int count) {
        int skipped = Math.min(unsettled, count);
        unsettled -= skipped;
        for (int taken = skipped; taken < count; ) {
            int part = Math.min(count - taken, window.length - filled);
            System.arraycopy(samples, taken, window, filled, part);
            taken += part;
            filled += part;
            if (filled == window.length) {
                fit.fit(window, powerSums, noiseSums);
                windows++;
                scatter();
                filled = 0;
            }
        }
    }

    private void scatter() {
        double whole = 0;
        for (int i = 0; i < powerSums.length; i++) {
            double power = powerSums[i] - before[i];
            before[i] = powerSums[i];
            powers[i].add(power);
            whole += power;
        }
        total.add(whole);
    }

    /** How well the level of a harmonic in the long run is known, in dB. */
    Optional<StandardUncertainty> decibelUncertainty(int harmonic) {
        return DecibelScatter.ofPower(powers[harmonic - 1]);
    }

    /** How well the level of all of them together is known, in dB. */
    Optional<StandardUncertainty> decibelUncertainty() {
        return DecibelScatter.ofPower(total);
    }

    void reset() {
        total.reset();
        for (LongRunMean power : powers) {
            power.reset();
        }
        Arrays.fill(before, 0);
        unsettled = settlingSamples;
        filled = 0;
        windows = 0;
        Arrays.fill(powerSums, 0);
        Arrays.fill(noiseSums, 0);
    }

    double mainsHz() {
        return mainsHz;
    }

    long windows() {
        return windows;
    }

    /** Mean power of a harmonic, 1 for the fundamental, over all windows. */
    double power(int harmonic) {
        return powerSums[harmonic - 1] / windows;
    }

    double totalPower() {
        double total = 0;
        for (int k = 1; k <= HarmonicFit.HARMONICS; k++) {
            total += power(k);
        }
        return total;
    }

    /** Whether a harmonic is more than the noise beside it. */
    boolean standsOut(int harmonic) {
        double share = FALSE_ALARMS / (MAINS_FREQUENCIES * HarmonicFit.HARMONICS);
        double ratio =
                new FDistribution(null, 2.0 * windows, NOISE_DEGREES * windows).inverseCumulativeProbability(1 - share);
        double lines = 1 + 2 * HarmonicFit.SEARCHED_HZ * harmonic;
        double ofHighest = Gamma.digamma(lines + 1) + Gamma.GAMMA;
        return powerSums[harmonic - 1] > ratio * ofHighest * noiseSums[harmonic - 1];
    }

    /** Whether any harmonic does. */
    boolean standsOut() {
        for (int k = 1; k <= HarmonicFit.HARMONICS; k++) {
            if (standsOut(k)) {
                return true;
            }
        }
        return false;
    }
}
