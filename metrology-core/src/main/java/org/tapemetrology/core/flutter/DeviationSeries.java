/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.List;
import java.util.Objects;

/**
 * The relative speed deviation of a stretch of tone, (v - v_mean)/v_mean, at a steady rate of 1000 Hz to 2000 Hz, flat from
 * 0 Hz to 470 Hz. Bridged gaps hold straight lines. Immutable; may be shared between threads.
 *
 * <p>Values are ratios (by definition). Cost: four bytes a value; parts are copied. Values from elsewhere are not
 * checked: NaN stays where it stands.
 *
 * <p>Not for figures: straight lines in the gaps count in it, and {@link ToneMeter} leaves them out.
 */
public final class DeviationSeries {
    private final double startSeconds;
    private final double rateHz;
    private final double meanHz;
    private final List<float[]> chunks;
    private final int chunkLength;
    private final int valueCount;
    private final double offsetHz;

    /**
     * A series over deviations in Hz that stand in chunks, which are not copied: an hour of it is large.
     *
     * @param chunks chunks of equal length, the last one filled as far as the size needs
     * @param offsetHz what is taken off each value
     */
    DeviationSeries(
            double startSeconds,
            double rateHz,
            double meanHz,
            List<float[]> chunks,
            int chunkLength,
            int valueCount,
            double offsetHz) {
        this.startSeconds = startSeconds;
        this.rateHz = rateHz;
        this.meanHz = meanHz;
        this.chunks = List.copyOf(chunks);
        this.chunkLength = chunkLength;
        this.valueCount = valueCount;
        this.offsetHz = offsetHz;
    }

    private static DeviationSeries ofRelative(double startSeconds, double rateHz, double meanHz, float[] relative) {
        float[] hz = new float[relative.length];
        for (int i = 0; i < hz.length; i++) {
            hz[i] = (float) (relative[i] * meanHz);
        }
        return new DeviationSeries(startSeconds, rateHz, meanHz, List.of(hz), Math.max(1, hz.length), hz.length, 0);
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
        return ofRelative(startSeconds, rateHz, meanHz, values);
    }

    /**
     * Number of values.
     *
     * @return that number
     */
    public int size() {
        return valueCount;
    }

    /**
     * A value.
     *
     * @param index which one
     * @return relative deviation
     */
    public double value(int index) {
        Objects.checkIndex(index, valueCount);
        return (chunks.get(index / chunkLength)[index % chunkLength] - offsetHz) / meanHz;
    }

    /**
     * A part of the values.
     *
     * @param from first of them
     * @param length number of them
     * @return relative deviations
     */
    public double[] part(int from, int length) {
        Objects.checkFromIndexSize(from, length, valueCount);
        double[] part = new double[length];
        for (int i = 0; i < length; i++) {
            part[i] = value(from + i);
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
        Objects.checkFromIndexSize(from, length, valueCount);
        float[] relative = new float[length];
        for (int i = 0; i < length; i++) {
            relative[i] = (float) value(from + i);
        }
        return ofRelative(startSeconds + from / rateHz, rateHz, meanHz, relative);
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
        return valueCount / rateHz;
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
