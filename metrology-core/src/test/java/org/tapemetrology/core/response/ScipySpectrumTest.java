/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;

/** Averaged power of frames that overlap by half, against SciPy's Welch estimate (src/test/scipy/tone_reference.py). */
class ScipySpectrumTest {
    private static final int SIZE = 4096;

    @Test
    void binsAndThirdOctavesAreThoseOfScipy() throws IOException {
        double[] y = new double[20 * SIZE];
        long n = 1234567890;
        for (int i = 0; i < y.length; i++) {
            y[i] = 0.1 * (n / 2147483647.0 - 0.5)
                    + 0.01 * StrictMath.sin(2 * Math.PI * 1000 * i / 48000)
                    + 0.001 * StrictMath.sin(2 * Math.PI * 9999 * i / 48000);
            n = 16807 * n % 2147483647;
        }
        FrameSpectrum spectrum = new FrameSpectrum(SIZE);
        double[] mean = new double[SIZE / 2 + 1];
        double[] power = new double[SIZE / 2 + 1];
        int frames = 0;
        for (int at = 0; at + SIZE <= y.length; at += SIZE / 2) {
            spectrum.power(y, at, power);
            for (int k = 0; k < mean.length; k++) {
                mean[k] += power[k];
            }
            frames++;
        }
        List<String> lines;
        try (InputStream in = Objects.requireNonNull(ScipySpectrumTest.class.getResourceAsStream("welch-scipy.csv"))) {
            lines = new String(in.readAllBytes(), StandardCharsets.US_ASCII)
                    .lines()
                    .skip(2)
                    .toList();
        }
        assertThat(lines).hasSize(35);
        for (String line : lines) {
            String[] cells = line.split(",", -1);
            double expected = Double.parseDouble(cells[3]);
            double actual = FrameSpectrum.sum(mean, Integer.parseInt(cells[1]), Integer.parseInt(cells[2])) / frames;
            // Rounding of a transform of 4096 points of full amplitude, against bins 40 dB below it.
            assertThat(actual / expected).as(line).isCloseTo(1, within(1e-10));
        }
    }
}
