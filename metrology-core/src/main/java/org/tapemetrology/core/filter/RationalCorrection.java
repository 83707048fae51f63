/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.math3.analysis.solvers.LaguerreSolver;
import org.apache.commons.math3.complex.Complex;
import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.CommonOps_DDRM;

/**
 * Three zeros and three poles in the z plane whose magnitude follows a smooth wanted one. The squared magnitude of such a
 * filter is a quotient of two polynomials in {@code cos w}; they are fitted to the wanted square by linear least squares,
 * each time weighted with the denominator found before (C. K. Sanathanan, J. Koerner, "Transfer function synthesis as a
 * ratio of two complex polynomials", IEEE Trans. Automatic Control 1963). A root x of one of them stands for the roots
 * {@code z + 1/z = 2 x}, of which the one inside the unit circle is taken.
 */
final class RationalCorrection {
    private static final int DEGREE = 3;
    private static final int GRID = 200;
    /** The weights settle to rounding after some five. */
    private static final int PASSES = 12;
    /** Parts of the band that are tried, one after the other; all hold the {@link MatchedFilter#reachHz() reach}. */
    private static final double[] PARTS = {1, 0.99, 1.01, 0.98, 1.02, 0.97, 1.03, 0.96, 1.04, 0.95, 1.05};

    private final List<Root> zeros;
    private final List<Root> poles;

    private RationalCorrection(List<Root> zeros, List<Root> poles) {
        this.zeros = zeros;
        this.poles = poles;
    }

    /**
     * Zeros and poles that follow a wanted magnitude but for a constant factor.
     *
     * @param bandHz upper end of the band that is fitted, from 0, in Hz, below half the sampling rate
     * @param sampleRateHz sampling rate in Hz
     * @param wanted wanted magnitude over frequency in Hz, above 0
     * @return the roots
     */
    static RationalCorrection design(double bandHz, double sampleRateHz, DoubleUnaryOperator wanted) {
        for (int degree = DEGREE; degree >= 1; degree--) {
            for (double part : PARTS) {
                Optional<RationalCorrection> fitted = fitted(degree, part * bandHz, sampleRateHz, wanted);
                if (fitted.isPresent()) {
                    return fitted.get();
                }
            }
        }
        throw new IllegalStateException("the fitted magnitude has roots on the unit circle at " + sampleRateHz + " Hz");
    }

    /** At some sampling rates the fit has a root on the unit circle, beyond the band; over another band or of a lower degree it has none. */
    private static Optional<RationalCorrection> fitted(
            int degree, double bandHz, double sampleRateHz, DoubleUnaryOperator wanted) {
        double[] cosine = new double[GRID];
        double[] square = new double[GRID];
        for (int i = 0; i < GRID; i++) {
            // dense towards the upper end, where the wanted magnitude bends most
            double frequencyHz = bandHz * StrictMath.sin(StrictMath.PI * (i + 0.5) / GRID / 2);
            cosine[i] = StrictMath.cos(2 * StrictMath.PI * frequencyHz / sampleRateHz);
            double magnitude = wanted.applyAsDouble(frequencyHz);
            square[i] = magnitude * magnitude;
        }
        double[] numerator = new double[degree + 1];
        double[] denominator = new double[degree + 1];
        denominator[0] = 1;
        for (int pass = 0; pass < PASSES; pass++) {
            fit(cosine, square, numerator, denominator);
        }
        Optional<List<Root>> zeros = insideCircle(numerator);
        Optional<List<Root>> poles = insideCircle(denominator);
        return zeros.isPresent() && poles.isPresent()
                ? Optional.of(new RationalCorrection(zeros.get(), poles.get()))
                : Optional.empty();
    }

    /** Fits {@code numerator - square denominator = 0} over the square and the denominator given, re 1. */
    private static void fit(double[] cosine, double[] square, double[] numerator, double[] denominator) {
        int degree = numerator.length - 1;
        DMatrixRMaj rows = new DMatrixRMaj(GRID, 2 * degree + 1);
        DMatrixRMaj right = new DMatrixRMaj(GRID, 1);
        for (int i = 0; i < GRID; i++) {
            double weight = 1 / (square[i] * value(denominator, cosine[i]));
            double power = weight;
            for (int k = 0; k <= degree; k++) {
                rows.set(i, k, power);
                if (k > 0) {
                    rows.set(i, degree + k, -square[i] * power);
                }
                power *= cosine[i];
            }
            right.set(i, 0, square[i] * weight);
        }
        DMatrixRMaj fitted = new DMatrixRMaj(2 * degree + 1, 1);
        if (!CommonOps_DDRM.solve(rows, right, fitted)) {
            throw new IllegalStateException("no rational fit of degree " + degree);
        }
        for (int k = 0; k <= degree; k++) {
            numerator[k] = fitted.get(k);
            denominator[k] = k == 0 ? 1 : fitted.get(degree + k);
        }
    }

    private static double value(double[] polynomial, double x) {
        double sum = 0;
        for (int k = polynomial.length - 1; k >= 0; k--) {
            sum = sum * x + polynomial[k];
        }
        return sum;
    }

    /** Empty where one lies on the circle. */
    private static Optional<List<Root>> insideCircle(double[] polynomial) {
        List<Root> roots = new ArrayList<>();
        for (Complex x : new LaguerreSolver().solveAllComplex(polynomial, 0)) {
            Complex root = x.multiply(x).subtract(1).sqrt();
            Complex z = x.add(root).abs() < 1 ? x.add(root) : x.subtract(root);
            boolean real = Math.abs(x.getImaginary()) < 1e-9 * x.abs();
            if (!(z.abs() < 1 - 1e-6)) {
                return Optional.empty();
            }
            if (real) {
                roots.add(Root.real(z.getReal()));
            } else if (x.getImaginary() > 0) {
                roots.add(Root.pair(z.getReal(), z.getImaginary()));
            }
        }
        return Optional.of(roots);
    }

    List<Root> zeros() {
        return zeros;
    }

    List<Root> poles() {
        return poles;
    }
}
