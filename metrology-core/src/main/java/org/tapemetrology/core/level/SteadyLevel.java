/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.TDistribution;
import org.tapemetrology.core.detector.MagnitudeHistogram;
import org.tapemetrology.core.fit.CorrelatedMean;
import org.tapemetrology.core.fit.RunningMoments;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/**
 * How steady a jumping level is, and how long it must be measured: from the levels of consecutive windows of 100 ms, in
 * dBFS (full-scale sine 0 dBFS).
 *
 * <p>The level is the power mean of the windows. Its standard uncertainty is that of the mean of their powers with the
 * dependence of neighbouring windows taken into account ({@link CorrelatedMean}), {@code (10/ln 10) u(p)/p} in dB; the
 * expanded one is Student's t for the effective degrees of freedom times that (JCGM 100:2008, G.3 and G.6). It is the
 * statistical part alone. Percentiles come from a histogram whose bins are below 0.005 dB wide.
 *
 * <p>Uncertainty and time needed are given from 10 s on. Of a level that forgets its past within 0.5 s (by e), an
 * interval of 95 % then holds the true level in about 94 of 100 recordings, at 20 s and more in 95. One that wanders more
 * slowly than a tenth of the recording is not seen to do so. Never NaN. Memory does not grow. Thread-confined.
 *
 * <p>A level that is not finite, or a power of 0, is an {@code IllegalArgumentException}. Settling and cost: the
 * level is there from the first window on, the rest from 10 s on.
 *
 * <p>Not for a level that somebody is changing: {@link org.tapemetrology.core.fit.SteadyMean} follows.
 */
public final class SteadyLevel {
    /** Length of a window in s. */
    public static final double WINDOW_SECONDS = 0.1;

    /** Half-width of {@link Quantity#LEVEL_TIME_NEEDED} in dB. */
    public static final double NEEDED_DB = 0.1;

    /** Confidence of {@link Quantity#LEVEL_TIME_NEEDED}. */
    public static final double CONFIDENCE = 0.95;

    private static final int LEAST_WINDOWS = 100;
    private static final double TAIL = 0.025;
    private static final double DECIBELS = 10 / StrictMath.log(10);
    private static final double RANGE_SHARE = 0.965;
    /** Standard deviation of a median over that of a mean, of normally distributed values: the root of half pi. */
    private static final double MEDIAN_TO_MEAN = 1.2533141373155003;

    private static final String MEDIAN_METHOD = "median of 100 ms windows";
    private static final String TIME_METHOD = "scatter and autocorrelation of 100 ms windows";

    private final CorrelatedMean power = new CorrelatedMean();
    private final RunningMoments decibels = new RunningMoments();
    private final MagnitudeHistogram histogram = new MagnitudeHistogram();

    /** A level of no window yet. */
    public SteadyLevel() {}

    /**
     * Takes the level of the next window.
     *
     * @param dbfs its level in dBFS, finite
     */
    public void accept(double dbfs) {
        acceptPower(Math.pow(10, Decibels.requireFinite("dbfs", dbfs) / 10)); // StrictMath.pow allocates
    }

    /**
     * Takes the power of the next window.
     *
     * @param ofFullScaleSine its power re that of a full-scale sine, above 0
     */
    public void acceptPower(double ofFullScaleSine) {
        power.add(Require.positive("ofFullScaleSine", ofFullScaleSine));
        decibels.add(10 * StrictMath.log10(ofFullScaleSine));
        histogram.add(ofFullScaleSine);
    }

    /** Forgets every window. */
    public void reset() {
        power.reset();
        decibels.reset();
        histogram.reset();
    }

    /**
     * Time that was measured.
     *
     * @return whole windows in s
     */
    public double seconds() {
        return power.count() * WINDOW_SECONDS;
    }

    /**
     * The level: the power mean of the windows.
     *
     * @return the level in dBFS, empty without a window
     */
    public OptionalDouble levelDbfs() {
        return some(10 * StrictMath.log10(power.mean()));
    }

    /**
     * The mean of the levels of the windows in dB, below the power mean by 0.115 times the square of their standard
     * deviation where they are normally distributed.
     *
     * @return the mean in dBFS, empty without a window
     */
    public OptionalDouble meanOfLevelsDbfs() {
        return some(decibels.mean());
    }

    private OptionalDouble some(double value) {
        return power.count() == 0 ? OptionalDouble.empty() : OptionalDouble.of(value);
    }

    /**
     * The median, which a dropout does not move.
     *
     * @return the median in dBFS, empty without a window
     */
    public OptionalDouble medianDbfs() {
        return quantileDbfs(0.5);
    }

    /**
     * The level that a share of the windows does not exceed.
     *
     * @param share share of the windows, above 0 and below 1
     * @return the level in dBFS, empty without a window
     */
    public OptionalDouble quantileDbfs(double share) {
        OptionalDouble quantile = histogram.quantile(share);
        return quantile.isEmpty() ? quantile : OptionalDouble.of(10 * StrictMath.log10(quantile.getAsDouble()));
    }

    /**
     * The 95 % range: from the 2.5th to the 97.5th percentile.
     *
     * @return the range in dB, empty without a window
     */
    public OptionalDouble rangeDb() {
        OptionalDouble low = histogram.quantile(TAIL);
        OptionalDouble high = histogram.quantile(1 - TAIL);
        return low.isEmpty() ? low : OptionalDouble.of(10 * StrictMath.log10(high.getAsDouble() / low.getAsDouble()));
    }

    private Optional<CorrelatedMean.Scatter> scatter() {
        return power.count() < LEAST_WINDOWS ? Optional.empty() : power.scatter();
    }

    private double decibels(CorrelatedMean.Scatter scatter) {
        return DECIBELS * scatter.standardUncertainty() / power.mean();
    }

    /**
     * Standard uncertainty of the level.
     *
     * @return the uncertainty in dB, empty below 10 s
     */
    public OptionalDouble standardUncertaintyDb() {
        Optional<CorrelatedMean.Scatter> scatter = scatter();
        return scatter.isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(decibels(scatter.get()));
    }

    /**
     * How many independent windows would give a level as well known.
     *
     * @return their number, empty below 10 s
     */
    public OptionalDouble effectiveWindows() {
        Optional<CorrelatedMean.Scatter> scatter = scatter();
        return scatter.isEmpty()
                ? OptionalDouble.empty()
                : OptionalDouble.of(scatter.get().effectiveCount());
    }

    /**
     * Expanded uncertainty of the level.
     *
     * @param confidence coverage probability, 0.5 to 0.999
     * @return the uncertainty, empty below 10 s
     */
    public Optional<ExpandedUncertainty> uncertainty(double confidence) {
        requireConfidence(confidence);
        return scatter()
                .map(scatter -> new ExpandedUncertainty(
                        student(confidence, scatter.degreesOfFreedom()) * decibels(scatter), confidence));
    }

    /**
     * How well the level is known. Below 10 s an interval of 95 % holds a level that forgets its past within 0.5 s in 93 of
     * 100 recordings alone.
     *
     * @return its standard uncertainty in dB, empty for fewer than four windows
     */
    public Optional<StandardUncertainty> uncertainty() {
        return power.scatter().map(scatter -> new StandardUncertainty(decibels(scatter), scatter.degreesOfFreedom()));
    }

    /**
     * How well {@link #rangeDb()} is known: from the asymptotic deviation of the two percentiles of a normal distribution,
     * {@code sqrt(2 p (1 - p))} over the density and the root of the effective number of windows, which is 0.965 of the range.
     *
     * @return its standard uncertainty in dB, empty for fewer than four windows
     */
    public Optional<StandardUncertainty> rangeUncertainty() {
        return power.scatter()
                .map(scatter -> new StandardUncertainty(
                        RANGE_SHARE * rangeDb().orElseThrow() / Math.sqrt(Math.max(1, scatter.effectiveCount())),
                        scatter.degreesOfFreedom()));
    }

    /**
     * How long this level must be measured, from the start, until it is known within a half-width.
     *
     * @param halfWidthDb half-width in dB, above 0
     * @param confidence coverage probability, 0.5 to 0.999
     * @return time in s, empty below 10 s
     */
    public OptionalDouble secondsFor(double halfWidthDb, double confidence) {
        Require.positive("halfWidthDb", halfWidthDb);
        requireConfidence(confidence);
        Optional<CorrelatedMean.Scatter> scatter = scatter();
        if (scatter.isEmpty()) {
            return OptionalDouble.empty();
        }
        if (scatter.get().standardUncertainty() == 0) {
            return OptionalDouble.of(0);
        }
        double wanted = halfWidthDb / decibels(scatter.get());
        double freedom = scatter.get().degreesOfFreedom();
        // Times as long, u falls by the root and the degrees of freedom grow: t^2(freedom times) = wanted^2 times.
        double low = 0;
        double high = square(student(confidence, 1) / wanted);
        // t is above a value where less than its share lies below that: the distribution is at hand, its inverse is a
        // search.
        double share = (1 + confidence) / 2;
        for (int i = 0; i < 60; i++) {
            double times = (low + high) / 2;
            TDistribution distribution = new TDistribution(null, Math.max(1, freedom * times));
            if (distribution.cumulativeProbability(wanted * Math.sqrt(times)) < share) {
                low = times;
            } else {
                high = times;
            }
        }
        return OptionalDouble.of(high * seconds());
    }

    private static double square(double x) {
        return x * x;
    }

    private static double requireConfidence(double confidence) {
        return Require.inRange("confidence", confidence, 0.5, 0.999);
    }

    private static double student(double confidence, double degreesOfFreedom) {
        return new TDistribution(null, degreesOfFreedom).inverseCumulativeProbability((1 + confidence) / 2);
    }

    /**
     * Median and time needed.
     *
     * @return readings of {@link Quantity#LEVEL_MEDIAN} and {@link Quantity#LEVEL_TIME_NEEDED}, belonging to no channel
     */
    public List<Reading> readings() {
        OptionalDouble needed = secondsFor(NEEDED_DB, CONFIDENCE);
        return List.of(
                reading(
                        Quantity.LEVEL_MEDIAN,
                        medianDbfs(),
                        uncertainty().map(mean -> mean.times(MEDIAN_TO_MEAN)),
                        MEDIAN_METHOD),
                reading(Quantity.LEVEL_TIME_NEEDED, needed, timeUncertainty(needed), TIME_METHOD));
    }

    /**
     * The same without values.
     *
     * @param status why there is none
     * @return the readings
     */
    public static List<Reading> without(Status status) {
        return List.of(
                Reading.without(Quantity.LEVEL_MEDIAN, status, MEDIAN_METHOD),
                Reading.without(Quantity.LEVEL_TIME_NEEDED, status, TIME_METHOD));
    }

    /** The time needed goes with the variance, of which one of f degrees of freedom is known to a share of sqrt(2/f). */
    private Optional<StandardUncertainty> timeUncertainty(OptionalDouble needed) {
        return scatter()
                .map(scatter -> StandardUncertainty.of(needed.orElse(0) * Math.sqrt(2 / scatter.degreesOfFreedom())));
    }

    private static Reading reading(
            Quantity quantity, OptionalDouble value, Optional<StandardUncertainty> scatter, String method) {
        if (value.isEmpty()) {
            return Reading.without(quantity, Status.INSUFFICIENT_DATA, method);
        }
        Reading reading = Reading.valid(quantity, value.getAsDouble(), method);
        return scatter.map(reading::withTypeA).orElse(reading);
    }
}
