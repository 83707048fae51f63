/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

/** What the half-band filters share: every second tap is zero but the middle one, which is a half. */
final class HalfBand {
    private HalfBand() {}

    /**
     * Taps 1, 3, 5 ... steps from the middle, scaled to a sum of 1/2 over one side, so that the gain at 0 Hz is 1 where
     * the samples of the other phase pass with gain 1.
     */
    static double[] sides(double passHz, double attenuationDb, double lowRateHz) {
        double[] taps = FirDesign.lowPass(passHz, lowRateHz - passHz, attenuationDb, 2 * lowRateHz);
        int middle = taps.length / 2;
        double[] sides = new double[(middle + 1) / 2];
        double sum = 0;
        for (int j = 0; j < sides.length; j++) {
            sides[j] = taps[middle + 2 * j + 1];
            sum += 2 * sides[j];
        }
        for (int j = 0; j < sides.length; j++) {
            sides[j] /= sum;
        }
        return sides;
    }

    /** Adds {@code tap (line[first + i] + line[last + i])} to every output i. */
    static void addPairs(double tap, double[] line, int first, int last, double[] out, int outOffset, int length) {
        for (int i = 0; i < length; i++) {
            out[outOffset + i] += tap * (line[first + i] + line[last + i]);
        }
    }
}
