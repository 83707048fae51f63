/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import java.util.Arrays;

/**
 * Non-linear least squares by the Gauss-Newton method: each pass solves the problem made linear at the parameters
 * reached, and halves the step as often as the sum of squares would grow.
 *
 * <p>The method is that of A. Bjorck, "Numerical Methods for Least Squares Problems", 1996, chapter 9 (from memory).
 * Units are those of model and parameters. Cost: up to 100 passes, each of the order of n p squared for n
 * observations and p parameters. What is not finite ends in an {@link ArithmeticException}. It has no state: any
 * number of threads may use it as far as the model lets them.
 *
 * <p>Not for a poor start: it finds the nearest minimum.
 */
public final class GaussNewton {
    private static final int PASSES = 100;
    private static final int HALVINGS = 40;
    /** Last step, squared, in units of the parameters' joint standard error. */
    private static final double STEP = 1e-18;
    /** Sum of squares, re that of the observations, which rounding alone may leave. */
    private static final double ROUNDING = 1e-26;

    /** A model of n observations that depends on parameters. */
    @FunctionalInterface
    public interface Model {
        /**
         * The model's value for one observation, and its derivatives.
         *
         * @param parameters the parameters
         * @param observation which observation, from 0
         * @param gradient where the derivative by each parameter goes
         * @return the value
         */
        double valueAndGradient(double[] parameters, int observation, double[] gradient);
    }

    private GaussNewton() {}

    /**
     * Fits a model.
     *
     * @param model the model
     * @param observed the observations
     * @param parameters starting parameters; the estimates when the method returns
     * @return the linear problem at the estimates: its covariance and residuals are those of the fit, its coefficients
     *     the last step
     * @throws ArithmeticException where it does not converge, or the observations do not determine every parameter
     */
    public static LinearFit fit(Model model, double[] observed, double[] parameters) {
        double[] trial = new double[parameters.length];
        double[] gradient = new double[parameters.length];
        LinearLeastSquares linear = new LinearLeastSquares(parameters.length);
        double total = 0;
        for (double value : observed) {
            total += value * value;
        }
        for (int pass = 0; pass < PASSES; pass++) {
            linear.reset();
            double sum = 0;
            for (int i = 0; i < observed.length; i++) {
                double rest = observed[i] - model.valueAndGradient(parameters, i, gradient);
                sum += rest * rest;
                linear.add(gradient, rest);
            }
            LinearFit step = linear.solve();
            // What a step would still explain, against what it leaves per degree of freedom.
            double freedom = Math.max(1, observed.length - parameters.length);
            if (step.explainedSumOfSquares() <= STEP * step.residualSumOfSquares() / freedom + ROUNDING * total) {
                return step;
            }
            // Near the minimum rounding alone decides whether the sum falls; a step must not be halved for that.
            double allowed = Math.pow(Math.sqrt(sum) + Math.sqrt(ROUNDING * total), 2);
            double part = 1;
            int halving = 0;
            do {
                if (halving++ == HALVINGS) {
                    throw new ArithmeticException(
                            "no step lowers the sum of squares at " + Arrays.toString(parameters));
                }
                for (int k = 0; k < trial.length; k++) {
                    trial[k] = parameters[k] + part * step.coefficient(k);
                }
                part /= 2;
            } while (!(sumOfSquares(model, observed, trial, gradient) <= allowed));
            System.arraycopy(trial, 0, parameters, 0, trial.length);
        }
        throw new ArithmeticException("no convergence in " + PASSES + " passes; at " + Arrays.toString(parameters));
    }

    private static double sumOfSquares(Model model, double[] observed, double[] parameters, double[] gradient) {
        double sum = 0;
        for (int i = 0; i < observed.length; i++) {
            double rest = observed[i] - model.valueAndGradient(parameters, i, gradient);
            sum += rest * rest;
        }
        return sum;
    }
}
