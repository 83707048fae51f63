/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

/**
 * Mean, mean magnitude, mean square and maximum of all samples since the last reset. A non-finite sample makes the
 * figures non-finite until {@link #reset()}. Thread-confined.
 */
public final class Statistics {
    private long count;
    private double sum;
    private double sumOfMagnitudes;
    private double sumOfSquares;
    private double maximum;
    private long maximumAt;

    /** Statistics of no sample yet. */
    public Statistics() {
        reset();
    }

    /**
     * Takes a block.
     *
     * @param in samples
     * @param offset first sample
     * @param length number of samples
     */
    public void process(double[] in, int offset, int length) {
        for (int i = 0; i < length; i++) {
            double x = in[offset + i];
            sum += x;
            sumOfMagnitudes += Math.abs(x);
            sumOfSquares += x * x;
            if (x > maximum) {
                maximum = x;
                maximumAt = count + i;
            }
        }
        count += length;
    }

    /** Forgets every sample. */
    public void reset() {
        count = 0;
        sum = 0;
        sumOfMagnitudes = 0;
        sumOfSquares = 0;
        maximum = Double.NEGATIVE_INFINITY;
        maximumAt = 0;
    }

    /**
     * Number of samples.
     *
     * @return the number
     */
    public long count() {
        return count;
    }

    /**
     * Mean of the samples, NaN where there is none.
     *
     * @return the mean
     */
    public double mean() {
        return sum / count;
    }

    /**
     * Mean of the magnitudes of the samples, NaN where there is none.
     *
     * @return the mean
     */
    public double meanMagnitude() {
        return sumOfMagnitudes / count;
    }

    /**
     * Root of the mean square of the samples, NaN where there is none.
     *
     * @return the RMS value
     */
    public double rms() {
        return Math.sqrt(sumOfSquares / count);
    }

    /**
     * The highest sample, negative infinity where there is none.
     *
     * @return the maximum
     */
    public double maximum() {
        return maximum;
    }

    /**
     * Which sample was the highest, counted from 0 since the last reset.
     *
     * @return its number
     */
    public long maximumAt() {
        return maximumAt;
    }
}
