/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import java.util.Arrays;

/** Weighted mean of the deviations of a delay, its uncertainty, and their 95 % range, in s. */
final class DelayStatistics {
    private static final double RESOLUTION_SECONDS = 0.01e-6;
    private static final double RANGE_SECONDS = 100e-6;
    /** Standard deviations of a normal distribution from its 2.5th to its 97.5th percentile. */
    private static final double NORMAL_RANGE = 3.919927969080108;

    private final BlockedMean mean = new BlockedMean();
    private final double[] histogram = new double[(int) Math.round(2 * RANGE_SECONDS / RESOLUTION_SECONDS)];
    private double weightSum;
    private double scatterSum;
    private double predictedSum;

    /**
     * Adds a deviation.
     *
     * @param scatter variance that the scatter of the phases in the frame explains
     * @param predicted variance that is to be expected from the coherence of all frames, the wander's part included
     */
    void add(double deviation, double scatter, double predicted, double weight) {
        mean.add(deviation, weight);
        int bin = (int) Math.floor((deviation + RANGE_SECONDS) / RESOLUTION_SECONDS);
        histogram[Math.max(0, Math.min(histogram.length - 1, bin))] += weight;
        weightSum += weight;
        scatterSum += weight * scatter;
        predictedSum += weight * predicted;
    }

    /** Deviations of equal weight that would count as much. */
    double effectiveCount() {
        return mean.effectiveCount();
    }

    double mean() {
        return mean.mean();
    }

    double halfWidth() {
        return mean.halfWidth();
    }

    /** 95 % range less, by the difference of squares, what noise explains of it. */
    double range() {
        double noise = NORMAL_RANGE * NORMAL_RANGE * scatterSum / weightSum;
        return Math.sqrt(Math.max(0, wholeRange() * wholeRange() - noise));
    }

    /** Whether the noise that these deviations have and others have not widens the range by a tenth. */
    boolean isWidenedBeside(DelayStatistics others) {
        double more = predictedSum / weightSum - others.predictedSum / others.weightSum;
        return NORMAL_RANGE * NORMAL_RANGE * more > (1 - 1 / (1.1 * 1.1)) * wholeRange() * wholeRange();
    }

    private double wholeRange() {
        return quantile(0.975) - quantile(0.025);
    }

    private double quantile(double share) {
        double wanted = share * weightSum;
        double below = 0;
        int i = 0;
        while (i < histogram.length - 1 && below + histogram[i] < wanted) {
            below += histogram[i];
            i++;
        }
        double part = histogram[i] > 0 ? (wanted - below) / histogram[i] : 0;
        return (i + part) * RESOLUTION_SECONDS;
    }

    void reset() {
        mean.reset();
        Arrays.fill(histogram, 0);
        weightSum = 0;
        scatterSum = 0;
        predictedSum = 0;
    }
}
