/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import java.util.Arrays;
import java.util.Optional;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * Running mean of values that jump about a level which somebody may change at any moment, as one does who turns a trimmer:
 * it averages for as long as nothing speaks for a change, and follows where something does.
 *
 * <p>Each value may begin a new run. The probability of every run that may still last is renewed value by value: it is
 * multiplied by the likelihood of the value under the mean of the run, and by 1 - h, where h = 1/200 is the chance that a
 * change comes between two values; a new run takes h times the likelihood of the value about the present mean with a spread
 * of changes added (R. P. Adams, D. J. C. MacKay, "Bayesian Online Changepoint Detection", 2007, from memory). The mean is
 * that of the runs, weighted by their probabilities. At most 64 runs are kept.
 *
 * <p>The values depend on their neighbours. So each counts with the long-run variance
 * {@code S = g0 + 2 g1 + 2 g2 + ...} instead of the variance g0, which is right for means over more values than the
 * dependence lasts, and careful for fewer. S comes from the mean squares d(k) of the differences over k values,
 * {@code g(k) = g0 - d(k)/2}, summed up to 30 values or as long as g(k) is positive, with g0 from d(16) to d(30). Changes
 * reach few of those differences, and one that is much larger than usual is cut. A change that takes place within the time
 * that the values depend on each other cannot be told from chance, whatever one computes; what rates come out is in
 * {@code STUDIES.md}.
 *
 * <p>With each value another may be carried along, which is averaged over the same runs: the power, where changes are looked
 * for in dB. Nothing is allocated after construction. Thread-confined.
 *
 * <p>All are in the unit of the values. Cost: up to 64 runs and 30 differences a value, one exponential for each run.
 * A value that is not finite is refused.
 *
 * <p>Not for the figure of a whole recording, which is a plain mean with the uncertainty of {@link LongRunMean}.
 */
public final class SteadyMean {
    /** Over how many of the last values {@link #recentMean()} is taken. */
    public static final int RECENT = 30;

    private static final double CHANGE = 1.0 / 200;
    /** Variance of a change over the long-run variance. */
    private static final double SPREAD = 4;
    /** A single value speaks at most so much for one run against another, as a logarithm of likelihoods. */
    private static final double MOST_SAID = 8;

    private static final double LEAST_PROBABILITY = 1e-12;
    private static final int RUNS = 64;

    /** How many values the assumed deviation counts as at the start, and how many are remembered. */
    private static final double ASSUMED_VALUES = 20;

    private static final double REMEMBERED_VALUES = 1000;
    private static final double MOST_RE_USUAL = 4;
    /** Values over which the assumed fluctuation forgets its past. */
    private static final double ASSUMED_DEPENDENCE = 5;

    private static final int PLATEAU = RECENT / 2 + 1;

    private final double assumedDeviation;
    private final double leastVariance;

    private final long[] lengths = new long[RUNS + 1];
    private final double[] sums = new double[RUNS + 1];
    private final double[] carriedSums = new double[RUNS + 1];
    private final double[] probabilities = new double[RUNS + 1];
    private final double[] logarithms = new double[RUNS + 1];
    private int runs;

    private final double[] latest = new double[RECENT];
    private final double[] latestCarried = new double[RECENT];
    private long count;

    /** Mean squares of the differences over 1 to RECENT values, and how many values each counts as. */
    private final double[] differences = new double[RECENT + 1];

    private final double[] differenceCounts = new double[RECENT + 1];

    private double variance;
    private double longRunVariance;
    private double mean;
    private double carriedMean;

    /**
     * A mean of nothing yet.
     *
     * @param assumedDeviation standard deviation of the values that is assumed until they tell, in their unit, above 0
     * @param leastDeviation the least that is believed, above 0
     */
    public SteadyMean(double assumedDeviation, double leastDeviation) {
        this.assumedDeviation = Require.positive("assumedDeviation", assumedDeviation);
        double least = Require.positive("leastDeviation", leastDeviation);
        this.leastVariance = least * least;
        reset();
    }

    /** Forgets every value. */
    public void reset() {
        runs = 0;
        count = 0;
        mean = 0;
        carriedMean = 0;
        Arrays.fill(differenceCounts, ASSUMED_VALUES);
        for (int k = 1; k <= RECENT; k++) {
            double kept = StrictMath.exp(-k / ASSUMED_DEPENDENCE);
            differences[k] = 2 * assumedDeviation * assumedDeviation * (1 - kept);
        }
        estimateVariance();
    }

    /** Begins a new mean, as where the change is known; what was learnt of the fluctuation is kept. */
    public void restart() {
        runs = 0;
        count = 0;
        mean = 0;
        carriedMean = 0;
    }

    /**
     * Adds the next value.
     *
     * @param value the value, finite
     */
    public void add(double value) {
        add(value, value);
    }

    /**
     * Adds the next value and what is carried along.
     *
     * @param value the value, finite
     * @param carried what is averaged over the same runs, finite
     */
    public void add(double value, double carried) {
        if (!Double.isFinite(value) || !Double.isFinite(carried)) {
            throw new IllegalArgumentException("value " + value + " or carried " + carried + " is not finite");
        }
        learn(value);
        latest[(int) (count % RECENT)] = value;
        latestCarried[(int) (count % RECENT)] = carried;
        count++;
        weigh(value);
        for (int i = 0; i < runs; i++) {
            lengths[i]++;
            sums[i] += value;
            carriedSums[i] += carried;
        }
        if (runs > RUNS) {
            dropLeast();
        }
        average();
    }

    private void learn(double value) {
        double most = MOST_RE_USUAL * 2 * Math.max(variance, leastVariance);
        for (int k = 1; k <= Math.min(count, RECENT); k++) {
            double difference = value - latest[(int) ((count - k) % RECENT)];
            differenceCounts[k] = Math.min(differenceCounts[k] + 1, REMEMBERED_VALUES);
            differences[k] += (Math.min(most, difference * difference) - differences[k]) / differenceCounts[k];
        }
        estimateVariance();
    }

    private void estimateVariance() {
        double plateau = 0;
        for (int k = PLATEAU; k <= RECENT; k++) {
            plateau += differences[k];
        }
        variance = plateau / (2 * (RECENT - PLATEAU + 1));
        double sum = variance;
        for (int k = 1; k <= RECENT; k++) {
            double covariance = variance - differences[k] / 2;
            if (covariance <= 0) {
                break;
            }
            sum += 2 * covariance;
        }
        longRunVariance = Math.max(sum, leastVariance);
    }

    /** Multiplies the probabilities by what the value says of each run, and begins one with it. */
    private void weigh(double value) {
        double highest = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < runs; i++) {
            logarithms[i] = logarithm(value - sums[i] / lengths[i], longRunVariance * (1 + 1.0 / lengths[i]));
            highest = Math.max(highest, logarithms[i]);
        }
        lengths[runs] = 0;
        sums[runs] = 0;
        carriedSums[runs] = 0;
        logarithms[runs] = runs == 0 ? 0 : logarithm(value - mean, longRunVariance * (1 + SPREAD));
        highest = Math.max(highest, logarithms[runs]);
        double total = 0;
        for (int i = 0; i <= runs; i++) {
            double before = i < runs ? (1 - CHANGE) * probabilities[i] : runs == 0 ? 1 : CHANGE;
            probabilities[i] = before * Math.exp(Math.max(logarithms[i] - highest, -MOST_SAID));
            total += probabilities[i];
        }
        runs++;
        for (int i = 0; i < runs; i++) {
            probabilities[i] = Math.max(LEAST_PROBABILITY, probabilities[i] / total);
        }
    }

    private static double logarithm(double difference, double spread) {
        return -0.5 * (Math.log(spread) + difference * difference / spread);
    }

    /** Drops the least probable run but the one that has just begun. */
    private void dropLeast() {
        int least = 0;
        for (int i = 1; i < runs - 1; i++) {
            if (probabilities[i] < probabilities[least]) {
                least = i;
            }
        }
        int after = runs - least - 1;
        System.arraycopy(lengths, least + 1, lengths, least, after);
        System.arraycopy(sums, least + 1, sums, least, after);
        System.arraycopy(carriedSums, least + 1, carriedSums, least, after);
        System.arraycopy(probabilities, least + 1, probabilities, least, after);
        runs--;
    }

    private void average() {
        double total = 0;
        double sum = 0;
        double carried = 0;
        for (int i = 0; i < runs; i++) {
            total += probabilities[i];
            sum += probabilities[i] * sums[i] / lengths[i];
            carried += probabilities[i] * carriedSums[i] / lengths[i];
        }
        mean = sum / total;
        carriedMean = carried / total;
    }

    /**
     * How many values there are.
     *
     * @return their number since the start
     */
    public long count() {
        return count;
    }

    /**
     * The mean since the last change.
     *
     * @return the mean; 0 without a value
     */
    public double mean() {
        return mean;
    }

    /**
     * The mean of what is carried along since the last change.
     *
     * @return the mean; 0 without a value
     */
    public double carriedMean() {
        return carriedMean;
    }

    /**
     * Mean of the last {@value #RECENT} values, as fast as a change can be seen and as unsteady as that makes it.
     *
     * @return the mean; 0 without a value
     */
    public double recentMean() {
        return recent(latest);
    }

    /**
     * Mean of what was carried along with the last {@value #RECENT} values.
     *
     * @return the mean; 0 without a value
     */
    public double recentCarriedMean() {
        return recent(latestCarried);
    }

    private double recent(double[] values) {
        int some = (int) Math.min(count, RECENT);
        double sum = 0;
        for (int i = 0; i < some; i++) {
            sum += values[i];
        }
        return some == 0 ? 0 : sum / some;
    }

    /**
     * Over how many values the mean goes: the length of the most probable run.
     *
     * @return number of values
     */
    public long averaged() {
        int most = 0;
        for (int i = 1; i < runs; i++) {
            if (probabilities[i] > probabilities[most]) {
                most = i;
            }
        }
        return runs == 0 ? 0 : lengths[most];
    }

    /**
     * How well {@link #mean()} is known: by the fluctuation of the values and by the doubt which run it is.
     *
     * @return the uncertainty; empty for fewer than four values
     */
    public Optional<StandardUncertainty> uncertainty() {
        if (count < 4) {
            return Optional.empty();
        }
        double total = 0;
        double sum = 0;
        double squares = 0;
        for (int i = 0; i < runs; i++) {
            double off = sums[i] / lengths[i] - mean;
            total += probabilities[i];
            sum += probabilities[i] * lengths[i];
            squares += probabilities[i]
                    * (Math.min(longRunVariance / lengths[i], Math.max(variance, leastVariance)) + off * off);
        }
        double independent = sum / total * Math.max(variance, leastVariance) / longRunVariance;
        return Optional.of(new StandardUncertainty(Math.sqrt(squares / total), Math.max(1, independent - 1)));
    }
}
