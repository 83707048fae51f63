/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import java.util.Optional;

/**
 * Mean of a series of values that depend on those before them, and how well it is known.
 *
 * <p>The variance of the mean of n values is {@code (g0 + 2 g1 + 2 g2 + ...)/n} with the autocovariances g. They are summed
 * in pairs of neighbouring lags for as long as the pairs are positive and none counts for more than the one before: the
 * initial monotone sequence of C. J. Geyer, Statistical Science 7 (1992) p. 473 (from memory). With w = 2M + 1 for the
 * highest lag M, the sum is divided by {@code 1 - w/n} for the mean that was taken out, and has {@code n/w} degrees of
 * freedom, as a spectrum at zero frequency under a rectangular lag window (M. B. Priestley, "Spectral Analysis and Time
 * Series", 1981, chapter 6, from memory). It is not taken below half of that of independent values, so a series that sways
 * regularly gains nothing by it.
 *
 * <p>Beyond 1024 values the autocovariances are those of means of 2, 4, 8 ... neighbours: memory does not grow. A
 * value that is not finite makes the figures so until {@link #reset()}. Thread-confined.
 *
 * <p>All are in the unit of the values. Cost: some operations a value; the scatter takes up to half a million
 * products.
 *
 * <p>Not for a series that sways regularly: that is {@link LongRunMean}.
 */
public final class CorrelatedMean {
    private static final double LEAST_TO_INDEPENDENT = 0.5;
    /** Where the sum of correlations takes up nearly the whole series it is hardly known: no larger factor than 10. */
    private static final double LEAST_LEFT = 0.1;

    private final BatchedSeries series = new BatchedSeries();

    /** A mean of nothing yet. */
    public CorrelatedMean() {}

    /**
     * How well the mean is known.
     *
     * <p>Its numbers are not checked.
     *
     * @param standardUncertainty standard deviation of the mean, in the unit of the values
     * @param degreesOfFreedom degrees of freedom with which that is known, at least 1
     * @param effectiveCount how many independent values would have a mean as good, a plain number
     */
    public record Scatter(double standardUncertainty, double degreesOfFreedom, double effectiveCount) {}

    /** Forgets every value. */
    public void reset() {
        series.reset();
    }

    /**
     * Adds the next value of the series.
     *
     * @param value the value
     */
    public void add(double value) {
        series.add(value);
    }

    /**
     * How many values there are.
     *
     * @return the number
     */
    public long count() {
        return series.moments().count();
    }

    /**
     * The mean of the values.
     *
     * @return the mean; 0 without a value
     */
    public double mean() {
        return series.moments().mean();
    }

    /**
     * How well the mean is known, by the scatter of the values and their dependence.
     *
     * @return the scatter; empty for fewer than four values
     */
    public Optional<Scatter> scatter() {
        int filled = series.size();
        if (filled < 4) {
            return Optional.empty();
        }
        double mean = series.meanOfBatches();
        double variance = autocovariance(mean, 0);
        if (variance == 0) {
            return Optional.of(new Scatter(0, filled - 1, series.moments().count()));
        }
        double sum = -variance;
        double least = Double.POSITIVE_INFINITY;
        int lag = 0;
        while (lag + 1 < filled) {
            double pair = autocovariance(mean, lag) + autocovariance(mean, lag + 1);
            if (pair <= 0) {
                break;
            }
            least = Math.min(least, pair);
            sum += 2 * least;
            lag += 2;
        }
        double window = Math.max(1, 2 * lag - 1); // the highest lag is one less
        double left = Math.max(LEAST_LEFT, 1 - window / filled);
        double total = Math.max(sum / left, LEAST_TO_INDEPENDENT * variance);
        double uncertainty = Math.sqrt(total / filled);
        double single = series.moments().standardDeviation() / uncertainty;
        return Optional.of(new Scatter(uncertainty, Math.max(1, filled / window), single * single));
    }

    private double autocovariance(double mean, int lag) {
        int filled = series.size();
        double sum = 0;
        for (int i = lag; i < filled; i++) {
            sum += (series.get(i) - mean) * (series.get(i - lag) - mean);
        }
        return sum / filled;
    }
}
