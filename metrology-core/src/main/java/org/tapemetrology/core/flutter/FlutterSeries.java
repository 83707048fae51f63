/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/**
 * A strip chart: relative speed, weighted deviation and running quasi-peak indication over time, each point the summary
 * of an interval. All values are in % of the mean speed of the measured span. The chart begins where the weighted
 * figures begin.
 *
 * <p>Definitions are those of {@link ToneMeter} (IEC 60386). Immutable. Cost: each array is copied when it is asked
 * for. Never NaN: a stretch of tone ends before a sample that is not finite.
 *
 * <p>Not for statistics: highest and lowest values of intervals have others than the deviation itself.
 */
public final class FlutterSeries {
    private final double intervalSeconds;
    private final double[] seconds;
    private final double[] speedPercent;
    private final double[] speedLowPercent;
    private final double[] speedHighPercent;
    private final double[] weightedLowPercent;
    private final double[] weightedHighPercent;
    private final double[] quasiPeakPercent;

    FlutterSeries(
            double intervalSeconds,
            double[] seconds,
            double[] speedPercent,
            double[] speedLowPercent,
            double[] speedHighPercent,
            double[] weightedLowPercent,
            double[] weightedHighPercent,
            double[] quasiPeakPercent) {
        this.intervalSeconds = intervalSeconds;
        this.seconds = seconds;
        this.speedPercent = speedPercent;
        this.speedLowPercent = speedLowPercent;
        this.speedHighPercent = speedHighPercent;
        this.weightedLowPercent = weightedLowPercent;
        this.weightedHighPercent = weightedHighPercent;
        this.quasiPeakPercent = quasiPeakPercent;
    }

    /**
     * Number of points.
     *
     * @return that number, 0 where nothing was measured
     */
    public int size() {
        return seconds.length;
    }

    /**
     * Length of the interval that a point stands for.
     *
     * @return seconds
     */
    public double intervalSeconds() {
        return intervalSeconds;
    }

    /**
     * Middle of the intervals, from the start of the recording.
     *
     * @return a copy, in seconds
     */
    public double[] seconds() {
        return seconds.clone();
    }

    /**
     * Mean relative speed deviation of each interval.
     *
     * @return a copy, in %
     */
    public double[] speedPercent() {
        return speedPercent.clone();
    }

    /**
     * Lowest relative speed deviation in each interval, band-limited to 470 Hz.
     *
     * @return a copy, in %
     */
    public double[] speedLowPercent() {
        return speedLowPercent.clone();
    }

    /**
     * Highest relative speed deviation in each interval, band-limited to 470 Hz.
     *
     * @return a copy, in %
     */
    public double[] speedHighPercent() {
        return speedHighPercent.clone();
    }

    /**
     * Lowest weighted deviation in each interval.
     *
     * @return a copy, in %
     */
    public double[] weightedLowPercent() {
        return weightedLowPercent.clone();
    }

    /**
     * Highest weighted deviation in each interval.
     *
     * @return a copy, in %
     */
    public double[] weightedHighPercent() {
        return weightedHighPercent.clone();
    }

    /**
     * Highest indication of the running weighted quasi-peak meter in each interval.
     *
     * @return a copy, in %
     */
    public double[] quasiPeakPercent() {
        return quasiPeakPercent.clone();
    }
}
