/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.CommonOps_DDRM;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class HarmonicFitTest {
    @ParameterizedTest
    @CsvSource({"50, -0.2", "50, -0.13", "50, 0", "50, 0.071", "50, 0.2", "60, -0.2", "60, 0.11", "60, 0.2"})
    void powersOfHarmonicsComeOutThoughTheMainsIsOff(double nominal, double offset) {
        int length = 3000;
        double[] x = new double[length];
        for (int i = 0; i < length; i++) {
            x[i] = 0.25;
            for (int k = 1; k <= 10; k++) {
                x[i] += 1e-3 / k * Math.cos(2 * Math.PI * k * (nominal + offset) * i / 3000 + k * k);
            }
        }
        double[] power = new double[10];
        double found = new HarmonicFit(nominal, 3000, length).fit(x, power, new double[10]);
        assertThat(found).isCloseTo(nominal + offset, within(0.002));
        for (int k = 1; k <= 10; k++) {
            // A tenth harmonic 0.02 Hz off loses (0.02 pi)^2 / 6 of its amplitude, 0.006 dB.
            assertThat(10 * Math.log10(2 * power[k - 1] * k * k / 1e-6))
                    .as("harmonic %s", k)
                    .isCloseTo(0, within(0.01));
        }
    }

    @ParameterizedTest
    @CsvSource({"50, 2000", "60, 2700", "50, 3000"})
    void closedFormIsTheLeastSquaresFit(double nominal, int length) {
        // Against EJML's solution of the same fit by its columns, at the frequency found.
        Random random = new Random(3);
        double[] x = new double[length];
        for (int i = 0; i < length; i++) {
            x[i] = random.nextGaussian() + Math.sin(2 * Math.PI * nominal * i / length);
        }
        double[] power = new double[10];
        double found = new HarmonicFit(nominal, length, length).fit(x, power, new double[10]);
        DMatrixRMaj columns = new DMatrixRMaj(length, 21);
        DMatrixRMaj right = new DMatrixRMaj(length, 1, true, x);
        for (int i = 0; i < length; i++) {
            columns.set(i, 0, 1);
            for (int k = 1; k <= 10; k++) {
                columns.set(i, 2 * k - 1, Math.cos(2 * Math.PI * k * found * i / length));
                columns.set(i, 2 * k, Math.sin(2 * Math.PI * k * found * i / length));
            }
        }
        DMatrixRMaj solution = new DMatrixRMaj(21, 1);
        assertThat(CommonOps_DDRM.solve(columns, right, solution)).isTrue();
        for (int k = 1; k <= 10; k++) {
            double expected = (Math.pow(solution.get(2 * k - 1), 2) + Math.pow(solution.get(2 * k), 2)) / 2;
            assertThat(power[k - 1]).as("harmonic %s", k).isCloseTo(expected, within(1e-10)); // rounding alone
        }
    }

    @ParameterizedTest
    @CsvSource({"50, 3000", "60, 2700"})
    void noiseBesideAHarmonicIsThatOfItsNeighbourhood(double nominal, int length) {
        // White noise of variance 1 shows 2 / N as the power of a sine, though lines 38 dB above that stand in it.
        Random random = new Random(9);
        double[] noise = new double[10];
        int windows = 200;
        for (int w = 0; w < windows; w++) {
            double[] x = new double[length];
            for (int i = 0; i < length; i++) {
                x[i] = random.nextGaussian();
                for (int k = 1; k <= 10; k++) {
                    x[i] += 3 * Math.sin(2 * Math.PI * k * (nominal + 0.1) * i / length + k);
                }
            }
            new HarmonicFit(nominal, length, length).fit(x, new double[10], noise);
        }
        for (int k = 1; k <= 10; k++) {
            // Four standard deviations of 8 degrees of freedom in each window, 4 sqrt(2 / 1600) = 0.14, and the 4 %
            // that
            // blocks of 20 ms lose at 7 Hz.
            assertThat(noise[k - 1] / windows / (2.0 / length))
                    .as("harmonic %s", k)
                    .isBetween(0.82, 1.15);
        }
    }
}
