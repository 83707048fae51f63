/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

/**
 * Type A evaluation of inputs that were observed together: their means and the covariances of the means (JCGM 100:2008, 4.2
 * and 5.2.3). The observations of different sets are independent. Immutable.
 *
 * <p>Means are in the unit of the inputs, covariances in the product of two. Cost: n k squared for n sets of k
 * inputs. An observation that is not finite makes the figures of its input so.
 *
 * <p>Not for observations that follow each other so closely that they depend on each other.
 */
public final class RepeatedObservations {
    private final double[] means;
    private final double[][] covariance;
    private final int sets;

    /**
     * Evaluates observations.
     *
     * @param observations one row for each set of observations, one column for each input; at least two sets
     */
    public RepeatedObservations(double[][] observations) {
        sets = observations.length;
        if (sets < 2) {
            throw new IllegalArgumentException(sets + " sets of observations where at least 2 are needed");
        }
        int inputs = observations[0].length;
        means = new double[inputs];
        covariance = new double[inputs][inputs];
        for (double[] set : observations) {
            if (set.length != inputs) {
                throw new IllegalArgumentException(
                        "a set has " + set.length + " observations where " + inputs + " are needed");
            }
            for (int i = 0; i < inputs; i++) {
                means[i] += set[i] / sets;
            }
        }
        for (double[] set : observations) {
            for (int i = 0; i < inputs; i++) {
                for (int j = 0; j < inputs; j++) {
                    covariance[i][j] += (set[i] - means[i]) * (set[j] - means[j]) / sets / (sets - 1);
                }
            }
        }
    }

    /**
     * Means of the inputs.
     *
     * @return the means
     */
    public double[] means() {
        return means.clone();
    }

    /**
     * Covariance matrix of the means.
     *
     * @return the matrix
     */
    public double[][] covarianceOfMeans() {
        double[][] copy = new double[covariance.length][];
        for (int i = 0; i < copy.length; i++) {
            copy[i] = covariance[i].clone();
        }
        return copy;
    }

    /**
     * Degrees of freedom of each standard uncertainty.
     *
     * @return one less than there are sets
     */
    public int degreesOfFreedom() {
        return sets - 1;
    }
}
