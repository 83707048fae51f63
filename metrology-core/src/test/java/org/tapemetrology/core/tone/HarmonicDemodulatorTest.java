/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** The block-wise sums against the sum that defines them. */
class HarmonicDemodulatorTest {
    @Test
    void isTheSumThatDefinesIt() {
        int length = 8 * HarmonicDemodulator.BLOCK;
        Random random = new Random(7);
        double[] x = random.doubles(length, -1, 1).toArray();
        double[] phase = random.doubles(length, -3, 3).toArray();
        double[] cos = new double[length];
        double[] sin = new double[length];
        for (int i = 0; i < length; i++) {
            cos[i] = Math.cos(phase[i]);
            sin[i] = Math.sin(phase[i]);
        }
        HarmonicDemodulator demodulator = new HarmonicDemodulator(10);
        double[] re = new double[11];
        double[] im = new double[11];
        demodulator.demodulate(x, cos, sin, 10, new double[11], new double[11]); // nothing of it may be left
        demodulator.demodulate(x, cos, sin, 9, re, im);
        for (int k = 1; k <= 9; k++) {
            double expectedRe = 0;
            double expectedIm = 0;
            for (int i = 0; i < length; i++) {
                expectedRe += x[i] * Math.cos(k * phase[i]);
                expectedIm -= x[i] * Math.sin(k * phase[i]);
            }
            // Rounding of 1024 products of up to 18 numbers.
            assertThat(re[k]).isCloseTo(expectedRe, within(1e-11));
            assertThat(im[k]).isCloseTo(expectedIm, within(1e-11));
        }
        assertThat(re[10]).isZero();
    }
}
