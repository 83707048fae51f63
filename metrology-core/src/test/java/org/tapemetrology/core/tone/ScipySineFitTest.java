/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Fits against SciPy's Levenberg-Marquardt (src/test/scipy/tone_reference.py) on the same samples, which both sides make
 * from formulas. SciPy's parameters are amplitudes and phases, so its errors need no propagation.
 */
class ScipySineFitTest {
    static Stream<double[]> rows() throws IOException {
        try (InputStream in =
                Objects.requireNonNull(ScipySineFitTest.class.getResourceAsStream("sine-fits-scipy.csv"))) {
            return new String(in.readAllBytes(), StandardCharsets.US_ASCII)
                            .lines()
                            .skip(2)
                            .map(line -> Arrays.stream(line.split(",", -1))
                                    .mapToDouble(Double::parseDouble)
                                    .toArray())
                            .toList()
                            .stream();
        }
    }

    @ParameterizedTest
    @MethodSource("rows")
    void everyParameterAndErrorIsThatOfScipy(double[] row) {
        int length = (int) row[0];
        double rate = row[1];
        int harmonics = (int) row[4];
        double[] y = new double[length];
        long n = 1234567890;
        for (int i = 0; i < length; i++) {
            y[i] = 0.25 + row[5] * (n / 2147483647.0 - 0.5);
            n = 16807 * n % 2147483647;
            for (int k = 1; k <= harmonics; k++) {
                y[i] += 0.7 / (k * k) * StrictMath.cos(2 * Math.PI * k * row[3] * i / rate + 0.4 * k);
            }
        }
        HarmonicFit fit = HarmonicFit.unknown(y, 0, length, rate, row[2], harmonics);
        // SciPy stops where a step no longer lowers the sum of squares: some 1e-8 of a standard error away, that is
        // 1e-9
        // of the values at most. Its covariance is that of its Jacobian at the same place.
        double value = 1e-9;
        double error = 1e-6;
        close("frequency", fit.frequencyHz(), row[6], value);
        close("frequency's error", fit.frequencyErrorHz(), row[7], error);
        close("offset", fit.offset(), row[8], value);
        close("offset's error", fit.offsetError(), row[9], error);
        for (int k = 1; k <= harmonics; k++) {
            int at = 6 + 4 * k;
            close("amplitude " + k, fit.amplitude(k), row[at], value);
            close("amplitude's error " + k, fit.amplitudeError(k), row[at + 1], error);
            assertThat(Math.IEEEremainder(fit.phaseRad(k) - row[at + 2], 2 * Math.PI))
                    .as("phase %s", k)
                    .isCloseTo(0, within(3 * value)); // rad
            close("phase's error " + k, fit.phaseErrorRad(k), row[at + 3], error);
        }
        if (harmonics == 1) {
            SineFit sine = SineFit.fourParameter(y, 0, length, rate, row[2]);
            assertThat(List.of(sine.frequencyHz(), sine.amplitude(), sine.phaseRad(), sine.offset()))
                    .isEqualTo(List.of(fit.frequencyHz(), fit.amplitude(1), fit.phaseRad(1), fit.offset()));
        }
    }

    private static void close(String what, double actual, double expected, double relative) {
        assertThat(actual / expected).as(what).isCloseTo(1, within(relative));
    }
}
