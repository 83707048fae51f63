/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.math3.analysis.interpolation.LoessInterpolator;
import org.apache.commons.math3.analysis.interpolation.SplineInterpolator;
import org.apache.commons.math3.analysis.polynomials.PolynomialSplineFunction;
import org.apache.commons.math3.fitting.PolynomialCurveFitter;
import org.apache.commons.math3.fitting.WeightedObservedPoints;
import org.tapemetrology.core.fit.LinearFit;
import org.tapemetrology.core.fit.LinearLeastSquares;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * How the replayed level depends on the bias that a tape was recorded with, at one wavelength, and what bias to set.
 *
 * <p>Level rises with the bias to a peak and falls beyond it, the more so the shorter the wavelength; the usual setting is
 * beyond the peak of a short wavelength by a drop that the tape's maker states (common practice, no source). The curve is
 * smoothed by local regression (W. S. Cleveland, J. Amer. Statist. Assoc. 74 (1979) p. 829, from memory) and interpolated by
 * a cubic spline. The bias may be in any unit, so in steps of a recording with stepped bias. Immutable.
 *
 * <p>Levels are in dB, the third harmonic in %. Cost: of the order of n squared for n points, once; then a look into
 * 2000 values. A point that is not finite is refused.
 *
 * <p>Not for points of several tapes, wavelengths or azimuths: they lie on no one curve.
 */
public final class BiasCurve {
    private static final int LEAST_POINTS = 6;
    private static final int GRID = 2000;
    private static final int COEFFICIENTS = 4;
    private static final double TOP_DB = 15;
    private static final double LEAST_SPAN = 4;
    /** Share of the points that a local line goes through: levels jump on a poor tape. */
    private static final double OF_LEVEL = 0.35;
    /** Points to either side of the lowest third harmonic. */
    private static final int NEIGHBOURS = 3;

    private final double from;
    private final double to;
    private final double[] grid = new double[GRID + 1];
    private final int peak;
    private final OptionalDouble leastDistortionAt;

    /**
     * A point of the curve.
     *
     * <p>A point itself is not checked: {@link BiasCurve#of} refuses one that is not finite.
     *
     * @param bias the bias, in any unit that rises with it
     * @param levelDb replayed level of the short wavelength in dB
     * @param thirdHarmonicPercent third harmonic of a long wavelength in %, empty where it was not measured
     */
    public record Point(double bias, double levelDb, OptionalDouble thirdHarmonicPercent) {}

    private final List<Point> sorted;

    private BiasCurve(List<Point> points) {
        sorted = new ArrayList<>(points);
        sorted.sort(Comparator.comparingDouble(Point::bias));
        double[] bias = sorted.stream().mapToDouble(Point::bias).toArray();
        from = bias[0];
        to = bias[bias.length - 1];
        PolynomialSplineFunction level =
                smoothed(bias, sorted.stream().mapToDouble(Point::levelDb).toArray());
        int highest = 0;
        for (int i = 0; i <= GRID; i++) {
            grid[i] = level.value(at(i));
            highest = grid[i] > grid[highest] ? i : highest;
        }
        peak = highest;
        leastDistortionAt = leastDistortion(sorted);
    }

    /**
     * The curve through points.
     *
     * @param points at least six, each of another bias
     * @return the curve
     * @throws IllegalArgumentException if there are too few points, one is not finite, or two have the same bias
     */
    public static BiasCurve of(List<Point> points) {
        if (points.size() < LEAST_POINTS) {
            throw new IllegalArgumentException(points.size() + " points make no bias curve: it takes " + LEAST_POINTS);
        }
        for (Point point : points) {
            if (!Double.isFinite(point.bias())
                    || !Double.isFinite(point.levelDb())
                    || !Double.isFinite(point.thirdHarmonicPercent().orElse(0))) {
                throw new IllegalArgumentException("point " + point + " is not finite");
            }
        }
        if (points.stream().mapToDouble(Point::bias).distinct().count() < points.size()) {
            throw new IllegalArgumentException("two points have the same bias");
        }
        return new BiasCurve(points);
    }

    private static PolynomialSplineFunction smoothed(double[] x, double[] y) {
        double span = Math.min(1, Math.max(OF_LEVEL, LEAST_SPAN / x.length));
        double[] smooth = new LoessInterpolator(span, 1).smooth(x, y);
        if (!Arrays.stream(smooth).allMatch(Double::isFinite)) {
            // Among few points all of one neighbourhood may be taken for outliers.
            smooth = new LoessInterpolator(span, 0).smooth(x, y);
        }
        return new SplineInterpolator().interpolate(x, smooth);
    }

    private static OptionalDouble leastDistortion(List<Point> sorted) {
        List<Point> measured = sorted.stream()
                .filter(p -> p.thirdHarmonicPercent().isPresent())
                .toList();
        if (measured.size() < LEAST_POINTS) {
            return OptionalDouble.empty();
        }
        int least = 0;
        for (int i = 1; i < measured.size(); i++) {
            least = percent(measured.get(i)) < percent(measured.get(least)) ? i : least;
        }
        if (least == 0 || least == measured.size() - 1) {
            return OptionalDouble.empty();
        }
        // A parabola through the points about the lowest: a selective figure hardly jumps, and its least is narrow.
        WeightedObservedPoints near = new WeightedObservedPoints();
        int low = Math.max(0, least - NEIGHBOURS);
        int high = Math.min(measured.size() - 1, least + NEIGHBOURS);
        double middle = measured.get(least).bias();
        for (int i = low; i <= high; i++) {
            near.add(measured.get(i).bias() - middle, percent(measured.get(i)));
        }
        double[] parabola = PolynomialCurveFitter.create(2).fit(near.toList());
        double vertex = middle - parabola[1] / (2 * parabola[2]);
        boolean within = parabola[2] > 0
                && vertex > measured.get(low).bias()
                && vertex < measured.get(high).bias();
        return within ? OptionalDouble.of(vertex) : OptionalDouble.empty();
    }

    private static double percent(Point point) {
        return point.thirdHarmonicPercent().orElseThrow();
    }

    private double at(int index) {
        return Math.min(to, from + (to - from) * index / GRID);
    }

    /**
     * The bias of the highest level.
     *
     * @return the bias, empty where the level still rises or already falls over the whole curve
     */
    public OptionalDouble peakBias() {
        return peak == 0 || peak == GRID ? OptionalDouble.empty() : OptionalDouble.of(at(peak));
    }

    /**
     * How far the level lies below the peak.
     *
     * @param bias a bias within the curve
     * @return the drop in dB, not negative
     */
    public double dropDb(double bias) {
        if (!(bias >= from && bias <= to)) {
            throw new IllegalArgumentException("bias " + bias + " is not in " + from + " to " + to);
        }
        int index = (int) Math.round((bias - from) / (to - from) * GRID);
        return grid[peak] - grid[index];
    }

    /**
     * How well the drop at a bias is known. A cubic is fitted by least squares to the points of the highest 15 dB; the scatter of
     * the points about it gives the uncertainty of its drop by the covariance of its coefficients, and where its drop is another
     * than that of this curve, the difference is the half-width of a rectangular component, for either may be right. So the
     * scatter of the levels is in it, that of the settings, and what hangs on the form of the curve. What all points share is
     * not: a head out of azimuth, or a scale of the bias that is bent alike in all of them.
     *
     * @param bias a bias within the curve
     * @return the uncertainty in dB; empty where fewer than six points lie in the highest 15 dB, or the bias does not
     */
    public Optional<StandardUncertainty> dropUncertainty(double bias) {
        double drop = dropDb(bias);
        double highest = sorted.stream().mapToDouble(Point::levelDb).max().orElseThrow();
        List<Point> top =
                sorted.stream().filter(p -> p.levelDb() > highest - TOP_DB).toList();
        if (top.size() < LEAST_POINTS || drop > TOP_DB) {
            return Optional.empty();
        }
        LinearLeastSquares cubic = new LinearLeastSquares(COEFFICIENTS);
        top.forEach(p -> cubic.add(powers(p.bias()), p.levelDb()));
        LinearFit fit = cubic.solve();
        double[] toDrop = powers(at(peak));
        double[] there = powers(bias);
        double other = 0;
        for (int i = 0; i < COEFFICIENTS; i++) {
            toDrop[i] -= there[i];
            other += toDrop[i] * fit.coefficient(i);
        }
        double variance = 0;
        for (int i = 0; i < COEFFICIENTS; i++) {
            for (int j = 0; j < COEFFICIENTS; j++) {
                variance += toDrop[i] * toDrop[j] * fit.covariance(i, j);
            }
        }
        StandardUncertainty scatter =
                new StandardUncertainty(Math.sqrt(Math.max(0, variance)), top.size() - (double) COEFFICIENTS);
        return Optional.of(scatter.and(StandardUncertainty.of(Math.abs(other - drop) / Math.sqrt(3))));
    }

    /** 1, x, x^2 and x^3 of where a bias lies on the curve, x from -1 to 1. */
    private double[] powers(double bias) {
        double x = (2 * bias - from - to) / (to - from);
        return new double[] {1, x, x * x, x * x * x};
    }

    /**
     * The bias beyond the peak at which the level has dropped by an amount.
     *
     * @param overBiasDropDb the drop in dB, above 0
     * @return the bias, empty where the curve ends before
     */
    public OptionalDouble biasForDrop(double overBiasDropDb) {
        if (!(overBiasDropDb > 0)) {
            throw new IllegalArgumentException("overBiasDropDb " + overBiasDropDb + " is not above 0");
        }
        for (int i = peak; i <= GRID && peakBias().isPresent(); i++) {
            if (grid[peak] - grid[i] >= overBiasDropDb) {
                return OptionalDouble.of(at(i));
            }
        }
        return OptionalDouble.empty();
    }

    /**
     * The bias of the least third harmonic.
     *
     * @return the bias, empty where it was not measured or has no least within the curve
     */
    public OptionalDouble leastDistortionBias() {
        return leastDistortionAt;
    }
}
