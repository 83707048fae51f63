/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.math3.stat.regression.OLSMultipleLinearRegression;
import org.junit.jupiter.api.Test;

/** Limits and formulas of the bias curve; how well it finds a setting is in {@link TapeCurvesTest}. */
class BiasCurveTest {
    private static double cubic(double bias) {
        double x = bias - 3;
        return -20 - 8 * x * x - 1.5 * x * x * x;
    }

    private static BiasCurve.Point point(double bias, double level) {
        return new BiasCurve.Point(bias, level, OptionalDouble.empty());
    }

    private static List<BiasCurve.Point> points(int number, double from, double to, DoubleUnaryOperator level) {
        List<BiasCurve.Point> points = new ArrayList<>();
        for (int i = 0; i < number; i++) {
            double bias = from + (to - from) * i / (number - 1);
            points.add(point(bias, level.applyAsDouble(bias)));
        }
        return points;
    }

    private static List<BiasCurve.Point> withDistortion(
            int number, double from, double to, DoubleUnaryOperator percent) {
        return points(number, from, to, BiasCurveTest::cubic).stream()
                .map(p ->
                        new BiasCurve.Point(p.bias(), p.levelDb(), OptionalDouble.of(percent.applyAsDouble(p.bias()))))
                .toList();
    }

    @Test
    void badPointsAreRefusedByName() {
        List<BiasCurve.Point> six = points(6, 2, 4, BiasCurveTest::cubic);
        assertThat(BiasCurve.of(six).peakBias()).isPresent();
        assertThatThrownBy(() -> BiasCurve.of(six.subList(0, 5))).hasMessage("5 points make no bias curve: it takes 6");
        List<BiasCurve.Point> twice = new ArrayList<>(six);
        twice.add(point(six.get(2).bias(), -21));
        assertThatThrownBy(() -> BiasCurve.of(twice)).hasMessage("two points have the same bias");
        for (BiasCurve.Point bad : List.of(
                point(Double.NaN, -20),
                point(5, Double.NEGATIVE_INFINITY),
                new BiasCurve.Point(5, -20, OptionalDouble.of(Double.NaN)))) {
            List<BiasCurve.Point> some = new ArrayList<>(six);
            some.add(bad);
            assertThatThrownBy(() -> BiasCurve.of(some))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("point " + bad + " is not finite");
        }
    }

    @Test
    void dropsAreToldWithinTheCurveAlone() {
        BiasCurve curve = BiasCurve.of(points(11, 2, 4, BiasCurveTest::cubic));
        assertThatThrownBy(() -> curve.dropDb(1.999)).hasMessage("bias 1.999 is not in 2.0 to 4.0");
        assertThatThrownBy(() -> curve.dropDb(4.001)).hasMessageContaining("4.001");
        assertThatThrownBy(() -> curve.dropDb(Double.NaN)).isInstanceOf(IllegalArgumentException.class);
        assertThat(curve.dropDb(curve.peakBias().orElseThrow())).isZero();
        // The curve ends in lines through few points, which smooth by up to half a decibel where it bends by 16 dB.
        assertThat(curve.dropDb(2)).isCloseTo(8 - 1.5, within(0.5));
        assertThat(curve.dropDb(4)).isCloseTo(8 + 1.5, within(0.5));
        double at = curve.biasForDrop(4).orElseThrow();
        // One place of the grid of 2000 on the steepest slope, 18 dB for 1.
        assertThat(curve.dropDb(at)).isCloseTo(4, within(0.02));
        assertThat(at).isGreaterThan(3);
        assertThat(curve.biasForDrop(20)).isEmpty();
        assertThat(curve.biasForDrop(curve.dropDb(4)).orElseThrow()).isCloseTo(4, within(1e-9));
        assertThatThrownBy(() -> curve.biasForDrop(0)).hasMessage("overBiasDropDb 0.0 is not above 0");
        assertThatThrownBy(() -> curve.biasForDrop(Double.NaN)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void aCurveThatOnlyRisesOrFallsHasNoPeak() {
        BiasCurve rising = BiasCurve.of(points(8, 1, 2.5, BiasCurveTest::cubic));
        assertThat(rising.peakBias()).isEmpty();
        BiasCurve falling = BiasCurve.of(points(8, 3.5, 5, b -> -20 - b * b));
        assertThat(falling.peakBias()).isEmpty();
        assertThat(falling.biasForDrop(1)).isEmpty();
    }

    /** A parabola is found exactly, in whatever unit the bias is. */
    @Test
    void theLeastThirdHarmonicIsTheVertexOfAParabola() {
        for (double at : new double[] {2.4, 3, 3.33}) {
            BiasCurve curve = BiasCurve.of(withDistortion(11, 2, 4, b -> 0.5 + 2 * (b - at) * (b - at)));
            assertThat(curve.leastDistortionBias().orElseThrow()).isCloseTo(at, within(1e-9));
        }
        // Three points to either side and no more: what is beyond does not move it.
        BiasCurve bent = BiasCurve.of(
                withDistortion(11, 2, 4, b -> Math.abs(b - 3) > 0.61 ? 30 * b : 0.5 + 2 * (b - 3) * (b - 3)));
        assertThat(bent.leastDistortionBias().orElseThrow()).isCloseTo(3, within(1e-9));
        // Beside the least no point lies as near as three: the parabola takes those there are.
        BiasCurve aside = BiasCurve.of(withDistortion(11, 2, 4, b -> 0.5 + 2 * (b - 2.21) * (b - 2.21)));
        assertThat(aside.leastDistortionBias().orElseThrow()).isCloseTo(2.21, within(1e-9));
    }

    @Test
    void withoutALeastWithinTheCurveItIsEmpty() {
        assertThat(BiasCurve.of(withDistortion(11, 2, 4, b -> 5 - b)).leastDistortionBias())
                .isEmpty();
        assertThat(BiasCurve.of(withDistortion(11, 2, 4, b -> b)).leastDistortionBias())
                .isEmpty();
        // A least among points that bend the other way is none.
        assertThat(BiasCurve.of(withDistortion(11, 2, 4, BiasCurveTest::hollow)).leastDistortionBias())
                .isEmpty();
        List<BiasCurve.Point> five = new ArrayList<>(withDistortion(6, 2, 4, b -> 0.5 + (b - 3.1) * (b - 3.1)));
        assertThat(BiasCurve.of(five).leastDistortionBias()).isPresent();
        five.set(5, point(4, -30));
        assertThat(BiasCurve.of(five).leastDistortionBias()).isEmpty();
    }

    /** The least at 3 stands alone between higher ones, and the points about it bend down. */
    private static double hollow(double bias) {
        double off = Math.abs(bias - 3);
        return off < 0.1 ? 1.9 : off < 0.5 ? 3 : off < 0.7 ? 2 : 5;
    }

    /**
     * The formula of the page against a regression of the library: variance of the cubic's drop from the covariance of its
     * coefficients, and a third of the square of the difference of the two drops. Both are exact, so 1e-6 is rounding of a matrix of
     * the third powers.
     */
    @Test
    void theUncertaintyIsThatOfACubicAndOfTheForm() {
        Random random = new Random(7);
        List<BiasCurve.Point> points = points(14, 1.2, 4.2, b -> cubic(b) + 0.2 * random.nextGaussian());
        BiasCurve curve = BiasCurve.of(points);
        double highest =
                points.stream().mapToDouble(BiasCurve.Point::levelDb).max().orElseThrow();
        List<BiasCurve.Point> top =
                points.stream().filter(p -> p.levelDb() > highest - 15).toList();
        assertThat(top).hasSizeLessThan(14);
        OLSMultipleLinearRegression regression = new OLSMultipleLinearRegression();
        regression.newSampleData(
                top.stream().mapToDouble(BiasCurve.Point::levelDb).toArray(),
                top.stream().map(p -> powers(p.bias())).toArray(double[][]::new));
        double[] coefficients = regression.estimateRegressionParameters();
        double[][] covariance = regression.estimateRegressionParametersVariance();
        for (double bias : new double[] {2.4, 3.5, 4}) {
            double[] peak = powers(curve.peakBias().orElseThrow());
            double[] there = powers(bias);
            double drop = 0;
            double variance = 0;
            for (int i = 1; i < 4; i++) {
                drop += (peak[i - 1] - there[i - 1]) * coefficients[i];
                for (int j = 1; j < 4; j++) {
                    variance += (peak[i - 1] - there[i - 1]) * (peak[j - 1] - there[j - 1]) * covariance[i][j];
                }
            }
            variance *= regression.estimateErrorVariance();
            double form = drop - curve.dropDb(bias);
            assertThat(curve.dropUncertainty(bias).orElseThrow().value())
                    .isCloseTo(Math.sqrt(variance + form * form / 3), within(1e-6));
        }
    }

    private static double[] powers(double bias) {
        double x = bias - 3;
        return new double[] {x, x * x, x * x * x};
    }

    @Test
    void whereTooLittleIsKnownThereIsNoUncertainty() {
        // Six of seven points in the highest 15 dB are enough, five are not.
        DoubleUnaryOperator steep = b -> -20 - (b < 2.5 ? 40 : 4 * (b - 4) * (b - 4));
        assertThat(BiasCurve.of(points(7, 2, 5, steep)).dropUncertainty(4.5)).isPresent();
        DoubleUnaryOperator steeper = b -> -20 - (b < 3 ? 40 : 4 * (b - 4) * (b - 4));
        assertThat(BiasCurve.of(points(7, 2, 5, steeper)).dropUncertainty(4.5)).isEmpty();
        BiasCurve curve = BiasCurve.of(points(21, 1, 5, b -> -20 - 8 * (b - 3) * (b - 3)));
        assertThat(curve.dropUncertainty(4.2)).isPresent();
        assertThat(curve.dropDb(4.6)).isGreaterThan(15);
        assertThat(curve.dropUncertainty(4.6)).isEmpty();
        assertThatThrownBy(() -> curve.dropUncertainty(6)).isInstanceOf(IllegalArgumentException.class);
    }
}
