/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.apache.commons.math3.stat.regression.OLSMultipleLinearRegression;
import org.junit.jupiter.api.Test;

/** Against the multiple linear regression of Apache Commons Math, by QR decomposition. */
class PartialSlopeTest {
    /** Sums of 30 squares of order 1 against a decomposition of the same numbers. */
    private static final double ROUNDING = 1e-12;

    /** Two quantities that go together by half. */
    @Test
    void isThatOfAMultipleRegression() {
        Random random = new Random(4);
        for (int n : new int[] {4, 8, 30}) {
            PartialSlope slope = new PartialSlope();
            slope.add(99, 99, 99);
            slope.clear();
            double[][] quantities = new double[n][2];
            double[] values = new double[n];
            for (int i = 0; i < n; i++) {
                quantities[i][0] = 0.3 + random.nextGaussian();
                quantities[i][1] = -0.2 + random.nextGaussian() + 0.5 * quantities[i][0];
                values[i] = 0.7 + 0.4 * quantities[i][0] - 0.9 * quantities[i][1] + 0.2 * random.nextGaussian();
                slope.add(quantities[i][0], quantities[i][1], values[i]);
            }
            OLSMultipleLinearRegression regression = new OLSMultipleLinearRegression();
            regression.newSampleData(values, quantities);
            double error = regression.estimateRegressionParametersStandardErrors()[1];
            assertThat(slope.count()).isEqualTo(n);
            assertThat(slope.slope()).isCloseTo(regression.estimateRegressionParameters()[1], within(ROUNDING));
            assertThat(slope.error(0)).isCloseTo(error, within(ROUNDING));
            double variance = regression.estimateErrorVariance();
            assertThat(slope.alone()).isCloseTo(variance / (error * error), within(n * ROUNDING));
            assertThat(slope.error(4 * variance)).isCloseTo(2 * error, within(ROUNDING));
        }
    }

    /** Where one quantity is the other, nothing of it is its own. */
    @Test
    void whatGoesTogetherHasNothingOfItsOwn() {
        PartialSlope slope = new PartialSlope();
        for (int i = 0; i < 9; i++) {
            slope.add(i, 2 * i, i % 2);
        }
        assertThat(slope.alone()).isCloseTo(0, within(1e-9)); // of sums of squares of some 200
        PartialSlope constant = new PartialSlope();
        constant.add(1, 1, 1);
        constant.add(1, 1, 2);
        assertThat(constant.alone()).isNaN();
    }
}
