/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.apache.commons.math3.stat.regression.SimpleRegression;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** A steady mean and a line against what defines them, written out plainly over all values at once. */
class SteadyMeanReferenceTest {
    /**
     * The recursion of R. P. Adams and D. J. C. MacKay (2007, from memory) with every run kept, over at most as many values as
     * runs are kept by the meter; the fluctuation by differences as its page tells. All sums are formed anew at each value.
     */
    private static final class PlainSteadyMean {
        private static final double CHANGE = 1 / 200.0;
        private final double leastVariance;
        private final List<Double> values = new ArrayList<>();
        private final double[] differences = new double[31];
        private final double[] counts = new double[31];
        /** Probability of each run, by the value that it began with. */
        private final List<Double> probabilities = new ArrayList<>();

        private double variance;
        private double longRun;

        PlainSteadyMean(double assumed, double least) {
            leastVariance = least * least;
            for (int k = 1; k <= 30; k++) {
                differences[k] = 2 * assumed * assumed * (1 - Math.exp(-k / 5.0));
                counts[k] = 20;
            }
            fluctuation();
        }

        private void fluctuation() {
            variance = 0;
            for (int k = 16; k <= 30; k++) {
                variance += differences[k] / 2 / 15;
            }
            longRun = variance;
            for (int k = 1; k <= 30 && variance - differences[k] / 2 > 0; k++) {
                longRun += 2 * variance - differences[k];
            }
            longRun = Math.max(longRun, leastVariance);
        }

        private double meanFrom(int first) {
            return values.subList(first, values.size()).stream()
                    .mapToDouble(Double::doubleValue)
                    .average()
                    .orElseThrow();
        }

        private static double likelihood(double difference, double spread) {
            return Math.log(1 / Math.sqrt(spread)) - difference * difference / (2 * spread);
        }

        double mean() {
            double sum = 0;
            double total = 0;
            for (int i = 0; i < probabilities.size(); i++) {
                sum += probabilities.get(i) * meanFrom(i);
                total += probabilities.get(i);
            }
            return total == 0 ? 0 : sum / total;
        }

        double uncertainty() {
            double squares = 0;
            double total = 0;
            for (int i = 0; i < probabilities.size(); i++) {
                double off = meanFrom(i) - mean();
                double own = Math.min(longRun / (values.size() - i), Math.max(variance, leastVariance));
                squares += probabilities.get(i) * (own + off * off);
                total += probabilities.get(i);
            }
            return Math.sqrt(squares / total);
        }

        double freedom() {
            double length = 0;
            double total = 0;
            for (int i = 0; i < probabilities.size(); i++) {
                length += probabilities.get(i) * (values.size() - i);
                total += probabilities.get(i);
            }
            return Math.max(1, length / total * Math.max(variance, leastVariance) / longRun - 1);
        }

        int averaged() {
            int most = 0;
            for (int i = 1; i < probabilities.size(); i++) {
                most = probabilities.get(i) > probabilities.get(most) ? i : most;
            }
            return values.size() - most;
        }

        void add(double value) {
            double cut = 8 * Math.max(variance, leastVariance);
            for (int k = 1; k <= 30 && k <= values.size(); k++) {
                double square = Math.pow(value - values.get(values.size() - k), 2);
                counts[k] = Math.min(1000, counts[k] + 1);
                differences[k] += (Math.min(cut, square) - differences[k]) / counts[k];
            }
            fluctuation();
            double[] says = new double[values.size() + 1];
            double highest = Double.NEGATIVE_INFINITY;
            for (int i = 0; i < says.length; i++) {
                boolean isNew = i == values.size();
                double length = values.size() - i;
                says[i] = isNew
                        ? likelihood(value - mean(), 5 * longRun)
                        : likelihood(value - meanFrom(i), longRun * (1 + 1 / length));
                highest = Math.max(highest, says[i]);
            }
            probabilities.add(values.isEmpty() ? 1.0 : CHANGE / (1 - CHANGE));
            double total = 0;
            for (int i = 0; i < says.length; i++) {
                probabilities.set(i, probabilities.get(i) * Math.exp(Math.max(-8, says[i] - highest)));
                total += probabilities.get(i);
            }
            for (int i = 0; i < says.length; i++) {
                probabilities.set(i, Math.max(1e-12, probabilities.get(i) / total));
            }
            values.add(value);
        }
    }

    /** Scatter, a level that jumps, one that is quieter than the least deviation, and single values that are far off. */
    @ParameterizedTest
    @CsvSource({"0.5, 0.01, 0.3, 0", "0.5, 0.01, 0.02, 3", "0.2, 0.5, 0.02, 1", "0.1, 1e-3, 0.8, -2"})
    void theSteadyMeanIsThatOfAllRuns(double assumed, double least, double scatter, double jump) {
        Random random = new Random(5);
        SteadyMean mean = new SteadyMean(assumed, least);
        PlainSteadyMean plain = new PlainSteadyMean(assumed, least);
        assertThat(mean.averaged()).isZero();
        assertThat(mean.recentMean()).isZero();
        double carried = 0;
        for (int i = 0; i < 64; i++) {
            double value = 2 + scatter * random.nextGaussian() + (i >= 40 ? jump : 0) + (i == 20 ? 5 : 0);
            mean.add(value, 3 - 2 * value);
            plain.add(value);
            carried += value;
            assertThat(mean.mean()).as("mean after %d values", i + 1).isCloseTo(plain.mean(), within(1e-9));
            assertThat(mean.carriedMean()).isCloseTo(3 - 2 * mean.mean(), within(1e-9));
            assertThat(mean.averaged()).isEqualTo(plain.averaged());
            if (i < 30) {
                assertThat(mean.recentMean()).isCloseTo(carried / (i + 1), within(1e-12));
                assertThat(mean.recentCarriedMean()).isCloseTo(3 - 2 * carried / (i + 1), within(1e-12));
            }
            if (i < 3) {
                assertThat(mean.uncertainty()).isEmpty();
            } else {
                StandardUncertainty uncertainty = mean.uncertainty().orElseThrow();
                assertThat(uncertainty.value()).isCloseTo(plain.uncertainty(), within(1e-9));
                assertThat(uncertainty.degreesOfFreedom()).isCloseTo(plain.freedom(), within(1e-6));
            }
        }
    }

    /** With more runs than are kept only the least probable go: the mean moves by less than a thousandth of the scatter. */
    @Test
    void theRunsThatAreDroppedHardlyCount() {
        Random random = new Random(6);
        SteadyMean mean = new SteadyMean(0.5, 0.01);
        PlainSteadyMean plain = new PlainSteadyMean(0.5, 0.01);
        for (int i = 0; i < 300; i++) {
            double value = 0.4 * random.nextGaussian() + (i < 200 ? 0 : 1.5);
            mean.add(value);
            plain.add(value);
            assertThat(mean.mean()).isCloseTo(plain.mean(), within(0.02));
        }
        assertThat(mean.averaged()).isEqualTo(plain.averaged());
    }

    /** Regressors that are not independent: H.3 of JCGM 100 has a line whose covariance is s^2 (X'X)^-1. */
    @Test
    void theCovarianceOfALineIsThatOfRegression() {
        double[] y = new Random(4).doubles(40).toArray();
        SimpleRegression line = new SimpleRegression();
        LinearLeastSquares problem = new LinearLeastSquares(2);
        for (int i = 0; i < y.length; i++) {
            line.addData(i, y[i]);
            problem.add(new double[] {1, i}, y[i]);
        }
        LinearFit fit = problem.solve();
        assertThat(fit.standardError(0)).isCloseTo(line.getInterceptStdErr(), within(1e-10));
        assertThat(fit.standardError(1)).isCloseTo(line.getSlopeStdErr(), within(1e-10));
        // Of a line the covariance of both is that of the slope times the mean of the places.
        double both = -19.5 * line.getSlopeStdErr() * line.getSlopeStdErr();
        assertThat(fit.covariance(0, 1)).isCloseTo(both, within(1e-10));
        assertThat(fit.covariance(1, 0)).isCloseTo(both, within(1e-10));
        assertThat(fit.residualSumOfSquares()).isCloseTo(line.getSumSquaredErrors(), within(1e-9));
        assertThat(fit.residualStandardDeviation()).isCloseTo(Math.sqrt(line.getMeanSquareError()), within(1e-10));
        assertThat(fit.toString())
                .isEqualTo("LinearFit[" + fit.coefficient(0) + ", " + fit.coefficient(1) + "] +- "
                        + fit.residualStandardDeviation());
        double[] copy = fit.coefficients();
        copy[0] = 99;
        assertThat(fit.coefficient(0)).isNotEqualTo(99);
        assertThatThrownBy(() -> fit.covariance(2, 0)).isInstanceOf(IndexOutOfBoundsException.class);
        assertThatThrownBy(() -> fit.covariance(0, 2)).isInstanceOf(IndexOutOfBoundsException.class);
        assertThatThrownBy(() -> fit.coefficient(-1)).isInstanceOf(IndexOutOfBoundsException.class);
    }
}
