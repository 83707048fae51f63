/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.ToDoubleFunction;
import org.apache.commons.math3.stat.StatUtils;
import org.tapemetrology.core.quantity.ExpandedUncertainty;

/**
 * Propagation of distributions by the Monte Carlo method (JCGM 101:2008, 7), with a stated seed: the same seed gives the same
 * figures on every platform. Immutable.
 *
 * <p>The result is in its own unit. Cost: a run of the model and eight bytes a trial, and a sort. A trial whose
 * result is not finite ends in an {@link ArithmeticException} that names it.
 *
 * <p>Not for a figure to be had at once, as in a live display: that is {@link Budget#expanded}.
 */
public final class MonteCarlo {
    private static final int BLOCK = 10_000;
    private static final int MOST_TRIALS = 100_000_000;
    private static final int FEWEST_TRIALS = 1000;

    private final long seed;
    private final int trials;
    /** Significant digits asked for; 0 for a fixed number of trials. */
    private final int digits;

    private MonteCarlo(long seed, int trials, int digits) {
        if (trials < FEWEST_TRIALS || trials > MOST_TRIALS) {
            throw new IllegalArgumentException(
                    "trials " + trials + " is not in [" + FEWEST_TRIALS + ", " + MOST_TRIALS + "]");
        }
        this.seed = seed;
        this.trials = trials;
        this.digits = digits;
    }

    /** Draws one value of the result. */
    @FunctionalInterface
    interface Draw {
        double next(SplittableRandom random);
    }

    /**
     * A fixed number of trials (7.2).
     *
     * @param seed seed of the random numbers
     * @param trials number of trials, 1000 to 100 000 000
     * @return the method
     */
    public static MonteCarlo fixed(long seed, int trials) {
        return new MonteCarlo(seed, trials, 0);
    }

    /**
     * As many trials as the figures need (7.9): blocks of 10 000, or more for a high probability, until twice the standard
     * deviation of the means over the blocks is within the numerical tolerance for mean, standard uncertainty and both ends of the interval.
     *
     * @param seed seed of the random numbers
     * @param significantDigits significant digits of the standard uncertainty that shall be right, 1 to 4
     * @param mostTrials where to give up, the result then not being stable
     * @return the method
     */
    public static MonteCarlo adaptive(long seed, int significantDigits, int mostTrials) {
        if (significantDigits < 1 || significantDigits > 4) {
            throw new IllegalArgumentException("significantDigits " + significantDigits + " is not in [1, 4]");
        }
        return new MonteCarlo(seed, mostTrials, significantDigits);
    }

    /**
     * Propagates the distributions of the inputs through a model of one result.
     *
     * @param model the result for a set of inputs, which it must not change
     * @param coverageProbability probability of the coverage intervals, between 0 and 1
     * @param inputs distributions of the inputs in order
     * @return mean, standard uncertainty and intervals of the result
     * @throws ArithmeticException if the model gives a result that is not finite
     */
    public MonteCarloResult run(
            ToDoubleFunction<double[]> model, double coverageProbability, InputDistribution... inputs) {
        double[] values = new double[InputDistribution.size(inputs)];
        return result(
                random -> {
                    InputDistribution.draw(inputs, random, values);
                    return model.applyAsDouble(values);
                },
                coverageProbability);
    }

    /**
     * Distribution of the error of a reading, that is the reading minus the true value, by the components of its budget:
     * those with finite degrees of freedom as Student's t, correlated ones together, every other by its own
     * distribution.
     *
     * @param budget the budget
     * @param coverageProbability probability of the coverage intervals, between 0 and 1
     * @return mean, standard uncertainty and intervals of the error
     * @throws ArithmeticException if an error is not finite
     */
    public MonteCarloResult of(Budget budget, double coverageProbability) {
        return result(budget.errors(), coverageProbability);
    }

    /**
     * The expanded uncertainty of a budget without the approximations of {@link Budget#expanded}: the half-width of the
     * interval about the uncorrected reading that holds the probability.
     *
     * @param budget the budget
     * @param coverageProbability the probability, between 0 and 1
     * @return the half-width in the unit of the reading with its probability
     */
    public ExpandedUncertainty expanded(Budget budget, double coverageProbability) {
        Coverage.probability(coverageProbability);
        Draw errors = budget.errors();
        // With a random sign the magnitudes are symmetric about no error, and so is their interval.
        MonteCarloResult symmetric = result(
                random -> random.nextBoolean() ? errors.next(random) : -errors.next(random), coverageProbability);
        return new ExpandedUncertainty((symmetric.high() - symmetric.low()) / 2, coverageProbability);
    }

    private MonteCarloResult result(Draw draw, double coverageProbability) {
        Coverage.probability(coverageProbability);
        SplittableRandom random = new SplittableRandom(seed);
        if (digits == 0) {
            return summary(block(draw, random, trials), coverageProbability, true);
        }
        int length = (int) Math.max(BLOCK, Math.ceil(100 / (1 - coverageProbability)));
        List<double[]> blocks = new ArrayList<>();
        List<MonteCarloResult> figures = new ArrayList<>();
        boolean stable;
        do {
            double[] block = block(draw, random, length);
            blocks.add(block);
            figures.add(summary(block, coverageProbability, false));
            stable = figures.size() > 1 && isStable(figures);
        } while (!stable && (blocks.size() + 1L) * length <= trials);
        double[] all = blocks.stream().flatMapToDouble(Arrays::stream).toArray();
        return summary(all, coverageProbability, stable);
    }

    private boolean isStable(List<MonteCarloResult> blocks) {
        double variance = blocks.stream()
                .mapToDouble(block -> block.standardUncertainty() * block.standardUncertainty())
                .average()
                .orElseThrow();
        double tolerance = tolerance(Math.sqrt(variance));
        return known(blocks, MonteCarloResult::mean, tolerance)
                && known(blocks, MonteCarloResult::standardUncertainty, tolerance)
                && known(blocks, MonteCarloResult::low, tolerance)
                && known(blocks, MonteCarloResult::high, tolerance);
    }

    private static boolean known(
            List<MonteCarloResult> blocks, ToDoubleFunction<MonteCarloResult> figure, double tolerance) {
        double[] values = blocks.stream().mapToDouble(figure).toArray();
        return 2 * deviation(values) / Math.sqrt(values.length) <= tolerance;
    }

    /** Half a unit of the last significant digit (7.9.2). */
    private double tolerance(double standardUncertainty) {
        if (standardUncertainty == 0) {
            return 0;
        }
        double exponent = Math.floor(Math.log10(standardUncertainty)) - digits + 1;
        return 0.5 * Math.pow(10, exponent);
    }

    private static double[] block(Draw draw, SplittableRandom random, int length) {
        double[] block = new double[length];
        for (int i = 0; i < length; i++) {
            block[i] = draw.next(random);
            // It would be sorted to one end of the interval, or keep the blocks from ever becoming stable.
            if (!Double.isFinite(block[i])) {
                throw new ArithmeticException("trial " + i + " of a block gave " + block[i] + ", not a finite number");
            }
        }
        return block;
    }

    private static double deviation(double[] values) {
        return Math.sqrt(StatUtils.variance(values));
    }

    /** Mean, deviation and intervals of the sorted trials (7.6 and 7.7). */
    private static MonteCarloResult summary(double[] values, double coverageProbability, boolean stable) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int count = sorted.length;
        int held = (int) Math.min(count - 1, Math.floor(coverageProbability * count + 0.5));
        int left = (count - held) / 2;
        int shortest = 0;
        for (int r = 0; r + held < count; r++) {
            if (sorted[r + held] - sorted[r] < sorted[shortest + held] - sorted[shortest]) {
                shortest = r;
            }
        }
        return new MonteCarloResult(
                StatUtils.mean(values),
                deviation(values),
                sorted[left],
                sorted[left + held],
                sorted[shortest],
                sorted[shortest + held],
                count,
                stable);
    }
}
