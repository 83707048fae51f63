/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.Arrays;
import java.util.Objects;

/**
 * The relative speed deviation of a stretch of tone, (v - v_mean)/v_mean, at a steady rate of 1000 Hz to 2000 Hz, flat from
 * 0 Hz to 470 Hz. Bridged gaps hold straight lines. Immutable; may be shared between threads.
 */
public final class DeviationSeries {
    private final double startSeconds;
    private final double rateHz;
    private final double meanHz;
    private final float[] values;

    DeviationSeries(double startSeconds, double rateHz, double meanHz, float[] values) {
        this.startSeconds = startSeconds;
        this.rateHz = rateHz;
        this.meanHz = meanHz;
        this.values = values;
    }

    /**
     * A series from elsewhere.
     *
     * @param startSeconds time of the first value, in s of the recording
     * @param rateHz values a second, 1000 to 2000
     * @param meanHz mean frequency of the tone in Hz
     * @param values relative deviations, copied
     * @return the series
     */
    public static DeviationSeries of(double startSeconds, double rateHz, double meanHz, float[] values) {
        if (!(rateHz >= 1000 && rateHz <= 2000)) {
            throw new IllegalArgumentException("rateHz " + rateHz + " is not in 1000 to 2000");
        }
        return new DeviationSeries(startSeconds, rateHz, meanHz, values.clone());
    }

    /**
     * Number of values.
     *
     * @return that number
     */
    public int size() {
        return values.length;
    }

    /**
     * A value.
     *
     * @param index which one
     * @return relative deviation
     */
    public double value(int index) {
        return values[index];
    }

    /**
     * A part of the values.
     *
     * @param from first of them
     * @param length number of them
     * @return relative deviations
     */
    public double[] part(int from, int length) {
        Objects.checkFromIndexSize(from, length, values.length);
        double[] part = new double[length];
        for (int i = 0; i < length; i++) {
            part[i] = values[from + i];
        }
        return part;
    }

    /**
     * A part of the series.
     *
     * @param from first value of it
     * @param length number of values
     * @return that part, with its own start
     */
    public DeviationSeries slice(int from, int length) {
        Objects.checkFromIndexSize(from, length, values.length);
        return new DeviationSeries(
                startSeconds + from / rateHz, rateHz, meanHz, Arrays.copyOfRange(values, from, from + length));
    }

    /**
     * Values a second.
     *
     * @return rate in Hz
     */
    public double rateHz() {
        return rateHz;
    }

    /**
     * Time of the first value.
     *
     * @return s from the start of the recording
     */
    public double startSeconds() {
        return startSeconds;
    }

    /**
     * Length of the series.
     *
     * @return s
     */
    public double seconds() {
        return values.length / rateHz;
    }

    /**
     * Mean frequency of the tone.
     *
     * @return frequency in Hz
     */
    public double meanHz() {
        return meanHz;
    }
}
