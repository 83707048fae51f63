/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** FIR filters: the mask that a design was asked for, and the decimator against plain convolution. */
class FirTest {
    @Test
    void sevenTapsWrittenOutAreAConvolution() {
        double[] taps = {0.1, -0.2, 0.3, 1.7, 0.3, -0.2, 0.1};
        SplittableRandom random = new SplittableRandom(3);
        double[] in = random.doubles(2000).toArray();
        double[] out = new double[in.length];
        SevenTapFilter filter = new SevenTapFilter(taps);
        int count = 0;
        for (int at = 0; at < in.length; ) {
            int part = Math.min(in.length - at, at == 0 ? 4 : 701);
            count += filter.process(in, at, part, out, count);
            at += part;
        }
        assertThat(count).isEqualTo(in.length - 6);
        for (int i = 0; i < count; i++) {
            double sum = 0;
            for (int k = 0; k < 7; k++) {
                sum += taps[k] * in[i + k];
            }
            // Rounding of seven products of about 1.
            assertThat(out[i]).isCloseTo(sum, within(1e-14));
        }
        filter.presetTo(0.5);
        filter.process(new double[] {0.5}, 0, 1, out, 0);
        assertThat(out[0]).isCloseTo(0.5 * 2.1, within(1e-15));
        assertThatThrownBy(() -> new SevenTapFilter(new double[] {1, 2, 3, 4, 3, 2, 2}))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("symmetric");
    }

    /**
     * The Kaiser window makes ripple and attenuation one figure (Kaiser 1974). His formulas for beta and length are
     * empirical and miss the figure a little, the more the lower it is: 1 dB is allowed from 90 dB on, where the library
     * designs its filters, and 2 dB below.
     */
    @ParameterizedTest
    @CsvSource({
        "470, 700, 90, 4000",
        "470, 700, 90, 8000",
        "1200, 2200, 105, 48000",
        "1200, 2200, 105, 8000",
        "5300, 9900, 105, 48000",
        "100, 400, 60, 4000",
        "100, 400, 40, 4000"
    })
    void theDesignKeepsItsMask(double passHz, double stopHz, double attenuationDb, double rateHz) {
        double[] taps = FirDesign.lowPass(passHz, stopHz, attenuationDb, rateHz);
        double allowed = Math.pow(10, -(attenuationDb - (attenuationDb >= 90 ? 1 : 2)) / 20);
        double ripple = 0;
        double stop = 0;
        for (int i = 0; i <= 4000; i++) {
            // By hand, not by the method under test: symmetric taps have the amplitude c0 + 2 sum ck cos kw.
            ripple = Math.max(ripple, Math.abs(amplitude(taps, passHz * i / 4000 / rateHz) - 1));
            stop = Math.max(stop, Math.abs(amplitude(taps, (stopHz + (rateHz / 2 - stopHz) * i / 4000) / rateHz)));
        }
        // 0 Hz has gain 1 by scaling, which moves the rest by the ripple there: twice the ripple at most.
        assertThat(ripple).isLessThan(2 * allowed);
        assertThat(stop).isLessThan(allowed);
        assertThat(taps.length % 2).isOne();
        for (int i = 0; i < taps.length; i++) {
            assertThat(taps[i]).isEqualTo(taps[taps.length - 1 - i]);
        }
        assertThat(Arrays.stream(taps).sum()).isCloseTo(1, within(1e-13));
        assertThat(FirDesign.magnitude(taps, passHz, rateHz))
                .isCloseTo(Math.abs(amplitude(taps, passHz / rateHz)), within(1e-12));
    }

    /** Negative control: a filter of half the length does not keep the first of the masks above. */
    @Test
    void halfTheLengthMissesTheMask() {
        double[] wide = FirDesign.lowPass(470, 930, 90, 4000);
        assertThat(Math.abs(amplitude(wide, 700 / 4000.0))).isGreaterThan(Math.pow(10, -30 / 20.0));
    }

    private static double amplitude(double[] taps, double cyclesPerSample) {
        int middle = taps.length / 2;
        double sum = taps[middle];
        for (int k = 1; k <= middle; k++) {
            sum += 2 * taps[middle + k] * Math.cos(2 * Math.PI * cyclesPerSample * k);
        }
        return sum;
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 5, 6, 37})
    void theDecimatorIsPlainConvolution(int factor) {
        double[] taps = FirDesign.lowPass(300, 700, 60, 8000);
        double[] in = noise(4999); // outputs that are no whole number of fours
        double[] out = new double[in.length / factor + 1];
        FirDecimator decimator = new FirDecimator(taps, factor);
        int count = decimator.process(in, 0, in.length, out, 0);

        assertThat(count).isEqualTo((in.length - taps.length) / factor + 1);
        assertThat(decimator.delaySamples()).isEqualTo(taps.length / 2);
        for (int k = 0; k < count; k++) {
            double sum = 0;
            for (int i = 0; i < taps.length; i++) {
                sum += taps[i] * in[k * factor + i];
            }
            // Another order of summation: some roundings of 1e-16 of terms that sum to about 1.
            assertThat(out[k]).isCloseTo(sum, within(1e-14));
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 480, 4096})
    void theDecimatorGivesTheSameBitsForAnyBlock(int block) {
        double[] taps = FirDesign.lowPass(300, 700, 60, 8000);
        double[] in = noise(9001);
        double[] whole = new double[in.length];
        int expected = new FirDecimator(taps, 3).process(in, 0, in.length, whole, 0);
        FirDecimator decimator = new FirDecimator(taps, 3);
        for (int pass = 0; pass < 2; pass++) { // the second one after a reset in the middle of things
            double[] parts = new double[in.length];
            int count = 0;
            for (int at = 0; at < in.length; at += block) {
                count += decimator.process(in, at, Math.min(block, in.length - at), parts, count);
            }
            assertThat(count).isEqualTo(expected);
            assertThat(parts).containsExactly(whole);
            decimator.reset();
        }
    }

    /** What it foretells of any number of samples is what it gives. */
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 5})
    void theNumberOfOutputsIsForetold(int factor) {
        double[] taps = {1, 2, 3, 4, 3, 2, 1};
        for (int inputs = 0; inputs < 40; inputs++) {
            FirDecimator decimator = new FirDecimator(taps, factor);
            int given = decimator.process(noise(40), 0, inputs, new double[40], 0);
            assertThat(decimator.outputsOf(inputs)).isEqualTo(given);
        }
    }

    @Test
    void aPresetDecimatorMakesNoTransient() {
        double[] taps = FirDesign.lowPass(300, 700, 60, 8000);
        FirDecimator decimator = new FirDecimator(taps, 4);
        decimator.presetTo(-0.3);
        double[] in = new double[400];
        Arrays.fill(in, -0.3);
        double[] out = new double[101];
        int count = decimator.process(in, 0, in.length, out, 0);
        assertThat(count).isEqualTo(100);
        for (int i = 0; i < count; i++) {
            assertThat(out[i]).isCloseTo(-0.3, within(1e-15));
        }
    }

    @Test
    void wrongTapsFactorsAndEdgesAreNamed() {
        assertThatThrownBy(() -> new FirDecimator(new double[] {1, 1}, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("2 taps: an odd number is needed");
        assertThatThrownBy(() -> new FirDecimator(new double[] {1, 2, 3}, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("taps 0 and 2 are not equal");
        assertThatThrownBy(() -> new FirDecimator(new double[] {1, 2, 1}, 4))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("factor 4 is not in 1 to 3");
        assertThatThrownBy(() -> FirDesign.lowPass(700, 470, 90, 4000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("700.0 Hz and 470.0 Hz");
        assertThatThrownBy(() -> FirDesign.lowPass(470, 700, 161, 4000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("attenuationDb 161.0 is not in 21 to 160");
    }

    /** A correction of the shape of a droop and of that of the warping of a bilinear transform. */
    @ParameterizedTest
    @CsvSource({"4000, 470", "4410, 470", "8000, 470"})
    void aMagnitudeCorrectionFollowsWhatIsWanted(double rateHz, double bandHz) {
        double[] taps = MagnitudeCorrection.design(3, bandHz, rateHz, f -> 1 + 0.15 * (f / bandHz) * (f / bandHz));
        double worst = 0;
        for (int i = 0; i <= 1000; i++) {
            double f = bandHz * i / 1000;
            double wanted = 1 + 0.15 * (f / bandHz) * (f / bandHz);
            worst = Math.max(worst, Math.abs(amplitude(taps, f / rateHz) / wanted - 1));
        }
        // Four cosines over at most a quarter of the circle follow a parabola to their next term, some 1e-6.
        assertThat(taps).hasSize(7);
        assertThat(worst).isLessThan(1e-4);
    }

    @Test
    void aWrongCorrectionIsNamed() {
        assertThatThrownBy(() -> MagnitudeCorrection.design(0, 100, 4000, f -> 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("halfLength 0 is not in 1 to 16");
        assertThatThrownBy(() -> MagnitudeCorrection.design(3, 2000, 4000, f -> 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("2000.0 Hz");
    }

    private static double[] noise(int length) {
        SplittableRandom random = new SplittableRandom(4);
        return random.doubles(length, -1, 1).toArray();
    }

    /** The length by Kaiser's formula (IEEE ISCAS 1974, from memory) with 2 dB of margin: (62 - 7.95)/(2.285 dw)/2. */
    @Test
    void theLengthIsThatOfKaisersFormula() {
        double transition = 2 * Math.PI * 400 / 8000;
        int expected = (int) Math.ceil(54.05 / (2.285 * transition) / 2);
        assertThat(FirDesign.delay(400, 60, 8000)).isEqualTo(expected).isEqualTo(38);
        assertThat(FirDesign.lowPass(300, 700, 60, 8000)).hasSize(77);
        for (double bad : new double[] {20.9, 160.1, Double.NaN}) {
            assertThatThrownBy(() -> FirDesign.delay(400, bad, 8000))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("attenuationDb " + bad);
        }
        assertThatCode(() -> FirDesign.delay(400, 21, 8000)).doesNotThrowAnyException();
        assertThatCode(() -> FirDesign.delay(400, 160, 8000)).doesNotThrowAnyException();
    }

    @Test
    void edgesAreInOrderUpToHalfTheRate() {
        double[][] edges = {{-1, 100}, {100, 100}, {100, 2001}, {Double.NaN, 100}};
        for (double[] e : edges) {
            assertThatThrownBy(() -> FirDesign.lowPass(e[0], e[1], 60, 4000))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("edges " + e[0] + " Hz and " + e[1] + " Hz")
                    .hasMessageContaining("2000.0 Hz");
        }
        assertThatCode(() -> FirDesign.lowPass(0, 2000, 60, 4000)).doesNotThrowAnyException();
    }

    @Test
    void decimatorsAndCorrectionsKeepTheirLimits() {
        double[] taps = FirDesign.lowPass(300, 700, 60, 8000);
        assertThatCode(() -> new FirDecimator(taps, taps.length)).doesNotThrowAnyException();
        assertThatThrownBy(() -> new FirDecimator(taps, 0)).hasMessageContaining("factor 0");
        assertThatThrownBy(() -> new FirDecimator(taps, taps.length + 1)).hasMessageContaining("factor 78");
        assertThatThrownBy(() -> new FirDecimator(new double[] {1, 2, 3, 2.5, 1}, 1))
                .hasMessageContaining("taps 1 and 3");
        for (int half : new int[] {0, 17}) {
            assertThatThrownBy(() -> MagnitudeCorrection.design(half, 100, 4000, f -> 1))
                    .hasMessageContaining("halfLength " + half);
        }
        assertThat(MagnitudeCorrection.design(1, 100, 4000, f -> 1)).hasSize(3);
        assertThat(MagnitudeCorrection.design(16, 1500, 4000, f -> 1)).hasSize(33);
        for (double band : new double[] {0, 2000, Double.NaN}) {
            assertThatThrownBy(() -> MagnitudeCorrection.design(3, band, 4000, f -> 1))
                    .hasMessageContaining("band of " + band + " Hz does not end below 2000.0 Hz");
        }
        double[] seven = MagnitudeCorrection.design(3, 400, 4000, f -> 1 + f / 4000);
        assertThat(new double[] {seven[0], seven[1], seven[2]}).containsExactly(seven[6], seven[5], seven[4]);
        // What runs through it: the taps are the magnitude that was wanted, on both sides of the middle.
        assertThat(FirDesign.magnitude(seven, 200, 4000)).isCloseTo(1.05, within(2e-3));
    }
}
