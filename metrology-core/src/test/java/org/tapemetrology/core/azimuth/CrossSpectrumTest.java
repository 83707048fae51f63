/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.azimuth.MadeFrames.omega;
import static org.tapemetrology.core.azimuth.MadeFrames.put;
import static org.tapemetrology.core.azimuth.MadeFrames.sum;

import org.junit.jupiter.api.Test;

/** Weights, shares and variances of a few bins, worked out by hand; the sums are rounded to 1e-12. */
class CrossSpectrumTest {
    /** Of 20 frames that overlap by half, 18/19 of each are independent. */
    private static final double INDEPENDENT = 20 * 18.0 / 19;

    private final PhaseLine line = new PhaseLine(MadeFrames.TRANSFORM.bins());

    /** Variance of a phase by its coherence, {@code (1 - g)/(2 M g)} (Carter, Knapp and Nuttall 1973, from memory). */
    private static double variance(double coherence) {
        return (1 - coherence) / (2 * INDEPENDENT * coherence);
    }

    private double weight(CrossSpectrum spectrum, boolean fine) {
        spectrum.meanLine(line, fine);
        return line.weightSum();
    }

    private static CrossFrame one(int bin, double common, double delay) {
        CrossFrame frame = MadeFrames.frame();
        put(frame, bin, 2, common, delay);
        return frame;
    }

    @Test
    void silentFramesCountInThePowersAlone() {
        CrossSpectrum spectrum = new CrossSpectrum(MadeFrames.TRANSFORM, 1);
        assertThat(spectrum.bins()).isEqualTo(243);
        CrossFrame frame = one(100, 1, 0);
        frame.second = 0.04;
        assertThat(spectrum.add(frame)).isTrue();
        assertThat(spectrum.frames()).isEqualTo(1);
        assertThat(spectrum.powerRatio()).isCloseTo(4, within(1e-12));
        frame.first = 0.03;
        frame.second = 0;
        assertThat(spectrum.add(frame)).isFalse();
        assertThat(spectrum.frames()).isEqualTo(1);
        assertThat(spectrum.powerRatio()).isCloseTo(1, within(1e-12));
    }

    /** Of one frame every bin is coherent; from the second on it means something. */
    @Test
    void oneFrameTellsNothing() {
        CrossSpectrum spectrum = sum(one(100, 1, 0), 1);
        assertThat(weight(spectrum, true)).isZero();
        assertThat(spectrum.highestCommonHz()).isZero();
        spectrum.add(one(100, 1, 0));
        assertThat(weight(spectrum, true)).isPositive();
        assertThat(spectrum.independent()).isCloseTo(2 * 18.0 / 19 * (1 + 8.0 / 9 + 1.0 / 18), within(1e-12));
    }

    /** Noise exceeds a coherence of {@code 1 - p^(1/(M - 1))} with a chance of 1e-6: 0.5369 of 20 frames. */
    @Test
    void whatMayBeChanceDoesNotCount() {
        double least = 1 - Math.pow(1e-6, 1 / (INDEPENDENT - 1));
        assertThat(least).isCloseTo(0.5369, within(5e-5));
        assertThat(weight(sum(one(100, Math.sqrt(0.535), 0), 20), true)).isZero();
        assertThat(weight(sum(one(100, Math.sqrt(0.539), 0), 20), true)).isPositive();
        // 50 dB below the strongest a bin is left out.
        CrossFrame frame = one(100, 1, 0);
        put(frame, 200, 2 * 1.01e-5, 1, 0);
        double both = weight(sum(frame, 20), true);
        put(frame, 200, 2 * 0.99e-5, 1, 0);
        assertThat(weight(sum(frame, 20), true)).isCloseTo(both / 2, within(1e-6 * both));
    }

    @Test
    void aBinWeighsByItsVariance() {
        double coherence = 0.8;
        double variance = variance(coherence);
        CrossSpectrum spectrum = sum(one(100, Math.sqrt(coherence), 1e-4), 20);
        // Phases may be off by 1e-4 for other reasons than noise; to find the peak by 0.02 and by a hundredth more.
        double fine = 1 / (variance + 1e-8);
        double robust = 1 / (variance + 4e-4 + 1e-4);
        assertThat(weight(spectrum, true)).isCloseTo(fine, within(1e-9 * fine));
        assertThat(line.climb(0, 1)).isCloseTo(1e-4, within(1e-12));
        assertThat(weight(spectrum, false)).isCloseTo(robust, within(1e-9 * robust));
        assertThat(line.climb(0, 1)).isCloseTo(1e-4, within(1e-12));
        spectrum.bandLine(line);
        assertThat(line.weightSum()).isCloseTo(robust, within(1e-9 * robust));
        line.differentiate(0);
        assertThat(line.value()).isCloseTo(robust, within(1e-9 * robust));
        assertThat(line.period()).isCloseTo(1 / (100 * MadeFrames.BIN_HZ), within(1e-12));
        // The delay's variance is the phase's over omega squared, times the bins of which one is independent.
        assertThat(spectrum.varianceByCoherence())
                .isCloseTo((1 + 8.0 / 9 + 1.0 / 18) * variance / Math.pow(omega(100), 2), within(1e-24));
    }

    /** A bin 30 dB below the strongest may be off by the foreign part: 0.01^2 times the root of the ratio of powers. */
    @Test
    void aWeakBinIsTrustedLess() {
        CrossFrame frame = one(100, 1, 0);
        double strong = weight(sum(frame, 20), false);
        assertThat(strong).isCloseTo(1 / 5e-4, within(1e-6));
        put(frame, 150, 2e-3, 1, 0);
        double weak = 1 / (4e-4 + 1e-4 * 1000);
        assertThat(weight(sum(frame, 20), false)).isCloseTo(strong + weak, within(1e-6));
        assertThat(weight(sum(frame, 20), true)).isCloseTo(2e8, within(1.0));
    }

    /** Up to 240 Hz, bin 15, a bin 20 dB below the strongest may be hum, whose phase is trusted to 0.05. */
    @Test
    void whatMayBeHumIsTrustedLess() {
        double strong = 1e8;
        for (int bin : new int[] {15, 16}) {
            CrossFrame frame = one(100, 1, 0);
            put(frame, bin, 2 * 0.0099, 1, 0);
            double weak = bin == 15 ? 1 / 0.0025 : 1e8;
            assertThat(weight(sum(frame, 20), true)).isCloseTo(strong + weak, within(1.0));
            put(frame, bin, 2 * 0.0101, 1, 0);
            assertThat(weight(sum(frame, 20), true)).isCloseTo(2 * strong, within(1.0));
        }
    }

    @Test
    void twoBinsVaryAsTheirWeightsSay() {
        CrossFrame frame = one(100, Math.sqrt(0.8), 0);
        put(frame, 150, 3, Math.sqrt(0.95), 0);
        double above = 0;
        double below = 0;
        for (double[] bin : new double[][] {{100, 0.8}, {150, 0.95}}) {
            double weight = 1 / (variance(bin[1]) + 1e-8);
            double square = Math.pow(omega((int) bin[0]), 2);
            above += weight * weight * square * variance(bin[1]);
            below += weight * square;
        }
        double expected = (1 + 8.0 / 9 + 1.0 / 18) * above / (below * below);
        assertThat(sum(frame, 20).varianceByCoherence()).isCloseTo(expected, within(1e-9 * expected));
    }

    @Test
    void theShareAndTheHighestOfWhatIsCommon() {
        CrossFrame frame = one(100, 0.9, 0);
        put(frame, 150, 1, 0.1, 0);
        // 1.8 of 3 is common; what the other bin has in common may be chance.
        assertThat(sum(frame, 20).coherentShare()).isCloseTo(1.8 / 3, within(1e-12));
        assertThat(sum(frame, 20).highestCommonHz()).isCloseTo(100 * 15.625, within(1e-9));
        frame.secondPower[100 - 3] = 8;
        frame.re[100 - 3] = 3.9;
        assertThat(sum(frame, 20).coherentShare()).isCloseTo(3.9 / Math.sqrt(3 * 9), within(1e-12));
        // Some of the power of the strongest is a hundredth of its amplitude in the cross spectrum.
        put(frame, 150, 3.9 * 0.0099, 1, 0);
        assertThat(sum(frame, 20).highestCommonHz()).isCloseTo(100 * 15.625, within(1e-9));
        put(frame, 150, 3.9 * 0.0101, 1, 0);
        assertThat(sum(frame, 20).highestCommonHz()).isCloseTo(150 * 15.625, within(1e-9));
        put(frame, 3, 3.9, 1, 0);
        assertThat(sum(frame, 20).highestCommonHz()).isCloseTo(150 * 15.625, within(1e-9));
    }

    /** What stands in a bin at another frequency has that one's period, six bins off at most. */
    @Test
    void theFrequencyIsThatOfTheDerivative() {
        for (double off : new double[] {0.3, -5.9, 8, -8}) {
            CrossFrame frame = one(100, 1, 1e-4);
            int i = 100 - 3;
            double turn = off * 2 * Math.PI * MadeFrames.BIN_HZ;
            frame.derivativeRe[i] = -turn * frame.im[i];
            frame.derivativeIm[i] = turn * frame.re[i];
            CrossSpectrum spectrum = sum(frame, 20);
            spectrum.meanLine(line, true);
            double bins = 100 + Math.max(-6, Math.min(6, off));
            assertThat(line.period()).isCloseTo(1 / (bins * MadeFrames.BIN_HZ), within(1e-13));
            spectrum.frameLine(frame, line);
            assertThat(line.period()).isCloseTo(1 / (bins * MadeFrames.BIN_HZ), within(1e-13));
        }
    }

    /** In a frame a bin counts by its size re the mean; one that is nothing has no phase. */
    @Test
    void aFrameIsWeighedByTheSum() {
        CrossFrame frame = one(100, 1, 0);
        put(frame, 150, 2, 1, 0);
        CrossSpectrum spectrum = sum(frame, 20);
        // What a frame itself weighs is power times frequency squared.
        double informed = 2 * Math.pow(omega(100), 2) + 2 * Math.pow(omega(150), 2);
        assertThat(spectrum.frameLine(frame, line)).isCloseTo(informed, within(1e-9 * informed));
        assertThat(line.weightSum()).isCloseTo(2e8, within(1.0));
        CrossFrame other = one(100, 3, 5e-5);
        spectrum.frameLine(other, line);
        assertThat(line.weightSum()).isCloseTo(3e8, within(1.0));
        assertThat(line.climb(0, 1)).isCloseTo(5e-5, within(1e-12));
        spectrum.frameLine(MadeFrames.frame(), line);
        assertThat(line.isEmpty()).isTrue();
    }

    /** A sum that keeps nine tenths forgets what was in it before the powers of which the ratio is taken. */
    @Test
    void aSumMayForget() {
        CrossSpectrum spectrum = new CrossSpectrum(MadeFrames.TRANSFORM, 0.9);
        CrossFrame frame = one(100, 1, 1e-4);
        frame.first = 0.03;
        spectrum.add(frame);
        spectrum.add(frame);
        assertThat(spectrum.frames()).isEqualTo(1.9);
        for (int i = 0; i < 30; i++) {
            spectrum.add(one(100, 1, 0));
        }
        assertThat(spectrum.powerRatio()).isCloseTo(32.0 / 36, within(1e-12));
        double old = 1.9 * Math.pow(0.9, 30);
        double young = (1 - Math.pow(0.9, 30)) / 0.1;
        assertThat(spectrum.frames()).isCloseTo(old + young, within(1e-12));
        // What is left of the old ones is at a phase of 0.98 rad, the young ones at none.
        double phase = omega(100) * 1e-4;
        double mean = Math.atan2(old * Math.sin(phase), young + old * Math.cos(phase));
        spectrum.meanLine(line, true);
        assertThat(line.climb(0, 1)).isCloseTo(mean / omega(100), within(1e-12));
    }

    @Test
    void aResetForgetsEverything() {
        CrossFrame before = one(100, 0.9, 2e-4);
        put(before, 50, 5, 0.9, 1e-4);
        before.derivativeRe[97] = 30;
        before.derivativeIm[97] = 40;
        before.first = 0.7;
        CrossSpectrum used = sum(before, 10);
        used.reset();
        assertThat(used.frames()).isZero();
        assertThat(used.highestCommonHz()).isZero();
        assertThat(used.powerRatio()).isNaN();
        CrossSpectrum fresh = new CrossSpectrum(MadeFrames.TRANSFORM, 1);
        CrossFrame after = one(100, 0.95, 1e-4);
        for (int i = 0; i < 20; i++) {
            used.add(after);
            fresh.add(after);
        }
        assertThat(used.powerRatio()).isEqualTo(fresh.powerRatio());
        assertThat(used.coherentShare()).isEqualTo(fresh.coherentShare());
        assertThat(used.varianceByCoherence()).isEqualTo(fresh.varianceByCoherence());
        assertThat(weight(used, true)).isEqualTo(weight(fresh, true));
        used.meanLine(line, true);
        assertThat(line.period()).isCloseTo(1 / (100 * MadeFrames.BIN_HZ), within(1e-13));
    }
}
