/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import java.util.Arrays;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * Weighted mean of correlated values with its uncertainty: values are paired to means of 2, 4, 8 .. and the greatest
 * standard error of these is taken (H. Flyvbjerg, H. G. Petersen, J. Chem. Phys. 91 (1989) p. 461, from memory). Blocks
 * longer than the correlation are independent. Weights are relative reciprocal variances.
 */
final class BlockedMean {
    private static final int LEVELS = 32;
    /** Fewer blocks tell no standard error. */
    private static final int LEAST_BLOCKS = 8;

    private final double[] pending = new double[LEVELS];
    private final double[] pendingWeight = new double[LEVELS];
    private final long[] count = new long[LEVELS];
    private final double[] weights = new double[LEVELS];
    private final double[] values = new double[LEVELS];
    private final double[] squaredWeights = new double[LEVELS];
    private final double[] squaredWeightValues = new double[LEVELS];
    private final double[] squares = new double[LEVELS];

    void add(double value, double weight) {
        double v = value;
        double w = weight;
        for (int level = 0; level < LEVELS; level++) {
            count[level]++;
            weights[level] += w;
            values[level] += w * v;
            squaredWeights[level] += w * w;
            squaredWeightValues[level] += w * w * v;
            squares[level] += w * w * v * v;
            if (count[level] % 2 != 0) {
                pending[level] = v;
                pendingWeight[level] = w;
                return;
            }
            v = (v * w + pending[level] * pendingWeight[level]) / (w + pendingWeight[level]);
            w += pendingWeight[level];
        }
    }

    double mean() {
        return values[0] / weights[0];
    }

    /** Number of values of equal weight that would count as much: the square of the sum over the sum of squares. */
    double effectiveCount() {
        return count[0] == 0 ? 0 : weights[0] * weights[0] / squaredWeights[0];
    }

    /** Half-width of the 95 % interval of the mean; infinite for too few values. */
    double halfWidth() {
        double greatest = 0;
        boolean known = false;
        for (int level = 0; level < LEVELS && count[level] >= LEAST_BLOCKS; level++) {
            double n = weights[level] * weights[level] / squaredWeights[level];
            if (n > 2) {
                double mean = values[level] / weights[level];
                double sum = squares[level] - mean * (2 * squaredWeightValues[level] - mean * squaredWeights[level]);
                double error = Math.sqrt(Math.max(0, sum) * n / (n - 1)) / weights[level];
                greatest =
                        Math.max(greatest, error * new TDistribution(null, n - 1).inverseCumulativeProbability(0.975));
                known = true;
            }
        }
        return known ? greatest : Double.POSITIVE_INFINITY;
    }

    void reset() {
        Arrays.fill(count, 0);
        for (double[] each : new double[][] {weights, values, squaredWeights, squaredWeightValues, squares}) {
            Arrays.fill(each, 0);
        }
    }
}
