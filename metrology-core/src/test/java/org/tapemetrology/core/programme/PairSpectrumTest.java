/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** Two real spectra out of one complex transform, against the sums that define them. */
class PairSpectrumTest {
    private static final int SIZE = 32;

    private static double[] random(long seed) {
        return new Random(seed).doubles(SIZE, -1, 1).toArray();
    }

    /** Power of a bin by the definition: windowed, squared, both signs of the frequency, over the mean square of the window. */
    private static double power(double[] x, int k) {
        double re = 0;
        double im = 0;
        double squares = 0;
        for (int i = 0; i < SIZE; i++) {
            double w = Math.pow(Math.sin(Math.PI * (i + 0.5) / SIZE), 2);
            re += w * x[i] * Math.cos(2 * Math.PI * k * i / SIZE);
            im -= w * x[i] * Math.sin(2 * Math.PI * k * i / SIZE);
            squares += w * w;
        }
        return 2 * (re * re + im * im) / (SIZE * squares);
    }

    @Test
    void eachChannelHasItsOwnSpectrum() {
        double[] first = random(1);
        double[] second = random(2);
        PairSpectrum spectrum = new PairSpectrum(SIZE);
        spectrum.take(new double[][] {first, second});
        for (int k = 1; k <= SIZE / 2; k++) {
            // Rounding of sums of 32 terms of the order of 1.
            assertThat(spectrum.of(0)[k]).isCloseTo(power(first, k), within(1e-14));
            assertThat(spectrum.of(1)[k]).isCloseTo(power(second, k), within(1e-14));
            assertThat(spectrum.both()[k]).isCloseTo(power(first, k) + power(second, k), within(1e-14));
        }
        assertThat(spectrum.both()[0]).isZero();
        assertThat(spectrum.both()).hasSize(SIZE / 2 + 1);
    }

    @Test
    void aSingleChannelLeavesTheOtherSilent() {
        PairSpectrum spectrum = new PairSpectrum(SIZE);
        spectrum.take(new double[][] {random(1), random(2)});
        spectrum.take(new double[][] {random(3)});
        for (int k = 1; k <= SIZE / 2; k++) {
            assertThat(spectrum.of(1)[k]).isCloseTo(0, within(1e-30));
            assertThat(spectrum.of(0)[k]).isCloseTo(power(random(3), k), within(1e-14));
        }
    }

    /** Bins 1 to the last; what lies beyond has nothing. */
    @Test
    void sumsStayWithinTheSpectrum() {
        double[] power = {100, 1, 2, 4, 8};
        assertThat(PairSpectrum.sum(power, 0, 4)).isEqualTo(15);
        assertThat(PairSpectrum.sum(power, -3, 9)).isEqualTo(15);
        assertThat(PairSpectrum.sum(power, 2, 3)).isEqualTo(6);
        assertThat(PairSpectrum.sum(power, 3, 2)).isZero();
    }
}
