/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Hum in windows of 1 s at 3 kHz, of which the first 20 ms settle. */
class HumFitsTest {
    private static final int RATE = 3000;
    private static final int SETTLING = 60;

    private static double[] hum(int windows, double noise, double... amplitudes) {
        Random random = new Random(3);
        double[] x = new double[SETTLING + windows * RATE];
        for (int i = 0; i < x.length; i++) {
            x[i] = noise * random.nextGaussian();
            for (int k = 1; k <= amplitudes.length; k++) {
                x[i] += amplitudes[k - 1] * Math.cos(2 * Math.PI * k * 50.05 * i / RATE + k);
            }
        }
        return x;
    }

    private static HumFits fitted(double[] x) {
        HumFits fits = new HumFits(50, RATE);
        fits.process(x, x.length);
        return fits;
    }

    /** A line of amplitude a has the power a^2/2; a tenth harmonic 0.02 Hz off loses 0.006 dB. What settles does not count. */
    @Test
    void powersAreThoseOfTheLines() {
        double[] x = hum(3, 0, 0.1, 0, 0.03, 0, 0, 0, 0, 0, 0, 0.01);
        Arrays.fill(x, 0, SETTLING, 50);
        HumFits fits = fitted(x);
        assertThat(fits.windows()).isEqualTo(3);
        assertThat(fits.mainsHz()).isEqualTo(50);
        assertThat(fits.power(1)).isCloseTo(0.005, within(0.005 * 0.002));
        assertThat(fits.power(3)).isCloseTo(0.00045, within(0.00045 * 0.002));
        assertThat(fits.power(10)).isCloseTo(5e-5, within(5e-5 * 0.004));
        assertThat(fits.power(2)).isLessThan(1e-6);
        assertThat(fits.totalPower()).isCloseTo(0.005 + 0.00045 + 5e-5, within(2e-5));
        // Ten harmonics of what the mains may be at most.
        assertThat(HumFits.highestHz(50)).isCloseTo(503, within(1e-9));
        assertThat(HumFits.highestHz(60)).isCloseTo(603, within(1e-9));
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 59, 60, 61, 997, 9060})
    void blocksDoNotMatter(int block) {
        double[] x = hum(3, 0.01, 0.1, 0.02);
        HumFits parts = new HumFits(50, RATE);
        for (int at = 0; at < x.length; at += block) {
            int count = Math.min(block, x.length - at);
            parts.process(Arrays.copyOfRange(x, at, at + count), count);
        }
        HumFits whole = fitted(x);
        assertThat(parts.windows()).isEqualTo(3);
        assertThat(parts.totalPower()).isEqualTo(whole.totalPower());
        assertThat(parts.decibelUncertainty()).isEqualTo(whole.decibelUncertainty());
        assertThat(parts.decibelUncertainty(2))
                .isEqualTo(whole.decibelUncertainty(2))
                .isPresent();
    }

    /** A window that has begun is none. */
    @Test
    void onlyWholeWindowsCount() {
        HumFits fits = new HumFits(50, RATE);
        double[] x = hum(2, 0.01, 0.1);
        fits.process(x, SETTLING + RATE - 1);
        assertThat(fits.windows()).isZero();
        fits.process(x, 1);
        assertThat(fits.windows()).isEqualTo(1);
    }

    /**
     * Of one window: F with 2 and 8 degrees of freedom exceeds x with the probability (1 + x/4)^-4, which is to be 0.01 of twenty
     * harmonics of two mains; the fifth harmonic passes 3 Hz, and the expected highest of four lines is 1 + 1/2 + 1/3 + 1/4 times the
     * mean.
     */
    @Test
    void aHarmonicStandsOutOfTheNoiseBesideIt() {
        double needed = 4 * (Math.pow(0.0005, -0.25) - 1) * 25 / 12;
        int out = 0;
        for (double amplitude = 0.02; amplitude < 0.5; amplitude *= 1.1) {
            double[] x = hum(1, 0.5, 0, 0, 0, 0, amplitude);
            double[] power = new double[10];
            double[] noise = new double[10];
            new HarmonicFit(50, RATE, RATE).fit(Arrays.copyOfRange(x, SETTLING, x.length), power, noise);
            boolean expected = power[4] > needed * noise[4];
            assertThat(fitted(x).standsOut(5)).as("amplitude %s", amplitude).isEqualTo(expected);
            out += expected ? 1 : 0;
        }
        assertThat(out).isBetween(5, 25);
    }

    /** Noise alone has no hum; a line of a tenth of it, in five windows, is seen where it is. */
    @Test
    void noiseIsNoHum() {
        HumFits noise = fitted(hum(5, 0.5));
        assertThat(noise.standsOut()).isFalse();
        HumFits third = fitted(hum(5, 0.5, 0, 0, 0.12));
        assertThat(third.standsOut()).isTrue();
        assertThat(third.standsOut(3)).isTrue();
        assertThat(third.standsOut(4)).isFalse();
        HumFits tenth = fitted(hum(5, 0.5, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0.15));
        assertThat(tenth.standsOut()).isTrue();
        assertThat(tenth.standsOut(10)).isTrue();
    }

    /** The scatter is that of the windows, of which level 1 % each way is 0.09 dB; it needs some of them. */
    @Test
    void scatterIsThatOfTheWindows() {
        double[] x = hum(6, 0, 0.1);
        for (int i = SETTLING; i < x.length; i++) {
            x[i] *= (i - SETTLING) / RATE % 2 == 0 ? 1.01 : 0.99;
        }
        HumFits fits = fitted(x);
        double swing = 20 / Math.log(10) * 0.01;
        // Fewer than eight windows are taken for independent: the deviation over the root of six, with five degrees.
        double expected = swing * Math.sqrt(6 / 5.0) / Math.sqrt(6);
        assertThat(fits.decibelUncertainty(1).orElseThrow().value()).isCloseTo(expected, within(0.01 * expected));
        assertThat(fits.decibelUncertainty().orElseThrow().value()).isCloseTo(expected, within(0.02 * expected));
        assertThat(new HumFits(50, RATE).decibelUncertainty()).isEmpty();
    }

    @Test
    void afterAResetItIsAsNew() {
        HumFits fits = fitted(hum(4, 0.1, 0.5, 0.4, 0.3));
        fits.process(new double[100], 100);
        fits.reset();
        assertThat(fits.windows()).isZero();
        assertThat(fits.decibelUncertainty()).isEmpty();
        assertThat(fits.decibelUncertainty(2)).isEmpty();
        double[] x = hum(3, 0.01, 0.1);
        fits.process(x, x.length);
        HumFits fresh = fitted(x);
        assertThat(fits.windows()).isEqualTo(3);
        assertThat(fits.totalPower()).isEqualTo(fresh.totalPower());
        assertThat(fits.decibelUncertainty(1)).isEqualTo(fresh.decibelUncertainty(1));
        for (int k = 1; k <= 10; k++) {
            assertThat(fits.standsOut(k)).isEqualTo(fresh.standsOut(k));
        }
    }
}
