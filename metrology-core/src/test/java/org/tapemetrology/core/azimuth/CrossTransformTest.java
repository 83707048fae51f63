/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The cross spectrum of a frame beside one that is added up from its definition. */
class CrossTransformTest {
    private static final int RATE = 8000;
    private static final int SIZE = 512;

    private final CrossTransform transform = new CrossTransform(RATE);

    /** Frames of 64 ms to 128 ms; from bin 3 to 24 kHz, or to 0.48 of the sampling rate. */
    @ParameterizedTest
    @CsvSource({"8000, 512, 243", "44100, 4096, 1964", "48000, 4096, 1964", "96000, 8192, 2046", "192000, 16384, 2046"})
    void framesLastSixtyFourMillisecondsOrMore(double rate, int size, int bins) {
        CrossTransform made = new CrossTransform(rate);
        assertThat(made.size()).isEqualTo(size);
        assertThat(made.hop()).isEqualTo(size / 2);
        assertThat(made.firstBin()).isEqualTo(3);
        assertThat(made.bins()).isEqualTo(bins);
        assertThat(made.binRadPerSecond()).isCloseTo(2 * Math.PI * rate / size, within(1e-9));
        assertThat(made.newFrame().re).hasSize(bins);
    }

    /** A bin of the spectrum under a window, by its definition: real part, imaginary part. */
    private static double[] bin(double[] samples, int k, boolean derivative) {
        double re = 0;
        double im = 0;
        for (int i = 0; i < SIZE; i++) {
            double along = 2 * Math.PI * (i + 0.5) / SIZE;
            // Of the window (1 - cos)/2 over time; a frame lasts SIZE/RATE.
            double window = derivative ? Math.PI * RATE / SIZE * Math.sin(along) : 0.5 - 0.5 * Math.cos(along);
            re += samples[i] * window * Math.cos(2 * Math.PI * i * k / SIZE);
            im -= samples[i] * window * Math.sin(2 * Math.PI * i * k / SIZE);
        }
        return new double[] {re, im};
    }

    /** Product of one number's conjugate and the other. */
    private static double[] product(double[] a, double[] b) {
        return new double[] {a[0] * b[0] + a[1] * b[1], a[0] * b[1] - a[1] * b[0]};
    }

    /** Everything is twice as large in each channel, so four times in a product, and rounded to some 1e-13 of the whole. */
    @Test
    void everyBinIsThatOfTheDefinition() {
        Random random = new Random(3);
        double[] first = random.doubles(SIZE, -1, 1).toArray();
        double[] second = random.doubles(SIZE, -1, 1).toArray();
        CrossFrame frame = transform.newFrame();
        transform.transform(first, second, frame);
        double firstSum = 0;
        double secondSum = 0;
        for (int i = 0; i < transform.bins(); i++) {
            double[] a = bin(first, 3 + i, false);
            double[] b = bin(second, 3 + i, false);
            double[] cross = product(a, b);
            double[] fromFirst = product(bin(first, 3 + i, true), b);
            double[] fromSecond = product(a, bin(second, 3 + i, true));
            assertThat(frame.re[i]).isCloseTo(4 * cross[0], within(1e-9));
            assertThat(frame.im[i]).isCloseTo(4 * cross[1], within(1e-9));
            // The derivative of the second's phase less the first's, half: with opposite signs they would cancel.
            assertThat(frame.derivativeRe[i]).isCloseTo(4 * 0.5 * (fromFirst[0] - fromSecond[0]), within(1e-7));
            assertThat(frame.derivativeIm[i]).isCloseTo(4 * 0.5 * (fromFirst[1] - fromSecond[1]), within(1e-7));
            assertThat(frame.firstPower[i]).isCloseTo(4 * product(a, a)[0], within(1e-9));
            assertThat(frame.secondPower[i]).isCloseTo(4 * product(b, b)[0], within(1e-9));
            firstSum += product(a, a)[0];
            secondSum += product(b, b)[0];
        }
        // Parseval, of the Hann window, whose squares add up to 3/8 of the length; both halves of the spectrum.
        assertThat(frame.first).isCloseTo(2 * firstSum / (0.375 * SIZE * SIZE), within(1e-12));
        assertThat(frame.second).isCloseTo(2 * secondSum / (0.375 * SIZE * SIZE), within(1e-12));
    }

    @Test
    void aToneHasItsMeanSquareItsDelayAndItsFrequency() {
        double hertz = 1003.7;
        double delay = 40e-6;
        double[] first = new double[SIZE];
        double[] second = new double[SIZE];
        for (int i = 0; i < SIZE; i++) {
            first[i] = 0.5 * Math.sin(2 * Math.PI * hertz * i / RATE + 1);
            second[i] = 0.1 * Math.sin(2 * Math.PI * hertz * ((double) i / RATE - delay) + 1);
        }
        CrossFrame frame = transform.newFrame();
        transform.transform(first, second, frame);
        // The mean square of a sine under a window of 64 cycles: what the window makes of twice its frequency is 1e-5.
        assertThat(frame.first).isCloseTo(0.125, within(1e-5));
        assertThat(frame.second).isCloseTo(0.005, within(1e-6));
        int i = (int) Math.round(hertz * SIZE / RATE) - 3;
        assertThat(Math.atan2(frame.im[i], frame.re[i])).isCloseTo(-2 * Math.PI * hertz * delay, within(1e-4));
        // Frequency off the bin's centre: imaginary part of the derivative over the spectrum (Kodera, from memory).
        double off = (frame.derivativeIm[i] * frame.re[i] - frame.derivativeRe[i] * frame.im[i])
                / (frame.re[i] * frame.re[i] + frame.im[i] * frame.im[i]);
        assertThat((3 + i) * transform.binRadPerSecond() + off).isCloseTo(2 * Math.PI * hertz, within(0.01));
    }

    /** Silent is below -90 dBFS of a mean square of half a full scale: 0.5e-9. */
    @Test
    void eitherChannelMayBeSilent() {
        CrossFrame frame = transform.newFrame();
        frame.first = 0.5e-9;
        frame.second = 0.5e-9;
        assertThat(CrossTransform.isSilent(frame)).isFalse();
        frame.first = 0.49e-9;
        assertThat(CrossTransform.isSilent(frame)).isTrue();
        frame.first = 0.5e-9;
        frame.second = 0.49e-9;
        assertThat(CrossTransform.isSilent(frame)).isTrue();
    }
}
