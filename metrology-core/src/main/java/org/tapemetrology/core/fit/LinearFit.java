/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import java.util.Arrays;
import java.util.Objects;

/**
 * A linear least-squares fit, {@code y = X b + e}, with the covariance {@code s^2 (X'X)^-1} of its coefficients.
 * Immutable.
 *
 * <p>Units are those of observations and regressors (JCGM 100:2008, H.3 is such a fit of a line, from memory). Cost:
 * none, all is calculated. Never NaN: {@link LinearLeastSquares} refuses what is not finite.
 *
 * <p>Not for standard errors where there are as many observations as coefficients: nothing is left to tell them, and
 * they are 0.
 */
public final class LinearFit {
    private final double[] coefficients;
    /** {@code (X'X)^-1}, row by row. */
    private final double[] inverse;

    private final double explainedSumOfSquares;
    private final double residualSumOfSquares;
    private final long observations;

    LinearFit(
            double[] coefficients,
            double[] inverse,
            double explainedSumOfSquares,
            double residualSumOfSquares,
            long observations) {
        this.coefficients = coefficients;
        this.inverse = inverse;
        this.explainedSumOfSquares = explainedSumOfSquares;
        this.residualSumOfSquares = residualSumOfSquares;
        this.observations = observations;
    }

    /**
     * A coefficient.
     *
     * @param index which one, from 0
     * @return its estimate
     */
    public double coefficient(int index) {
        return coefficients[Objects.checkIndex(index, coefficients.length)];
    }

    /**
     * All coefficients.
     *
     * @return a copy
     */
    public double[] coefficients() {
        return coefficients.clone();
    }

    /**
     * Covariance of two coefficients, by the scatter of the residuals.
     *
     * @param row first coefficient, from 0
     * @param column second coefficient, from 0
     * @return the covariance
     */
    public double covariance(int row, int column) {
        Objects.checkIndex(row, coefficients.length);
        Objects.checkIndex(column, coefficients.length);
        double s = residualStandardDeviation();
        return s * s * inverse[row * coefficients.length + column];
    }

    /**
     * Standard error of a coefficient.
     *
     * @param index which one, from 0
     * @return square root of its variance
     */
    public double standardError(int index) {
        return Math.sqrt(covariance(index, index));
    }

    /**
     * Sum of squares that the fit explains: that of the observations less that of the residuals.
     *
     * @return the sum
     */
    public double explainedSumOfSquares() {
        return explainedSumOfSquares;
    }

    /**
     * Sum of the squared residuals.
     *
     * @return the sum
     */
    public double residualSumOfSquares() {
        return residualSumOfSquares;
    }

    /**
     * Standard deviation of the residuals, {@code sqrt(RSS / (n - p))}.
     *
     * @return the deviation; 0 where there are as many coefficients as observations
     */
    public double residualStandardDeviation() {
        long freedom = observations - coefficients.length;
        return freedom == 0 ? 0 : Math.sqrt(residualSumOfSquares / freedom);
    }

    /**
     * How many observations went in.
     *
     * @return the number
     */
    public long observations() {
        return observations;
    }

    @Override
    public String toString() {
        return "LinearFit" + Arrays.toString(coefficients) + " +- " + residualStandardDeviation();
    }
}
