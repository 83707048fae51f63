/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.filter.FirDecimator;
import org.tapemetrology.core.filter.FirDesign;

/** Shift and filter in one go against a multiplication by the phasor and a filter for each part. */
class ShiftingDecimatorTest {
    @ParameterizedTest
    @CsvSource({"33, 0.41", "7, 1.3", "2, 0.02"})
    void isTheShiftAndThenTheFilter(int factor, double w) {
        double[] taps = FirDesign.lowPass(0.1 / factor, 0.4 / factor, 120, 1);
        int from = 5;
        int length = 9000 + factor;
        int zero = 700;
        double[] x = new Random(factor).doubles(from + length, -1, 1).toArray();
        double[] shiftedRe = new double[length];
        double[] shiftedIm = new double[length];
        for (int i = 0; i < length; i++) {
            shiftedRe[i] = x[from + i] * Math.cos(w * (from + i - zero));
            shiftedIm[i] = -x[from + i] * Math.sin(w * (from + i - zero));
        }
        double[] expectedRe = new double[length / factor + 1];
        double[] expectedIm = new double[expectedRe.length];
        int expected = new FirDecimator(taps, factor).process(shiftedRe, 0, length, expectedRe, 0);
        new FirDecimator(taps, factor).process(shiftedIm, 0, length, expectedIm, 0);

        double[] re = new double[expectedRe.length];
        double[] im = new double[expectedRe.length];
        assertThat(new ShiftingDecimator(taps, factor).process(x, from, length, w, zero, re, im))
                .isEqualTo(expected);
        // Rounding of angles of up to 1e4 rad, 2e-12, times the sum of the taps' magnitudes, below 2.
        assertThat(re).containsExactly(expectedRe, within(4e-12));
        assertThat(im).containsExactly(expectedIm, within(4e-12));
    }
}
