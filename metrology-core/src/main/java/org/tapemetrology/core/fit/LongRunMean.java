/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import java.util.Optional;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * Mean of a series that sways regularly, as speed and its fluctuations do once a turn of every part, and how well its value
 * in the long run is known.
 *
 * <p>The variance of the mean of n values is the long-run variance over n: the spectral density at zero frequency. That is
 * estimated by the mean square of the first k terms of the cosine transform of type II, which are orthogonal to the mean and
 * to each other; it has k degrees of freedom, and mean over uncertainty follows Student's t (U. K. M&uuml;ller, Journal of
 * Econometrics 141 (2007) p. 1331; E. Lazarus, D. J. Lewis, J. H. Stock, M. W. Watson, Journal of Business and Economic
 * Statistics 36 (2018) p. 541, both from memory). Here k is a forty-eighth of the number of values, from 4 to 24. What sways
 * faster than k half periods in the whole series costs nothing, as it should; a sum of autocovariances
 * ({@link CorrelatedMean}) would break off at the first half period and take it for chance. What wanders as slowly as the k
 * terms is seen in them.
 *
 * <p>Beyond 1024 values the transform is that of means of 2, 4, 8 ... neighbours: memory does not grow. A value that
 * is not finite makes the mean so until {@link #reset()}, and then the uncertainties are refused with an {@link
 * IllegalArgumentException}. Thread-confined.
 *
 * <p>All are in the unit of the values. Cost: some operations a value; an uncertainty up to 24 passes over 1024
 * values.
 *
 * <p>Not for a series that has a trend: that counts as scatter.
 */
public final class LongRunMean {
    private static final int LEAST_VALUES = 8;
    private static final int VALUES_PER_TERM = 48;
    private static final int LEAST_TERMS = 4;
    private static final int MOST_TERMS = 24;

    private final BatchedSeries series = new BatchedSeries();

    /** A mean of nothing yet. */
    public LongRunMean() {}

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
     * The mean of the values.
     *
     * @return the mean; 0 without a value
     */
    public double mean() {
        return series.moments().mean();
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
     * How well the mean is known. Fewer than eight values are taken for independent ones.
     *
     * @return its standard uncertainty; empty for fewer than two values
     */
    public Optional<StandardUncertainty> uncertainty() {
        return uncertaintyWith(0, this);
    }

    /**
     * How well the mean of the values plus a constant times those of another series is known.
     *
     * @param factor the constant
     * @param other a series to which as many values were added
     * @return the standard uncertainty of the mean of the sums; empty for fewer than two values
     */
    public Optional<StandardUncertainty> uncertaintyWith(double factor, LongRunMean other) {
        int n = series.size();
        if (n != other.series.size()) {
            throw new IllegalArgumentException("series of " + n + " and " + other.series.size() + " values");
        }
        if (n < 2) {
            return Optional.empty();
        }
        // All terms together are the variance of independent values.
        int terms = n < LEAST_VALUES ? n - 1 : terms();
        double mean = series.meanOfBatches();
        double otherMean = other.series.meanOfBatches();
        double sum = 0;
        for (int term = 1; term <= terms; term++) {
            double own = term(term, mean, 0);
            double both = factor == 0 ? own : own + factor * other.term(term, otherMean, 0);
            sum += both * both;
        }
        return Optional.of(new StandardUncertainty(Math.sqrt(sum / terms / n), terms));
    }

    /**
     * How well the least-squares slope of the values is known, by the terms of what is left beside it; the first one, which a
     * slope takes up nearly whole, is left out.
     *
     * @return the standard uncertainty of the slope per value; empty for fewer than eight values
     */
    public Optional<StandardUncertainty> slopeUncertainty() {
        int n = series.size();
        if (n < LEAST_VALUES) {
            return Optional.empty();
        }
        double middle = (n - 1) / 2.0;
        double squares = n * ((double) n * n - 1) / 12;
        double slope = 0;
        for (int i = 0; i < n; i++) {
            slope += (i - middle) * series.get(i) / squares;
        }
        int terms = Math.min(terms(), n / 2 - 2);
        double mean = series.meanOfBatches();
        double sum = 0;
        for (int term = 2; term < 2 + terms; term++) {
            double one = term(term, mean, slope);
            sum += one * one;
        }
        double perBatch = Math.sqrt(sum / terms / squares);
        return Optional.of(new StandardUncertainty(perBatch / series.batchLength(), terms));
    }

    private int terms() {
        int wanted = Math.min(MOST_TERMS, Math.max(LEAST_TERMS, series.size() / VALUES_PER_TERM));
        return Math.min(wanted, series.size() / 2);
    }

    /**
     * A term of the cosine transform of the values less their mean and a slope, of variance 1 where the values are independent
     * and have 1.
     */
    private double term(int term, double mean, double slope) {
        int n = series.size();
        double middle = (n - 1) / 2.0;
        // cos((i + 1/2) a) by recurrence, which begins with two equal values
        double angle = Math.PI * term / n;
        double twice = 2 * Math.cos(angle);
        double cosine = Math.cos(angle / 2);
        double before = cosine;
        double amplitude = 0;
        for (int i = 0; i < n; i++) {
            amplitude += cosine * (series.get(i) - mean - slope * (i - middle));
            double next = twice * cosine - before;
            before = cosine;
            cosine = next;
        }
        return Math.sqrt(2.0 / n) * amplitude;
    }
}
