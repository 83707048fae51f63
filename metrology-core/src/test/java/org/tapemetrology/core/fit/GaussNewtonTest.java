/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** What the search does where a whole step goes too far, where it begins at its end, and where there is none. */
class GaussNewtonTest {
    /** An arc tangent about 2: from farther than 1.39 away, whole steps go farther away each time (a known case). */
    private static double arcTangent(double[] parameters, int observation, double[] gradient) {
        double x = parameters[0] - 2;
        gradient[0] = 1 / (1 + x * x);
        return 1 + Math.atan(x);
    }

    @Test
    void stepsThatGoTooFarAreHalved() {
        for (double start : new double[] {-20, 0.5, 1.9, 2, 3.5, 40}) {
            double[] parameters = {start};
            LinearFit fit = GaussNewton.fit(GaussNewtonTest::arcTangent, new double[] {1}, parameters);
            assertThat(parameters[0]).as("from %s", start).isCloseTo(2, within(1e-9));
            assertThat(fit.residualStandardDeviation()).isZero(); // one observation, one parameter
        }
    }

    /** A line through four points, by hand: y = 1 + 2 x, off by 0.1 up and down in turns. */
    @Test
    void aLinearProblemIsSolvedAtOnce() {
        double[] x = {-1.5, -0.5, 0.5, 1.5};
        double[] y = new double[4];
        for (int i = 0; i < 4; i++) {
            y[i] = 1 + 2 * x[i] + (i % 2 == 0 ? 0.1 : -0.1);
        }
        double[] parameters = {0, 0};
        LinearFit fit = GaussNewton.fit(
                (p, i, gradient) -> {
                    gradient[0] = 1;
                    gradient[1] = x[i];
                    return p[0] + p[1] * x[i];
                },
                y,
                parameters);
        // Slope: sum of x times the offs, 0.1 (-1.5 + 0.5 + 0.5 - 1.5), over the sum of squares, 5.
        assertThat(parameters[0]).isCloseTo(1, within(1e-12));
        assertThat(parameters[1]).isCloseTo(2 - 0.2 / 5, within(1e-12));
        double rest = 4 * 0.01 - 0.2 * 0.2 / 5;
        assertThat(fit.residualSumOfSquares()).isCloseTo(rest, within(1e-12));
        assertThat(fit.residualStandardDeviation()).isCloseTo(Math.sqrt(rest / 2), within(1e-12));
        assertThat(fit.standardError(0)).isCloseTo(Math.sqrt(rest / 2 / 4), within(1e-12));
        assertThat(fit.standardError(1)).isCloseTo(Math.sqrt(rest / 2 / 5), within(1e-12));
        assertThat(fit.covariance(0, 1)).isCloseTo(0, within(1e-12));
        assertThat(fit.observations()).isEqualTo(4);
        assertThat(fit.toString()).startsWith("LinearFit[").contains(" +- 0.12649"); // of sqrt(0.032/2)
    }

    /** A model that falls for ever, a gradient of the wrong sign, and one that is no number. */
    @Test
    void whatDoesNotConvergeIsRefused() {
        assertThatThrownBy(() -> GaussNewton.fit(
                        (p, i, gradient) -> {
                            gradient[0] = Math.exp(p[0]);
                            return Math.exp(p[0]); // towards minus infinity for ever
                        },
                        new double[] {-1},
                        new double[] {0}))
                .isInstanceOf(ArithmeticException.class);
        assertThatThrownBy(() -> GaussNewton.fit(
                        (p, i, gradient) -> {
                            gradient[0] = 1; // of the wrong sign: every step makes it worse
                            return -p[0];
                        },
                        new double[] {1},
                        new double[] {5}))
                .isInstanceOf(ArithmeticException.class)
                .hasMessageContaining("no step lowers the sum of squares at [5.0]");
        assertThatThrownBy(() -> GaussNewton.fit(
                        (p, i, gradient) -> {
                            gradient[0] = Double.NaN;
                            return Double.NaN;
                        },
                        new double[] {1, 2},
                        new double[] {5}))
                .isInstanceOf(ArithmeticException.class);
    }
}
