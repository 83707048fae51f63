/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A spectrum under Kaiser's window against the integral that defines the window and plain transforms of tones. */
class FrameSpectrumTest {
    private static final int LENGTH = 256;
    /** A bin is 10 Hz wide. */
    private static final double RATE = 2560;

    /** Modified Bessel function of order 0: the mean of e^(x cos a) over a turn (Abramowitz and Stegun, 9.6.16). */
    private static double besselI0(double x) {
        double sum = 0;
        int steps = 400;
        for (int i = 0; i < steps; i++) {
            sum += Math.exp(x * Math.cos(2 * Math.PI * i / steps));
        }
        return sum / steps;
    }

    private static FrameSpectrum spectrum(double... parts) {
        double[] frame = new double[LENGTH + 7];
        for (int i = 0; i < frame.length; i++) {
            for (int p = 0; p < parts.length; p += 2) {
                frame[i] += parts[p + 1] * Math.cos(2 * Math.PI * parts[p] * i / RATE + p);
            }
        }
        FrameSpectrum spectrum = new FrameSpectrum(RATE, LENGTH);
        spectrum.take(frame, 7);
        return spectrum;
    }

    @Test
    void theWindowIsKaisers() {
        FrameSpectrum spectrum = new FrameSpectrum(RATE, LENGTH);
        double sum = 0;
        for (int i = 0; i < LENGTH; i++) {
            double r = 2 * (i + 0.5) / LENGTH - 1;
            double expected = besselI0(18 * Math.sqrt(1 - r * r)) / besselI0(18);
            assertThat(spectrum.window()[i]).isCloseTo(expected, within(1e-12));
            sum += expected;
        }
        assertThat(spectrum.windowSum()).isCloseTo(sum, within(1e-9));
        assertThat(spectrum.binHz()).isEqualTo(10);
        // sqrt(1 + (18/pi)^2)
        assertThat(FrameSpectrum.MAIN_LOBE_BINS).isCloseTo(5.8161, within(1e-4));
    }

    /** Each bin is twice the squared magnitude of the windowed sum, over the length times the sum of the window's squares. */
    @Test
    void binsAreThoseOfThePlainTransform() {
        double[] frame = new double[LENGTH];
        for (int i = 0; i < LENGTH; i++) {
            frame[i] = 0.3 + Math.cos(2 * Math.PI * 313 * i / RATE) + 0.1 * Math.sin(i * i);
        }
        FrameSpectrum spectrum = new FrameSpectrum(RATE, LENGTH);
        spectrum.take(frame, 0);
        double[] window = spectrum.window();
        double mean = 0;
        double squares = 0;
        for (int i = 0; i < LENGTH; i++) {
            mean += window[i] * frame[i] / spectrum.windowSum();
            squares += window[i] * window[i];
        }
        for (int k = 1; k < LENGTH / 2; k++) {
            double re = 0;
            double im = 0;
            for (int i = 0; i < LENGTH; i++) {
                double x = window[i] * (frame[i] - mean);
                re += x * Math.cos(2 * Math.PI * k * i / LENGTH);
                im += x * Math.sin(2 * Math.PI * k * i / LENGTH);
            }
            double expected = 2 * (re * re + im * im) / (LENGTH * squares);
            assertThat(spectrum.power(k)).as("bin %d", k).isCloseTo(expected, within(1e-13));
        }
        assertThat(spectrum.power(0)).isCloseTo(0, within(1e-20));
    }

    /** A tone of amplitude a has a^2/2 in its main lobe; a constant has nothing. */
    @ParameterizedTest
    @CsvSource({"500, 2", "503.7, 0.3", "1100, 1"})
    void aToneHasItsPower(double hz, double amplitude) {
        FrameSpectrum spectrum = spectrum(hz, amplitude, 0, 5);
        double expected = amplitude * amplitude / 2;
        assertThat(spectrum.band(hz - 70, hz + 70)).isCloseTo(expected, within(1e-9));
        assertThat(spectrum.band(0, RATE)).isCloseTo(expected, within(1e-9));
        assertThat(spectrum.band(hz + 80, RATE)).isLessThan(1e-11);
        assertThat(spectrum.peakHz(20, 1270, 0)).isCloseTo(hz, within(1e-4));
    }

    /** Every bin whose centre lies within, the ends included; none below the first and none beyond half the rate. */
    @Test
    void aBandIsTheSumOfItsBins() {
        FrameSpectrum spectrum = spectrum(500, 1);
        double sum = spectrum.power(48) + spectrum.power(49) + spectrum.power(50);
        assertThat(spectrum.band(480, 500)).isCloseTo(sum, within(1e-15));
        assertThat(spectrum.band(470.1, 509.9)).isCloseTo(sum, within(1e-15));
        assertThat(spectrum.band(500, 480)).isZero();
        FrameSpectrum high = spectrum(1240, 1);
        assertThat(high.band(1280, 5000)).isEqualTo(high.power(128)).isPositive();
        FrameSpectrum low = spectrum(15, 1);
        assertThat(low.band(-50, 10)).isEqualTo(low.power(1)).isPositive();
    }

    /** The strongest within the range, its main lobe whole though it reaches beyond; more of it where the tone is spread. */
    @Test
    void thePeakIsTheStrongestInItsRange() {
        FrameSpectrum two = spectrum(400, 1, 800, 2);
        assertThat(two.peakHz(100, 1200, 0)).isCloseTo(800, within(1e-4));
        assertThat(two.peakHz(100, 600, 0)).isCloseTo(400, within(1e-4));
        assertThat(two.peakHz(395, 405, 0)).isCloseTo(400, within(1e-4));
        // 400 Hz beyond the lobes both are counted: their centre of power.
        assertThat(two.peakHz(100, 1200, 400)).isCloseTo((400 + 4 * 800) / 5.0, within(0.01));
        assertThat(two.peakHz(100, 1200, 250)).isCloseTo(800, within(1e-3));
        assertThat(spectrum().peakHz(305, 600, 0)).isEqualTo(310); // silence
        FrameSpectrum none = spectrum(500, Double.NaN);
        assertThat(none.peakHz(100, 600, 0)).isNaN();
        assertThat(none.band(100, 600)).isNaN();
    }
}
