/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Problems that leave nothing over, and those that cannot be solved. The certified ones stand in {@link NistReferenceTest}. */
class LinearLeastSquaresTest {
    private static LinearLeastSquares line(double... observed) {
        LinearLeastSquares line = new LinearLeastSquares(2);
        for (int i = 0; i < observed.length; i++) {
            line.add(new double[] {1, i}, observed[i]);
        }
        return line;
    }

    /** Observations that are all 0, also more of them than are folded in at a time. */
    @ParameterizedTest
    @ValueSource(ints = {2, 3, 128, 1000})
    void nothingAtAllIsFitted(int observations) {
        LinearFit fit = line(new double[observations]).solve();
        assertThat(fit.coefficients()).containsExactly(0, 0);
        assertThat(fit.residualSumOfSquares()).isZero();
        assertThat(fit.standardError(1)).isZero();
        assertThat(fit.observations()).isEqualTo(observations);
    }

    @Test
    void whatFitsExactlyLeavesNothing() {
        LinearFit fit = line(1, 3, 5).solve();
        assertThat(fit.coefficient(0)).isCloseTo(1, within(1e-14));
        assertThat(fit.coefficient(1)).isCloseTo(2, within(1e-14));
        LinearLeastSquares one = new LinearLeastSquares(1);
        one.add(new double[] {2}, 6);
        assertThat(one.solve().coefficient(0)).isCloseTo(3, within(1e-14));
        assertThat(one.solve().residualStandardDeviation()).isZero();
        one.add(new double[] {0}, 4); // more may follow
        assertThat(one.solve().residualSumOfSquares()).isCloseTo(16, within(1e-12));
    }

    @Test
    void whatIsNotDeterminedIsRefused() {
        assertThatThrownBy(() -> line(1).solve())
                .isInstanceOf(ArithmeticException.class)
                .hasMessage("1 observations for 2 coefficients");
        LinearLeastSquares same = new LinearLeastSquares(2);
        LinearLeastSquares none = new LinearLeastSquares(2);
        for (int i = 0; i < 5; i++) {
            same.add(new double[] {1, 3}, i);
            none.add(new double[] {1, 0}, i);
        }
        for (LinearLeastSquares problem : new LinearLeastSquares[] {same, none}) {
            assertThatThrownBy(problem::solve)
                    .isInstanceOf(ArithmeticException.class)
                    .hasMessageContaining("regressor 1 depends on those before it");
        }
        assertThatThrownBy(() -> new LinearLeastSquares(0)).hasMessage("parameters 0 is below 1");
        assertThatThrownBy(() -> same.add(new double[] {1}, 1)).hasMessage("1 regressors where 2 are needed");
    }

    /** At any place among more observations than are folded in at a time, until a reset. */
    @ParameterizedTest
    @ValueSource(ints = {0, 1, 127, 128, 299})
    void whatIsNotFiniteIsRefusedUntilAReset(int at) {
        for (double bad : new double[] {Double.NaN, Double.NEGATIVE_INFINITY}) {
            double[] observed = new double[300];
            observed[at] = bad;
            LinearLeastSquares problem = line(observed);
            assertThatThrownBy(problem::solve)
                    .isInstanceOf(ArithmeticException.class)
                    .hasMessage("one of 300 observations is not finite");
            problem.reset();
            LinearLeastSquares regressor = new LinearLeastSquares(1);
            for (int i = 0; i < 300; i++) {
                regressor.add(new double[] {i == at ? bad : 1}, 2);
                problem.add(new double[] {1, i}, 2);
            }
            assertThatThrownBy(regressor::solve).hasMessageContaining("not finite");
            assertThat(problem.solve().coefficient(0)).isCloseTo(2, within(1e-12));
        }
    }
}
