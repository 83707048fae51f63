/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.Arrays;
import java.util.function.ToDoubleFunction;

/**
 * Law of propagation of uncertainty for any number of correlated inputs and of results: {@code U = J U_x J'} (JCGM 100:2008,
 * 5.1.2 and 5.2.2, in the matrix form of JCGM 102). Immutable.
 *
 * <p>Units are those of inputs and results. Cost: two runs of the model for each input, then products of matrices. A
 * covariance that is not finite is refused; an input or result that is NaN makes figures NaN.
 *
 * <p>Not for a model that bends within the uncertainties: that is {@link #secondOrder} or {@link MonteCarlo}.
 */
public final class LinearPropagation {
    /** Step of the central differences re the standard uncertainty of the input: the curvature cancels, its change is small. */
    private static final double FIRST_ORDER_STEP = 0.01;

    /** Third differences need a longer step to stay above rounding. */
    private static final double SECOND_ORDER_STEP = 0.1;

    private final double[] values;
    private final double[][] jacobian;
    private final double[][] covariance;

    private LinearPropagation(double[] values, double[][] jacobian, double[][] covariance) {
        this.values = values;
        this.jacobian = jacobian;
        this.covariance = Covariance.propagated(jacobian, covariance);
    }

    /**
     * Propagates through a model whose sensitivities are found by central differences.
     *
     * @param model the model
     * @param inputs estimates of the inputs
     * @param covariance their covariance matrix
     * @return the results
     */
    public static LinearPropagation of(MeasurementModel model, double[] inputs, double[][] covariance) {
        requireSize(inputs, covariance);
        double[] values = model.outputs(inputs.clone());
        double[][] jacobian = new double[values.length][inputs.length];
        for (int j = 0; j < inputs.length; j++) {
            double step = step(covariance[j][j], FIRST_ORDER_STEP);
            if (step == 0) {
                continue; // an input that is exactly known adds nothing
            }
            double[] high = moved(model, inputs, j, step);
            double[] low = moved(model, inputs, j, -step);
            for (int i = 0; i < values.length; i++) {
                jacobian[i][j] = (high[i] - low[i]) / (2 * step);
            }
        }
        return new LinearPropagation(values, jacobian, covariance);
    }

    /**
     * Propagates through a model whose sensitivities are known.
     *
     * @param values estimates of the results
     * @param jacobian change of each result, a row, per change of each input, a column
     * @param covariance covariance matrix of the inputs
     * @return the results
     */
    public static LinearPropagation of(double[] values, double[][] jacobian, double[][] covariance) {
        if (jacobian.length != values.length) {
            throw new IllegalArgumentException(
                    "jacobian has " + jacobian.length + " rows where " + values.length + " are needed");
        }
        for (double[] row : jacobian) {
            requireSize(row, covariance);
        }
        return new LinearPropagation(values.clone(), copy(jacobian), covariance);
    }

    /**
     * Standard uncertainty of one result of independent inputs, with the terms of second order (JCGM 100:2008, note to
     * 5.1.2): each pair of inputs adds {@code (f_ij^2/2 + f_i f_ijj) u_i^2 u_j^2}.
     *
     * @param model the model
     * @param inputs estimates of the inputs, whose distributions are symmetric
     * @param standardUncertainties their standard uncertainties
     * @return the standard uncertainty of the result
     */
    public static double secondOrder(
            ToDoubleFunction<double[]> model, double[] inputs, double[] standardUncertainties) {
        int size = inputs.length;
        if (standardUncertainties.length != size) {
            throw new IllegalArgumentException(
                    standardUncertainties.length + " standard uncertainties where " + size + " are needed");
        }
        double sum = 0;
        double[] x = inputs.clone();
        for (int i = 0; i < size; i++) {
            double first = difference(model, x, i, standardUncertainties[i] * FIRST_ORDER_STEP) / FIRST_ORDER_STEP;
            sum += first * first;
            double stepI = standardUncertainties[i] * SECOND_ORDER_STEP;
            for (int j = 0; j < size; j++) {
                double stepJ = standardUncertainties[j] * SECOND_ORDER_STEP;
                // Differences of f over i, at three places of j: in units of the standard uncertainties.
                double middle = difference(model, x, i, stepI);
                x[j] = inputs[j] + stepJ;
                double high = difference(model, x, i, stepI);
                x[j] = inputs[j] - stepJ;
                double low = difference(model, x, i, stepI);
                x[j] = inputs[j];
                double second = (high - low) / (2 * SECOND_ORDER_STEP * SECOND_ORDER_STEP);
                double third = (high - 2 * middle + low) / (SECOND_ORDER_STEP * SECOND_ORDER_STEP * SECOND_ORDER_STEP);
                sum += second * second / 2 + first * third;
            }
        }
        return Math.sqrt(Math.max(0, sum));
    }

    /** Half the difference of the results a step to either side. */
    private static double difference(ToDoubleFunction<double[]> model, double[] x, int index, double step) {
        double here = x[index];
        x[index] = here + step;
        double high = model.applyAsDouble(x);
        x[index] = here - step;
        double low = model.applyAsDouble(x);
        x[index] = here;
        return (high - low) / 2;
    }

    private static double[] moved(MeasurementModel model, double[] inputs, int index, double step) {
        double[] there = inputs.clone();
        there[index] += step;
        return model.outputs(there);
    }

    private static double step(double variance, double ofUncertainty) {
        return Math.sqrt(variance) * ofUncertainty;
    }

    private static void requireSize(double[] inputs, double[][] covariance) {
        if (covariance.length != inputs.length) {
            throw new IllegalArgumentException(
                    "covariance has " + covariance.length + " rows where " + inputs.length + " are needed");
        }
        for (int i = 0; i < covariance.length; i++) {
            if (!(covariance[i][i] >= 0)) {
                throw new IllegalArgumentException("covariance: variance " + i + " is " + covariance[i][i]);
            }
        }
    }

    private static double[][] copy(double[][] matrix) {
        return Arrays.stream(matrix).map(double[]::clone).toArray(double[][]::new);
    }

    /**
     * Estimates of the results.
     *
     * @return the values
     */
    public double[] values() {
        return values.clone();
    }

    /**
     * Sensitivities.
     *
     * @return change of each result, a row, per change of each input, a column
     */
    public double[][] jacobian() {
        return copy(jacobian);
    }

    /**
     * Covariance matrix of the results.
     *
     * @return the matrix
     */
    public double[][] covariance() {
        return copy(covariance);
    }

    /**
     * Standard uncertainty of a result.
     *
     * @param result index of the result
     * @return the uncertainty in its unit
     */
    public double standardUncertainty(int result) {
        return Math.sqrt(covariance[result][result]);
    }

    /**
     * Correlation of two results.
     *
     * @param first index of a result
     * @param second index of another one
     * @return the correlation coefficient, 0 where one of them has no uncertainty
     */
    public double correlation(int first, int second) {
        double scale = standardUncertainty(first) * standardUncertainty(second);
        return scale == 0 ? 0 : covariance[first][second] / scale;
    }
}
