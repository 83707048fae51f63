/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** A sine on a line has two thirds of its power there and a sixth on either side, by the Hann window's transform (closed form). */
class LineSpectrumTest {
    private static final int LENGTH = 256;
    private static final int BINS = LENGTH / 2 + 1;
    /** Single precision of the samples. */
    private static final double ROUNDING = 1e-6;

    private static LineSpectrum of(double... linesAndAmplitudes) {
        float[] samples = new float[LENGTH];
        for (int k = 0; k < linesAndAmplitudes.length; k += 2) {
            for (int i = 0; i < LENGTH; i++) {
                samples[i] += (float)
                        (linesAndAmplitudes[k + 1] * Math.cos(2 * Math.PI * linesAndAmplitudes[k] * i / LENGTH));
            }
        }
        LineSpectrum spectrum = new LineSpectrum(LENGTH, 1);
        spectrum.take(samples, 0);
        return spectrum;
    }

    @Test
    void aLineAndItsNeighboursHoldASine() {
        LineSpectrum spectrum = of(10, 1);
        double all = spectrum.sum(0, BINS);
        assertThat(spectrum.sum(10, 10) / all).isCloseTo(2.0 / 3, within(ROUNDING));
        assertThat(spectrum.sum(9, 9) / all).isCloseTo(1.0 / 6, within(ROUNDING));
        assertThat(spectrum.sum(11, 11) / all).isCloseTo(1.0 / 6, within(ROUNDING));
        assertThat(spectrum.centroid(0, BINS)).isCloseTo(10, within(ROUNDING));
        assertThat(spectrum.most(9, 11)).isEqualTo(spectrum.sum(10, 10));
        assertThat(spectrum.hz(spectrum.bin(12.5))).isEqualTo(12.5);
    }

    @Test
    void theFirstOfEquallyStrongBinsCounts() {
        LineSpectrum silence = of();
        assertThat(silence.strongest(3, 6, 0, -1)).isEqualTo(3);
        assertThat(silence.strongest(4, 9, 5, 1)).isEqualTo(7); // 4 to 6 are left out
        assertThat(silence.strongest(4, 6, 5, 1)).isEqualTo(LineSpectrum.NONE);
        assertThat(of(10, 1, 20, 2).strongest(5, 15, 0, -1)).isEqualTo(10);
    }

    @Test
    void aPeakIsNoWeakerThanItsNeighbours() {
        LineSpectrum spectrum = of(10, 1);
        assertThat(spectrum.isPeak(10)).isTrue();
        assertThat(spectrum.isPeak(9)).isFalse();
        assertThat(spectrum.isPeak(11)).isFalse();
        assertThat(of().isPeak(5)).isTrue();
        assertThat(of().isPeak(BINS - 1)).isFalse(); // beyond which nothing is known
    }

    @Test
    void theDeepestValleyMayStandAtTheEnd() {
        LineSpectrum spectrum = of(10, 1, 14, 1);
        assertThat(spectrum.leastOfThree(10, 12)).isEqualTo(spectrum.sum(11, 13));
        assertThat(spectrum.leastOfThree(10, 11)).isEqualTo(spectrum.sum(10, 12));
        assertThat(spectrum.leastOfThree(9, 16)).isEqualTo(spectrum.sum(15, 17));
    }

    /** Of the bins from which a line and both its neighbours can be seen the middle, or the nearest. */
    @Test
    void theMiddleOfWhatHoldsMost() {
        assertThat(of(10, 1).middleOfMost(4, 20, 3)).isEqualTo(10);
        assertThat(of(10, 1).middleOfMost(4, 8, 2)).isEqualTo(8);
        assertThat(of(10, 1).middleOfMost(12, 20, 2)).isEqualTo(12);
        assertThat(of(10, 1, 14, 1).middleOfMost(4, 20, 4)).isEqualTo(12);
        // At the ends of the spectrum, beyond which there is nothing: a constant stands on line 0 and half of it on 1.
        assertThat(of(0, 1).middleOfMost(0, 3, 1)).isEqualTo(0);
        assertThat(of(BINS - 4, 1).middleOfMost(BINS - 9, BINS - 1, 1)).isEqualTo(BINS - 4);
    }
}
