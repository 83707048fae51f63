/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

/** Half-width that holds a probability: Newton's rule, kept inside a bracket. */
final class Quantile {
    /** Half-width of a normal distribution at 95 %: where the search begins. */
    static final double NORMAL_95 = 1.96;

    /** The step that follows a step this small would be far below every uncertainty of an uncertainty. */
    private static final double LAST_STEP = 1e-5;

    private static final int MOST_STEPS = 200;

    private Quantile() {}

    /** Probability within a half-width, and its slope. */
    static final class Value {
        double probability;
        double density;
    }

    /** The probability as a function of the half-width. */
    @FunctionalInterface
    interface Symmetric {
        void at(double halfWidth, Value into);
    }

    static double solve(double probability, double start, Symmetric function) {
        Value value = new Value();
        double low = 0;
        double high = Double.POSITIVE_INFINITY;
        double x = start;
        for (int i = 0; i < MOST_STEPS && high - low > 1e-12 * x; i++) {
            function.at(x, value);
            double excess = value.probability - probability;
            if (excess > 0) {
                high = x;
            } else {
                low = x;
            }
            double next = x - excess / value.density;
            boolean inside = next > low && next < high; // false for a slope of zero
            if (inside && Math.abs(next - x) <= LAST_STEP * x) {
                return next;
            }
            if (!inside) {
                next = high < Double.POSITIVE_INFINITY ? (low + high) / 2 : 2 * x;
            }
            x = next;
        }
        return x;
    }
}
