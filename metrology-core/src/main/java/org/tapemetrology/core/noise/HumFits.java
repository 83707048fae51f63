/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.Arrays;

/** Harmonic fits at one mains frequency over consecutive windows of 1 s. */
final class HumFits {
    /** The decimators are filled after 17 ms at the lowest rate. */
    static final double SETTLING_SECONDS = 0.02;

    private final double mainsHz;
    private final HarmonicFit fit;
    private final int settlingSamples;
    private final double[] window;
    private final double[] powerSums = new double[HarmonicFit.HARMONICS];
    private int unsettled;
    private int filled;
    private long windows;

    HumFits(double mainsHz, double rateHz) {
        this.mainsHz = mainsHz;
        this.window = new double[(int) Math.round(rateHz)];
        this.fit = new HarmonicFit(mainsHz, rateHz, window.length);
        this.settlingSamples = (int) Math.ceil(SETTLING_SECONDS * rateHz);
        this.unsettled = settlingSamples;
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
                fit.fit(window, powerSums);
                windows++;
                filled = 0;
            }
        }
    }

    void reset() {
        unsettled = settlingSamples;
        filled = 0;
        windows = 0;
        Arrays.fill(powerSums, 0);
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
}
