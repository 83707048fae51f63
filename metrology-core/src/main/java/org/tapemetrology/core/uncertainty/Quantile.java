/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BracketingNthOrderBrentSolver;
import org.apache.commons.math3.analysis.solvers.UnivariateSolverUtils;

/** Half-width that holds a probability. */
final class Quantile {
    /** In scales: far below every uncertainty of an uncertainty. */
    private static final double ACCURACY = 1e-9;

    /** From 0.9 half-widths of a rectangle or sinusoid to 2.1 standard deviations they reach 95 %: looked at first. */
    private static final double MIDDLE = 1.5;

    private static final double TO_EITHER_SIDE = 0.6;

    private static final int ORDER = 5;
    private static final int MOST_LOOKS = 500;
    private static final int MOST_DOUBLINGS = 500;

    private Quantile() {}

    /** Where the probability within a half-width reaches one, in scales near the scale given or however far above it. */
    static double solve(double probability, double scale, UnivariateFunction within) {
        UnivariateFunction excess = x -> within.value(x * scale) - probability;
        double[] ends =
                UnivariateSolverUtils.bracket(excess, MIDDLE, 0, Double.MAX_VALUE, TO_EITHER_SIDE, 2, MOST_DOUBLINGS);
        return scale
                * new BracketingNthOrderBrentSolver(ACCURACY, ACCURACY, ORDER)
                        .solve(MOST_LOOKS, excess, ends[0], ends[1]);
    }
}
