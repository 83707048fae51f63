/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The fast transforms against the sum that defines them, and against those of Apache Commons Math. */
class TransformTest {
    private static double[] noise(int length) {
        return new Random(length).doubles(length, -1, 1).toArray();
    }

    private static double[] transformed(double[] interleaved) {
        ComplexTransform transform = new ComplexTransform(interleaved.length / 2);
        System.arraycopy(interleaved, 0, transform.series(), 0, interleaved.length);
        transform.transform();
        return transform.series().clone();
    }

    @ParameterizedTest
    @ValueSource(ints = {2, 4, 8, 16, 32, 256, 512})
    void isTheSumThatDefinesIt(int points) {
        double[] series = noise(2 * points);
        double[] fast = transformed(series);
        for (int k = 0; k < points; k++) {
            double re = 0;
            double im = 0;
            for (int n = 0; n < points; n++) {
                double angle = 2 * Math.PI * ((long) k * n % points) / points;
                re += series[2 * n] * Math.cos(angle) + series[2 * n + 1] * Math.sin(angle);
                im += series[2 * n + 1] * Math.cos(angle) - series[2 * n] * Math.sin(angle);
            }
            // Rounding of 512 additions of numbers below 1.5 in the plain sum: 512 x 1e-16 x 20, the sums' size.
            assertThat(fast[2 * k]).isCloseTo(re, within(1e-12));
            assertThat(fast[2 * k + 1]).isCloseTo(im, within(1e-12));
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {4096, 8192})
    void isThatOfApacheCommonsMath(int points) {
        double[] series = noise(2 * points);
        double[][] other = new double[2][points];
        for (int n = 0; n < points; n++) {
            other[0][n] = series[2 * n];
            other[1][n] = series[2 * n + 1];
        }
        FastFourierTransformer.transformInPlace(other, DftNormalization.STANDARD, TransformType.FORWARD);
        double[] fast = transformed(series);
        for (int k = 0; k < points; k++) {
            // Its turns are products of turns: 1e-13 for each of 100, the size of the sums.
            assertThat(fast[2 * k]).isCloseTo(other[0][k], within(1e-10));
            assertThat(fast[2 * k + 1]).isCloseTo(other[1][k], within(1e-10));
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {4, 8, 16, 1024, 2048})
    void powerOfARealSeriesIsThatOfTheComplexOne(int points) {
        double[] samples = noise(points);
        double[] series = new double[2 * points];
        for (int n = 0; n < points; n++) {
            series[2 * n] = samples[n];
        }
        double[] complex = transformed(series);
        RealTransform transform = new RealTransform(points);
        System.arraycopy(samples, 0, transform.series(), 0, points);
        double[] power = new double[points / 2 + 1];
        transform.power(3, power);
        for (int k = 0; k < power.length; k++) {
            double expected = 3 * (complex[2 * k] * complex[2 * k] + complex[2 * k + 1] * complex[2 * k + 1]);
            // Rounding of amplitudes of up to 100: powers of 1e4 to 1e-15 and a few operations.
            assertThat(power[k]).isCloseTo(expected, within(1e-9));
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {4, 8, 64})
    void aCircleHasItsCosinesAndSines(int parts) {
        Circle circle = new Circle(parts);
        for (int i = -2 * parts; i <= 2 * parts; i++) {
            double angle = 2 * Math.PI * i / parts;
            // Rounding of angles of up to 13 rad.
            assertThat(circle.cos(i)).isCloseTo(Math.cos(angle), within(4e-15));
            assertThat(circle.sin(i)).isCloseTo(Math.sin(angle), within(4e-15));
        }
        assertThatThrownBy(() -> new Circle(12)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void lengthHasToBeAPowerOfTwo() {
        assertThatThrownBy(() -> new ComplexTransform(12))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("12");
        assertThatThrownBy(() -> new ComplexTransform(1)).isInstanceOf(IllegalArgumentException.class);
    }
}
