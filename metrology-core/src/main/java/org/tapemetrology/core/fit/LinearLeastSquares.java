/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.decomposition.qr.QRDecompositionHouseholder_DDRM;

/**
 * Linear least squares by sequential orthogonal triangularisation (C. L. Lawson, R. J. Hanson, "Solving Least Squares
 * Problems", 1974, chapter 27): observations are folded block by block into the triangle of {@code [X y]}. Memory does
 * not grow with their number, and the condition of X is never squared as by normal equations. Thread-confined.
 *
 * <p>Units are those of observations and regressors. Cost: of the order of p squared an observation for p
 * coefficients. An observation that is not finite ends in an {@link ArithmeticException} in {@link
 * #solve()}, until {@link #reset()}.
 *
 * <p>Not for weights of its own: multiply regressors and observation by their roots.
 */
public final class LinearLeastSquares {
    private static final int BLOCK = 128;
    private static final double DEPENDENT = 1e-14;

    private final int parameters;
    /** The triangle on top, rows that wait to be folded in below it. */
    private final DMatrixRMaj stack;

    private final DMatrixRMaj work;
    private final DMatrixRMaj triangle;
    private final QRDecompositionHouseholder_DDRM decomposition = new QRDecompositionHouseholder_DDRM();
    private int filled;
    private long observations;
    private boolean finite;

    /**
     * An empty problem.
     *
     * @param parameters number of coefficients, at least 1
     */
    public LinearLeastSquares(int parameters) {
        if (parameters < 1) {
            throw new IllegalArgumentException("parameters " + parameters + " is below 1");
        }
        this.parameters = parameters;
        this.stack = new DMatrixRMaj(parameters + 1 + BLOCK, parameters + 1);
        this.work = new DMatrixRMaj(parameters + 1 + BLOCK, parameters + 1);
        this.triangle = new DMatrixRMaj(parameters + 1, parameters + 1);
        reset();
    }

    /** Forgets every observation. */
    public void reset() {
        stack.zero();
        filled = parameters + 1;
        observations = 0;
        finite = true;
    }

    /**
     * Adds an observation.
     *
     * @param regressors the row of X; copied
     * @param observed the observed value
     */
    public void add(double[] regressors, double observed) {
        if (regressors.length != parameters) {
            throw new IllegalArgumentException(regressors.length + " regressors where " + parameters + " are needed");
        }
        int row = filled * (parameters + 1);
        System.arraycopy(regressors, 0, stack.data, row, parameters);
        stack.data[row + parameters] = observed;
        for (int i = row; i <= row + parameters; i++) {
            finite &= Double.isFinite(stack.data[i]);
        }
        filled++;
        observations++;
        if (filled == stack.numRows) {
            fold();
        }
    }

    private void fold() {
        for (int i = filled * stack.numCols; i < stack.data.length; i++) {
            stack.data[i] = 0;
        }
        work.setTo(stack);
        decomposition.decompose(work);
        decomposition.getR(triangle, true);
        for (int i = 0; i < triangle.numCols; i++) {
            // A column with nothing left, as of observations that are all 0, it does not reflect, and leaves its
            // diagonal undefined.
            if (decomposition.getGammas()[i] == 0) {
                triangle.set(i, i, 0);
            }
        }
        System.arraycopy(triangle.data, 0, stack.data, 0, triangle.data.length);
        filled = parameters + 1;
    }

    /**
     * Solves the problem as it stands; more observations may follow.
     *
     * @return the fit
     * @throws ArithmeticException where the observations do not determine every coefficient, or are not finite
     */
    public LinearFit solve() {
        if (!finite) {
            throw new ArithmeticException("one of " + observations + " observations is not finite");
        }
        fold();
        if (observations < parameters) {
            throw new ArithmeticException(observations + " observations for " + parameters + " coefficients");
        }
        double[] inverse = inverseOfTriangle();
        double[] coefficients = new double[parameters];
        double[] product = new double[parameters * parameters];
        double explained = 0;
        for (int i = 0; i < parameters; i++) {
            explained += triangle.get(i, parameters) * triangle.get(i, parameters);
            for (int j = i; j < parameters; j++) {
                coefficients[i] += inverse[i * parameters + j] * triangle.get(j, parameters);
            }
            for (int k = 0; k < parameters; k++) {
                double sum = 0;
                for (int j = Math.max(i, k); j < parameters; j++) {
                    sum += inverse[i * parameters + j] * inverse[k * parameters + j];
                }
                product[i * parameters + k] = sum;
            }
        }
        double rest = triangle.get(parameters, parameters);
        return new LinearFit(coefficients, product, explained, rest * rest, observations);
    }

    private double[] inverseOfTriangle() {
        double[] inverse = new double[parameters * parameters];
        for (int column = 0; column < parameters; column++) {
            double norm = 0;
            for (int i = 0; i <= column; i++) {
                norm = Math.hypot(norm, triangle.get(i, column));
            }
            // Also caught: a NaN, which compares false with everything.
            if (!(Math.abs(triangle.get(column, column)) > DEPENDENT * norm)) {
                throw new ArithmeticException("regressor " + column + " depends on those before it, or is not finite");
            }
            for (int i = column; i >= 0; i--) {
                double sum = i == column ? 1 : 0;
                for (int j = i + 1; j <= column; j++) {
                    sum -= triangle.get(i, j) * inverse[j * parameters + column];
                }
                inverse[i * parameters + column] = sum / triangle.get(i, i);
            }
        }
        return inverse;
    }
}
