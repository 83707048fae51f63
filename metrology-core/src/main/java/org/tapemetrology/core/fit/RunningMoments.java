/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

/**
 * Weighted mean and standard deviation, updated value by value (B. P. Welford, Technometrics 4 (1962) p. 419): small
 * deviations beside a large mean are not lost. Thread-confined.
 *
 * <p>Both are in the unit of the values. Cost: a few operations a value. A value that is not finite makes both NaN
 * until {@link #reset()}.
 *
 * <p>Not for the uncertainty of the mean of values that depend on each other: that is {@link CorrelatedMean} or
 * {@link LongRunMean}.
 */
public final class RunningMoments {
    private long count;
    private double weight;
    private double mean;
    private double squares;

    /** Moments of nothing yet. */
    public RunningMoments() {}

    /** Forgets every value. */
    public void reset() {
        count = 0;
        weight = 0;
        mean = 0;
        squares = 0;
    }

    /**
     * Adds a value of weight 1.
     *
     * @param value the value
     */
    public void add(double value) {
        add(value, 1);
    }

    /**
     * Adds a value.
     *
     * @param value the value
     * @param valueWeight its weight, above 0
     */
    public void add(double value, double valueWeight) {
        if (!(valueWeight > 0)) {
            throw new IllegalArgumentException("weight " + valueWeight + " is not above 0");
        }
        count++;
        weight += valueWeight;
        double off = value - mean;
        mean += off * valueWeight / weight;
        squares += valueWeight * off * (value - mean);
    }

    /**
     * How many values there are.
     *
     * @return the number
     */
    public long count() {
        return count;
    }

    /**
     * The weighted mean.
     *
     * @return the mean; 0 without a value
     */
    public double mean() {
        return mean;
    }

    /**
     * The standard deviation with n - 1 in the divisor.
     *
     * @return the deviation; 0 for fewer than two values
     */
    public double standardDeviation() {
        return count < 2 ? 0 : Math.sqrt(squares / weight * count / (count - 1));
    }
}
