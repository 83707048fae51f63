/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Certified values of the NIST Statistical Reference Datasets, as held in the tests of several numeric libraries
 * (second-hand; the certified digits of the linear sets were reproduced from the data in exact fractions).
 */
class NistReferenceTest {
    private static final double[] NORRIS = {
        0.1, 0.2, 338.8, 337.4, 118.1, 118.2, 888.0, 884.6, 9.2, 10.1, 228.1, 226.5, 668.5, 666.3, 998.5, 996.3, 449.1,
        448.6, 778.9, 777.0, 559.2, 558.2, 0.3, 0.4, 0.1, 0.6, 778.1, 775.5, 668.8, 666.9, 339.3, 338.0, 448.9, 447.5,
        10.8, 11.6, 557.7, 556.0, 228.3, 228.1, 998.0, 995.8, 888.8, 887.6, 119.6, 120.2, 0.3, 0.3, 0.6, 0.3, 557.6,
        556.8, 339.3, 339.1, 888.0, 887.2, 998.5, 999.0, 778.9, 779.0, 10.2, 11.1, 117.6, 118.3, 228.9, 229.2, 668.4,
        669.1, 449.2, 448.9, 0.2, 0.5
    };

    private static final double[] LONGLEY_Y = {
        60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551
    };
    private static final double[][] LONGLEY_X = {
        {83.0, 88.5, 88.2, 89.5, 96.2, 98.1, 99.0, 100.0, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2, 115.7, 116.9},
        {
            234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769, 444546, 482704,
            502601, 518173, 554894
        },
        {2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806, 4007},
        {1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572, 2827},
        {
            107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445, 121950, 123366,
            125368, 127852, 130081
        },
        {1947, 1948, 1949, 1950, 1951, 1952, 1953, 1954, 1955, 1956, 1957, 1958, 1959, 1960, 1961, 1962}
    };
    private static final double[] LONGLEY_CERTIFIED = {
        -3482258.63459582,
        15.0618722713733,
        -0.358191792925910e-1,
        -2.02022980381683,
        -1.03322686717359,
        -0.511041056535807e-1,
        1829.15146461355
    };
    private static final double[] LONGLEY_ERRORS = {
        890420.383607373,
        84.9149257747669,
        0.334910077722432e-1,
        0.488399681651699,
        0.214274163161675,
        0.226073200069370,
        455.478499142212
    };

    private static final double[] MISRA_X = {
        77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0
    };
    private static final double[] MISRA_Y = {
        10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78
    };

    /** Relative: 13 digits are certified to 15; the set's condition of about 1e3 costs three of double's sixteen. */
    @Test
    void norrisIsReproducedToTwelveDigits() {
        LinearLeastSquares problem = new LinearLeastSquares(2);
        for (int i = 0; i < NORRIS.length; i += 2) {
            problem.add(new double[] {1, NORRIS[i + 1]}, NORRIS[i]);
        }
        LinearFit fit = problem.solve();
        assertRelative(fit.coefficient(0), -0.262323073774029, 1e-11);
        assertRelative(fit.coefficient(1), 1.00211681802045, 1e-12);
        assertRelative(fit.standardError(0), 0.232818234301152, 1e-12);
        assertRelative(fit.standardError(1), 0.429796848199937e-3, 1e-12);
        assertRelative(fit.residualStandardDeviation(), 0.884796396144373, 1e-12);
        assertRelative(fit.residualSumOfSquares(), 26.6173985294224, 1e-12);
    }

    /** Relative 1e-8: the columns as given have a condition of about 5e9, which an orthogonal method pays once. */
    @Test
    void longleyIsReproducedToEightDigits() {
        LinearFit fit = longley(LONGLEY_Y.length);
        for (int k = 0; k < 7; k++) {
            assertRelative(fit.coefficient(k), LONGLEY_CERTIFIED[k], 1e-8);
            assertRelative(fit.standardError(k), LONGLEY_ERRORS[k], 1e-8);
        }
        assertRelative(fit.residualStandardDeviation(), 304.854073561965, 1e-9);
        assertRelative(fit.residualSumOfSquares(), 836424.055505915, 1e-9);
    }

    private static LinearFit longley(int observations) {
        LinearLeastSquares problem = new LinearLeastSquares(7);
        for (int i = 0; i < observations; i++) {
            double[] row = new double[7];
            row[0] = 1;
            for (int k = 0; k < 6; k++) {
                row[k + 1] = LONGLEY_X[k][i];
            }
            problem.add(row, LONGLEY_Y[i]);
        }
        return problem.solve();
    }

    @Test
    void tooFewObservationsAndDependentRegressorsAreRefused() {
        assertThatThrownBy(() -> longley(6))
                .isInstanceOf(ArithmeticException.class)
                .hasMessageContaining("6");
        LinearLeastSquares problem = new LinearLeastSquares(2);
        for (int i = 0; i < 10; i++) {
            problem.add(new double[] {i, 2.0 * i}, i);
        }
        assertThatThrownBy(problem::solve)
                .isInstanceOf(ArithmeticException.class)
                .hasMessageContaining("regressor 1");
    }

    @Test
    void manyObservationsFoldedInBlocksGiveTheSameFitAsTheirRepetition() {
        LinearLeastSquares problem = new LinearLeastSquares(2);
        for (int turn = 0; turn < 50; turn++) {
            for (int i = 0; i < NORRIS.length; i += 2) {
                problem.add(new double[] {1, NORRIS[i + 1]}, NORRIS[i]);
            }
        }
        LinearFit fit = problem.solve();
        assertRelative(fit.coefficient(1), 1.00211681802045, 1e-12);
        assertRelative(fit.residualSumOfSquares(), 50 * 26.6173985294224, 1e-11);
    }

    /** Both published starts, to nine of the eleven certified digits. */
    @ParameterizedTest
    @CsvSource({"500, 1e-4", "250, 5e-4"})
    void misra1aIsReproducedFromBothStarts(double b1, double b2) {
        double[] parameters = {b1, b2};
        LinearFit fit = GaussNewton.fit(
                (p, i, gradient) -> {
                    double decay = StrictMath.exp(-p[1] * MISRA_X[i]);
                    gradient[0] = 1 - decay;
                    gradient[1] = p[0] * MISRA_X[i] * decay;
                    return p[0] * (1 - decay);
                },
                MISRA_Y,
                parameters);
        assertRelative(parameters[0], 2.3894212918e2, 1e-9);
        assertRelative(parameters[1], 5.5015643181e-4, 1e-9);
        assertRelative(fit.standardError(0), 2.7070075241, 1e-9);
        assertRelative(fit.standardError(1), 7.2668688436e-6, 1e-9);
        assertRelative(fit.residualSumOfSquares(), 1.2455138894e-1, 1e-9);
        assertRelative(fit.residualStandardDeviation(), 1.0187876330e-1, 1e-9);
    }

    @Test
    void numAcc1IsExact() {
        RunningMoments moments = new RunningMoments();
        for (double value : new double[] {10000001, 10000003, 10000002}) {
            moments.add(value);
        }
        assertThat(moments.mean()).isEqualTo(10000002);
        assertRelative(moments.standardDeviation(), 1, 1e-15);
    }

    /**
     * The data themselves are rounded to base + 1e-16 base in double: that over the deviation of 0.1 is the tolerance,
     * times ten for the thousand updates.
     */
    @ParameterizedTest
    @CsvSource({"1.2, 1e-13", "1000000.2, 1e-8", "10000000.2, 1e-7"})
    void numAcc2To4AreReproduced(double base, double tolerance) {
        RunningMoments moments = new RunningMoments();
        moments.add(base);
        for (int i = 0; i < 500; i++) {
            moments.add(base - 0.1);
            moments.add(base + 0.1);
        }
        assertRelative(moments.mean(), base, 1e-14);
        assertRelative(moments.standardDeviation(), 0.1, tolerance);
    }

    /** The formula by sums of squares has no digit left on the largest set: the set does tell the two apart. */
    @Test
    void numAcc4DefeatsTheFormulaBySumsOfSquares() {
        double sum = 10000000.2;
        double squares = sum * sum;
        for (int i = 0; i < 500; i++) {
            for (double value : new double[] {10000000.1, 10000000.3}) {
                sum += value;
                squares += value * value;
            }
        }
        double naive = Math.sqrt(Math.max(0, (squares - sum * sum / 1001) / 1000));
        assertThat(Math.abs(naive / 0.1 - 1)).isGreaterThan(1e-3);
    }

    private static void assertRelative(double actual, double expected, double tolerance) {
        assertThat(actual).isCloseTo(expected, within(tolerance * Math.abs(expected)));
    }
}
