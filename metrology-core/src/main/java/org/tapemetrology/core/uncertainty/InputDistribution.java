/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.ejml.data.DMatrixRMaj;
import org.tapemetrology.core.internal.Require;

/**
 * Distribution of one input of a model, or of several that belong together (JCGM 101:2008, 6.4). Immutable.
 *
 * <p>Values are in the unit of the input. Cost: a draw or two a trial. Numbers that are not finite are refused.
 *
 * <p>Not for inputs that depend on each other in another way than jointly normal ones do.
 */
public final class InputDistribution {
    private final int size;
    private final Sampler sampler;

    @FunctionalInterface
    private interface Sampler {
        void draw(SplittableRandom random, double[] into, int offset);
    }

    private InputDistribution(int size, Sampler sampler) {
        this.size = size;
        this.sampler = sampler;
    }

    /**
     * An input by estimate and standard uncertainty.
     *
     * @param distribution its distribution
     * @param estimate its estimate; for a one-sided distribution the end from which it rises
     * @param standardUncertainty its standard uncertainty
     * @return the distribution
     * @throws IllegalArgumentException if a number is not finite, or the uncertainty is below 0
     */
    public static InputDistribution of(Distribution distribution, double estimate, double standardUncertainty) {
        Require.finite("estimate", estimate);
        Require.notNegative("standardUncertainty", standardUncertainty);
        return new InputDistribution(
                1,
                (random, into, offset) -> into[offset] = estimate + distribution.sample(random, standardUncertainty));
    }

    /**
     * A normal distribution (6.4.7).
     *
     * @param mean its mean
     * @param standardDeviation its standard deviation
     * @return the distribution
     */
    public static InputDistribution normal(double mean, double standardDeviation) {
        return of(Distribution.NORMAL, mean, standardDeviation);
    }

    /**
     * A rectangular distribution (6.4.2).
     *
     * @param low its lower bound
     * @param high its upper bound
     * @return the distribution
     */
    public static InputDistribution rectangular(double low, double high) {
        if (!(low <= high)) {
            throw new IllegalArgumentException("low " + low + " is not below high " + high);
        }
        return of(
                Distribution.RECTANGULAR,
                (low + high) / 2,
                Distribution.RECTANGULAR.standardUncertainty((high - low) / 2));
    }

    /**
     * A scaled and shifted Student's t (6.4.9).
     *
     * @param estimate its middle
     * @param scale its scale: the standard deviation of a mean of observations
     * @param degreesOfFreedom degrees of freedom, above 0
     * @return the distribution
     * @throws IllegalArgumentException if a number is not finite, or the scale is below 0
     */
    public static InputDistribution student(double estimate, double scale, double degreesOfFreedom) {
        Require.finite("estimate", estimate);
        Require.notNegative("scale", scale);
        Coverage.degreesOfFreedom(degreesOfFreedom);
        return new InputDistribution(
                1, (random, into, offset) -> into[offset] = estimate + scale * Draws.student(random, degreesOfFreedom));
    }

    /**
     * A joint normal distribution (6.4.8).
     *
     * @param means its means
     * @param covariance its covariance matrix, which may be singular
     * @return the distribution of that many inputs
     * @throws IllegalArgumentException if a number is not finite, or no inputs can have that covariance
     */
    public static InputDistribution jointNormal(double[] means, double[][] covariance) {
        double[] middle = means.clone();
        if (covariance.length != middle.length) {
            throw new IllegalArgumentException(
                    "covariance has " + covariance.length + " rows where " + middle.length + " are needed");
        }
        for (int i = 0; i < middle.length; i++) {
            Require.finite("means[" + i + "]", middle[i]);
        }
        DMatrixRMaj root = Covariance.root("covariance", covariance);
        return new InputDistribution(middle.length, (random, into, offset) -> {
            System.arraycopy(middle, 0, into, offset, middle.length);
            for (int k = 0; k < middle.length; k++) {
                double deviate = Draws.normal(random);
                for (int i = 0; i < middle.length; i++) {
                    into[offset + i] += root.get(i, k) * deviate;
                }
            }
        });
    }

    static int size(InputDistribution... inputs) {
        return Arrays.stream(inputs).mapToInt(input -> input.size).sum();
    }

    static void draw(InputDistribution[] inputs, SplittableRandom random, double[] into) {
        int offset = 0;
        for (InputDistribution input : inputs) {
            input.sampler.draw(random, into, offset);
            offset += input.size;
        }
    }
}
