/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** What SciPy and NumPy gave: the script {@code src/test/scipy/spectrum_reference.py} makes the table. */
final class SpectrumReference {
    private static final double RATE_HZ = 1000;

    /** A figure. */
    record Row(int length, double timeHalfBandwidth, int order, int index, double value) {}

    private SpectrumReference() {}

    static List<Row> rows(String kind) throws IOException {
        try (InputStream in = SpectrumReference.class.getResourceAsStream("spectrum-scipy.csv")) {
            assertThat(in).as("spectrum-scipy.csv").isNotNull();
            List<Row> rows = new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .map(line -> line.split(",", -1))
                    .filter(cells -> cells[0].equals(kind))
                    .map(cells -> new Row(
                            Integer.parseInt(cells[1]),
                            Double.parseDouble(cells[2]),
                            number(cells[3]),
                            number(cells[4]),
                            Double.parseDouble(cells[5])))
                    .toList();
            assertThat(rows).as(kind).isNotEmpty();
            return rows;
        }
    }

    private static int number(String cell) {
        return cell.isEmpty() ? -1 : Integer.parseInt(cell);
    }

    /** The script's series: uniform noise of a linear congruential generator through one pole, and a sine. */
    static double[] series(int length) {
        double[] x = new double[length];
        long n = 1234567890;
        double shaped = 0;
        for (int i = 0; i < length; i++) {
            shaped = 0.9 * shaped + 0.1 * (n / 2147483647.0 - 0.5);
            n = 16807 * n % 2147483647;
            x[i] = 0.001 * shaped + 0.0005 * Math.sin(2 * Math.PI * 7.58 * i / RATE_HZ);
        }
        return x;
    }
}
