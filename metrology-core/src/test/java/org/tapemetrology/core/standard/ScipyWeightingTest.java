/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.MatchedFilter;
import org.tapemetrology.core.filter.Oversampler;

/**
 * Weighted noise against NumPy and SciPy (src/test/scipy/weighting_reference.py), which weigh the lines of the spectrum
 * with the analogue curves. The noise repeats every second, so the second one through the filter is in its steady state.
 */
class ScipyWeightingTest {
    @Test
    void rmsAndAverageOfWeightedNoiseAreThoseOfScipy() throws IOException {
        List<String> lines;
        try (InputStream in =
                Objects.requireNonNull(ScipyWeightingTest.class.getResourceAsStream("weighted-noise-scipy.csv"))) {
            lines = new String(in.readAllBytes(), StandardCharsets.US_ASCII)
                    .lines()
                    .skip(2)
                    .toList();
        }
        assertThat(lines).hasSize(18);
        for (String line : lines) {
            String[] cells = line.split(",", -1);
            int rate = Integer.parseInt(cells[0]);
            double[] x = noise(rate);
            double[] weighted = new double[x.length];
            new MatchedFilter(curve(cells[1]), rate).process(x, 0, x.length, weighted, 0);
            double figure = cells[2].equals("rms") ? rms(weighted, rate) : average(weighted, rate);
            // The filters keep within 0.01 dB of the curves to 0.45 of the rate; white noise has a tenth of its power
            // above, where nothing is asked of them.
            assertThat(20 * Math.log10(figure / rms(x, rate)))
                    .as(line)
                    .isCloseTo(Double.parseDouble(cells[3]), within(0.02));
        }
    }

    private static AnalogFilter curve(String name) {
        return switch (name) {
            case "a" -> Iec61672Edition2013.aWeighting();
            case "bs468" -> ItuRBs468Edition4.weighting();
            case "edge" -> Butterworth.analogLowPass(4, 22400);
            default -> throw new AssertionError("unknown curve " + name);
        };
    }

    private static double[] noise(int rate) {
        double[] x = new double[2 * rate];
        long n = 1234567890;
        double mean = 0;
        for (int i = 0; i < rate; i++) {
            x[i] = n / 2147483647.0 - 0.5;
            mean += x[i] / rate;
            n = 16807 * n % 2147483647;
        }
        for (int i = 0; i < rate; i++) {
            x[i] -= mean;
            x[i + rate] = x[i];
        }
        return x;
    }

    /** Over the second half. */
    private static double rms(double[] x, int rate) {
        double squares = 0;
        for (int i = rate; i < 2 * rate; i++) {
            squares += x[i] * x[i];
        }
        return Math.sqrt(squares / rate);
    }

    private static double average(double[] x, int rate) {
        Oversampler oversampler = Oversampler.beforeRectifier(rate);
        double[] fine = new double[x.length * oversampler.factor()];
        int count = oversampler.process(x, 0, x.length, fine, 0);
        int second = rate * oversampler.factor();
        double sum = 0;
        for (int i = count - second; i < count; i++) {
            sum += Math.abs(fine[i]);
        }
        return sum / second;
    }
}
