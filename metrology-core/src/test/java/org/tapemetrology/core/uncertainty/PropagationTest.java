/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/**
 * Resistance and reactance, JCGM 100:2008, H.2 (second-hand; the further digits computed from its observations): voltage, current in
 * mA and phase observed together five times.
 */
class PropagationTest {
    private static final double[][] OBSERVED = {
        {5.007, 19.663, 1.0456},
        {4.994, 19.639, 1.0438},
        {5.005, 19.640, 1.0468},
        {4.990, 19.685, 1.0428},
        {4.999, 19.678, 1.0433}
    };

    private static double[] impedance(double[] x) {
        double z = 1000 * x[0] / x[1];
        return new double[] {z * Math.cos(x[2]), z * Math.sin(x[2]), z};
    }

    /** Tolerances are half a unit of the last digit. */
    @Test
    void theObservationsAreReproduced() {
        RepeatedObservations inputs = new RepeatedObservations(OBSERVED);
        assertThat(inputs.means()).containsExactly(new double[] {4.9990, 19.6610, 1.04446}, within(1e-9));
        double[][] u = inputs.covarianceOfMeans();
        assertThat(Math.sqrt(u[0][0])).isCloseTo(0.00320936, within(5e-9));
        assertThat(Math.sqrt(u[1][1])).isCloseTo(0.00947101, within(5e-9));
        assertThat(Math.sqrt(u[2][2])).isCloseTo(0.00075206, within(5e-9));
        assertThat(u[0][1] / Math.sqrt(u[0][0] * u[1][1])).isCloseTo(-0.3553, within(5e-5));
        assertThat(u[0][2] / Math.sqrt(u[0][0] * u[2][2])).isCloseTo(0.8576, within(5e-5));
        assertThat(u[1][2] / Math.sqrt(u[1][1] * u[2][2])).isCloseTo(-0.6451, within(5e-5));
        assertThat(inputs.degreesOfFreedom()).isEqualTo(4);
    }

    /** Approach 1, H.2.3; the source prints 0.071, 0.295 and 0.236, and -0.59, -0.49 and 0.99 from rounded inputs. */
    @Test
    void theFirstApproachIsReproduced() {
        RepeatedObservations inputs = new RepeatedObservations(OBSERVED);
        LinearPropagation results =
                LinearPropagation.of(PropagationTest::impedance, inputs.means(), inputs.covarianceOfMeans());
        assertThat(results.values()).containsExactly(new double[] {127.732, 219.847, 254.260}, within(5e-4));
        assertThat(results.standardUncertainty(0)).isCloseTo(0.071071, within(5e-7));
        assertThat(results.standardUncertainty(1)).isCloseTo(0.295582, within(5e-7));
        assertThat(results.standardUncertainty(2)).isCloseTo(0.236336, within(5e-7));
        assertThat(results.correlation(0, 1)).isCloseTo(-0.588, within(5e-4));
        assertThat(results.correlation(0, 2)).isCloseTo(-0.485, within(5e-4));
        assertThat(results.correlation(1, 2)).isCloseTo(0.993, within(5e-4));
    }

    /** Given sensitivities, here {@code dZ/dV = Z/V, dZ/dI = -Z/I}; differences of a smooth model agree to 1e-6. */
    @Test
    void givenSensitivitiesServeAsWell() {
        RepeatedObservations inputs = new RepeatedObservations(OBSERVED);
        double z = impedance(inputs.means())[2];
        LinearPropagation given = LinearPropagation.of(
                new double[] {z},
                new double[][] {{z / inputs.means()[0], -z / inputs.means()[1], 0}},
                inputs.covarianceOfMeans());
        LinearPropagation found =
                LinearPropagation.of(PropagationTest::impedance, inputs.means(), inputs.covarianceOfMeans());
        assertThat(given.standardUncertainty(0)).isCloseTo(found.standardUncertainty(2), within(1e-6));
        assertThat(found.jacobian()[2]).containsExactly(given.jacobian()[0], within(1e-4)); // of some 50
    }

    /** Approach 2, H.2.4: each set of observations gives its own results, to half a unit of the last digit. */
    @Test
    void theSecondApproachIsReproduced() {
        double[][] sets = new double[OBSERVED.length][];
        for (int i = 0; i < sets.length; i++) {
            sets[i] = impedance(OBSERVED[i]);
        }
        assertThat(sets[0]).containsExactly(new double[] {127.672, 220.322, 254.641}, within(5e-4));
        assertThat(sets[1]).containsExactly(new double[] {127.892, 219.788, 254.290}, within(5e-4));
        assertThat(sets[2]).containsExactly(new double[] {127.506, 220.645, 254.837}, within(5e-4));
        assertThat(sets[3]).containsExactly(new double[] {127.710, 218.971, 253.493}, within(5e-4));
        assertThat(sets[4]).containsExactly(new double[] {127.877, 219.508, 254.040}, within(5e-4));
        RepeatedObservations results = new RepeatedObservations(sets);
        assertThat(results.means()).containsExactly(new double[] {127.732, 219.847, 254.260}, within(5e-4));
        double[][] u = results.covarianceOfMeans();
        assertThat(Math.sqrt(u[0][0])).isCloseTo(0.071, within(5e-4));
        assertThat(Math.sqrt(u[1][1])).isCloseTo(0.295489, within(5e-7));
        assertThat(Math.sqrt(u[2][2])).isCloseTo(0.236, within(5e-4));
    }

    @Test
    void whatCannotBeIsRefused() {
        MeasurementModel sum = MeasurementModel.of(x -> x[0] + x[1]);
        double[] inputs = {1, 2};
        assertThatThrownBy(() -> LinearPropagation.of(sum, inputs, new double[][] {{1}}))
                .hasMessageContaining("1 rows where 2");
        assertThatThrownBy(() -> LinearPropagation.of(sum, inputs, new double[][] {{1, 0.5}, {0.4, 1}}))
                .hasMessageContaining("mirror image");
        assertThatThrownBy(() -> LinearPropagation.of(sum, inputs, new double[][] {{-1, 0}, {0, 1}}))
                .hasMessageContaining("variance 0 is -1.0");
        assertThatThrownBy(() -> new RepeatedObservations(new double[][] {{1}})).hasMessageContaining("at least 2");
    }

    /** An input that is exactly known adds nothing, and what is handed out is a copy. */
    @Test
    void aKnownInputAddsNothing() {
        LinearPropagation result = LinearPropagation.of(
                x -> new double[] {x[0] + 3 * x[1], x[1]}, new double[] {1, 2}, new double[][] {{4, 0}, {0, 0}});
        assertThat(result.jacobian()[0]).containsExactly(new double[] {1, 0}, within(1e-9)); // rounding
        assertThat(result.standardUncertainty(0)).isCloseTo(2, within(1e-9));
        assertThat(result.standardUncertainty(1)).isZero();
        assertThat(result.correlation(0, 1)).isZero();
        assertThat(result.covariance()[0][0]).isCloseTo(4, within(1e-8));
        result.covariance()[0][0] = 9;
        result.values()[0] = 9;
        result.jacobian()[0][0] = 9;
        assertThat(result.covariance()[0][0]).isCloseTo(4, within(1e-8));
        assertThat(result.values()).containsExactly(7, 2);
        assertThat(result.jacobian()[0][0]).isCloseTo(1, within(1e-9));
    }

    /** Terms of second order of JCGM 100:2008, 5.1.2 note, worked out by hand from the derivatives. */
    @Test
    void powersHaveTheirTermsOfSecondOrder() {
        // A square about 0: half the square of the second derivative, 2, times the fourth power of 3.
        double u = LinearPropagation.secondOrder(x -> x[0] * x[0], new double[] {0}, new double[] {3});
        assertThat(u).isCloseTo(Math.sqrt(2) * 9, within(1e-9));
        // A product about 0 and 0: the product of the uncertainties.
        u = LinearPropagation.secondOrder(x -> x[0] * x[1], new double[] {0, 0}, new double[] {3, 2});
        assertThat(u).isCloseTo(6, within(1e-9));
        // A cube about 1: derivatives 3, 6 and 6, so 9 u^2 + (36/2 + 3 * 6) u^4.
        u = LinearPropagation.secondOrder(x -> x[0] * x[0] * x[0], new double[] {1}, new double[] {0.1});
        assertThat(u * u).isCloseTo(9e-2 + 36e-4, within(1e-5)); // steps of a tenth of 0.1
    }

    @Test
    void matricesMustBeWholeFiniteAndMirrored() {
        MeasurementModel sum = MeasurementModel.of(x -> x[0] + x[1]);
        double[] inputs = {1, 2};
        assertThatThrownBy(() -> LinearPropagation.of(sum, inputs, new double[][] {{1, 0}, {0, 1, 5}}))
                .hasMessageContaining("row 1 has 3 columns where 2");
        assertThatThrownBy(() -> LinearPropagation.of(sum, inputs, new double[][] {{1, Double.NaN}, {0, 1}}))
                .hasMessageContaining("element 0, 1 is NaN, not finite");
        assertThatThrownBy(() -> LinearPropagation.of(sum, inputs, new double[][] {{1, 0}, {0, Double.NaN}}))
                .hasMessageContaining("variance 1 is NaN");
        assertThatThrownBy(() ->
                        LinearPropagation.of(new double[] {1}, new double[][] {{1}, {1}}, new double[][] {{1}}))
                .hasMessageContaining("jacobian has 2 rows where 1");
        assertThatThrownBy(() -> LinearPropagation.of(new double[] {1}, new double[][] {{1, 2}}, new double[][] {{1}}))
                .hasMessageContaining("covariance has 1 rows where 2");
        assertThatThrownBy(() -> LinearPropagation.secondOrder(x -> x[0], inputs, new double[] {1}))
                .hasMessageContaining("1 standard uncertainties where 2");
        assertThatThrownBy(() -> new RepeatedObservations(new double[][] {{1, 2}, {1}}))
                .hasMessageContaining("a set has 1 observations where 2");
        // Rounding of 1e-10 of the deviations is no error.
        double nearly = 0.5 + 0.9e-10;
        assertThat(LinearPropagation.of(sum, inputs, new double[][] {{1, 0.5}, {nearly, 1}})
                        .standardUncertainty(0))
                .isCloseTo(Math.sqrt(3), within(1e-9));
        assertThat(LinearPropagation.of(sum, inputs, new double[][] {{4, 0.5}, {0.5 + 1.5e-10, 1}})
                        .standardUncertainty(0))
                .isCloseTo(Math.sqrt(6), within(1e-9));
        assertThatThrownBy(() -> LinearPropagation.of(sum, inputs, new double[][] {{1, 0.5}, {0.5 + 1.1e-10, 1}}))
                .hasMessageContaining("mirror image");
    }
}
