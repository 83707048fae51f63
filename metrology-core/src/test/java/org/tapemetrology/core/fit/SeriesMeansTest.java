/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.apache.commons.math3.stat.regression.SimpleRegression;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** The formulas of the means of series, by sums that are written out. */
class SeriesMeansTest {
    private static double[] values(int count) {
        Random random = new Random(count);
        double[] values = new double[count];
        double kept = 0;
        for (int i = 0; i < count; i++) {
            kept = 0.4 * kept + random.nextGaussian();
            values[i] = 5 + 0.01 * i + kept;
        }
        return values;
    }

    /** A term of the discrete cosine transform, of variance 1 for independent values. */
    private static double term(double[] x, int k) {
        double sum = 0;
        for (int i = 0; i < x.length; i++) {
            sum += x[i] * Math.cos(Math.PI * k * (i + 0.5) / x.length);
        }
        return Math.sqrt(2.0 / x.length) * sum;
    }

    private static int terms(int n) {
        return Math.min(Math.min(24, Math.max(4, n / 48)), n / 2);
    }

    private static LongRunMean meanOf(double[] x) {
        LongRunMean mean = new LongRunMean();
        for (double value : x) {
            mean.add(value);
        }
        return mean;
    }

    @ParameterizedTest
    @ValueSource(ints = {2, 5, 7, 8, 9, 100, 480, 1000})
    void theUncertaintyIsThatOfTheLowTerms(int count) {
        double[] x = values(count);
        int terms = count < 8 ? count - 1 : terms(count);
        double sum = 0;
        for (int k = 1; k <= terms; k++) {
            sum += Math.pow(term(x, k), 2);
        }
        StandardUncertainty known = meanOf(x).uncertainty().orElseThrow();
        // The recurrence of the cosine loses some digits over 1000 values.
        assertThat(known.value()).isCloseTo(Math.sqrt(sum / terms / count), within(1e-9));
        assertThat(known.degreesOfFreedom()).isEqualTo(terms);
    }

    @ParameterizedTest
    @ValueSource(ints = {8, 9, 14, 100, 480, 1000})
    void theSlopeIsKnownByTheTermsAfterTheFirst(int count) {
        double[] x = values(count);
        SimpleRegression line = new SimpleRegression();
        for (int i = 0; i < count; i++) {
            line.addData(i, x[i]);
        }
        double[] left = new double[count];
        double squares = 0;
        for (int i = 0; i < count; i++) {
            left[i] = x[i] - line.predict(i);
            squares += Math.pow(i - (count - 1) / 2.0, 2);
        }
        int terms = Math.min(terms(count), count / 2 - 2);
        double sum = 0;
        for (int k = 2; k < 2 + terms; k++) {
            sum += Math.pow(term(left, k), 2);
        }
        StandardUncertainty known = meanOf(x).slopeUncertainty().orElseThrow();
        assertThat(known.value()).isCloseTo(Math.sqrt(sum / terms / squares), within(1e-9));
        assertThat(known.degreesOfFreedom()).isEqualTo(terms);
        assertThat(meanOf(values(7)).slopeUncertainty()).isEmpty();
    }

    /** Beyond 1024 values those of means of two: the slope is still that per value. */
    @Test
    void aLongSeriesIsThatOfItsMeans() {
        double[] x = values(1600);
        double[] halves = new double[800];
        for (int i = 0; i < halves.length; i++) {
            halves[i] = (x[2 * i] + x[2 * i + 1]) / 2;
        }
        assertThat(meanOf(x).uncertainty().orElseThrow().value())
                .isCloseTo(meanOf(halves).uncertainty().orElseThrow().value(), within(1e-12));
        assertThat(meanOf(x).slopeUncertainty().orElseThrow().value())
                .isCloseTo(meanOf(halves).slopeUncertainty().orElseThrow().value() / 2, within(1e-12));
        assertThat(meanOf(x).count()).isEqualTo(1600);
    }

    @Test
    void sumsOfSeriesAreThoseOfTheirValues() {
        double[] x = values(300);
        double[] y = values(300).clone();
        double[] both = new double[300];
        for (int i = 0; i < 300; i++) {
            y[i] = Math.sin(i);
            both[i] = x[i] - 0.7 * y[i];
        }
        assertThat(meanOf(x).uncertaintyWith(-0.7, meanOf(y)).orElseThrow().value())
                .isCloseTo(meanOf(both).uncertainty().orElseThrow().value(), within(1e-9));
        assertThatThrownBy(() -> meanOf(x).uncertaintyWith(1, meanOf(values(299))))
                .hasMessage("series of 300 and 299 values");
    }

    /** Geyer's initial sequence of pairs that fall, written out for twelve values. */
    @Test
    void correlationsAreSummedInPairsThatFall() {
        double[] x = {3, 4, 4, 5, 3, 2, 1, 1, 2, 4, 5, 3};
        double mean = 37 / 12.0;
        double[] covariance = new double[12];
        for (int lag = 0; lag < 12; lag++) {
            for (int i = lag; i < 12; i++) {
                covariance[lag] += (x[i] - mean) * (x[i - lag] - mean) / 12;
            }
        }
        double sum = -covariance[0];
        double least = Double.POSITIVE_INFINITY;
        int lag = 0;
        for (; lag + 1 < 12 && covariance[lag] + covariance[lag + 1] > 0; lag += 2) {
            least = Math.min(least, covariance[lag] + covariance[lag + 1]);
            sum += 2 * least;
        }
        double window = Math.max(1, 2 * lag - 1);
        double total = Math.max(sum / Math.max(0.1, 1 - window / 12), covariance[0] / 2);
        CorrelatedMean correlated = new CorrelatedMean();
        for (double value : x) {
            correlated.add(value);
        }
        CorrelatedMean.Scatter scatter = correlated.scatter().orElseThrow();
        assertThat(scatter.standardUncertainty()).isCloseTo(Math.sqrt(total / 12), within(1e-12));
        assertThat(scatter.degreesOfFreedom()).isCloseTo(12 / window, within(1e-12));
        double variance = covariance[0] * 12 / 11;
        assertThat(scatter.effectiveCount()).isCloseTo(variance / (total / 12), within(1e-9));
        assertThat(correlated.count()).isEqualTo(12);
        correlated.reset();
        for (int i = 0; i < 5; i++) {
            correlated.add(2);
        }
        assertThat(correlated.scatter().orElseThrow()).isEqualTo(new CorrelatedMean.Scatter(0, 4, 5));
    }

    /** Values that never change: known as well as the least that is believed over their number, which the mean goes over. */
    @Test
    void aSteadyMeanOfOneLevelGoesOverAllOfIt() {
        SteadyMean mean = new SteadyMean(0.1, 0.01);
        assertThat(mean.uncertainty()).isEmpty();
        assertThat(mean.averaged()).isZero();
        assertThat(mean.recentMean()).isZero();
        for (int i = 0; i < 3; i++) {
            mean.add(7, 70);
        }
        assertThat(mean.uncertainty()).isEmpty();
        for (int i = 3; i < 5000; i++) {
            mean.add(7, 70);
        }
        assertThat(mean.count()).isEqualTo(5000);
        assertThat(mean.mean()).isCloseTo(7, within(1e-12));
        assertThat(mean.carriedMean()).isCloseTo(70, within(1e-12));
        assertThat(mean.recentCarriedMean()).isCloseTo(70, within(1e-12));
        assertThat(mean.averaged()).isGreaterThan(4000);
        StandardUncertainty known = mean.uncertainty().orElseThrow();
        // The assumed deviation of 0.1 counts as 20 of 1000 values that are remembered, so the variance has faded to
        // below
        // what is believed at least.
        assertThat(known.value()).isCloseTo(0.01 / Math.sqrt((double) mean.averaged()), within(0.002));
        assertThat(known.degreesOfFreedom()).isGreaterThan(1000);
    }

    /** A change of 1 where values scatter by 0.02 begins a new run with the first value. */
    @Test
    void aPlainChangeBeginsANewRun() {
        Random random = new Random(3);
        SteadyMean mean = new SteadyMean(0.1, 0.001);
        for (int i = 0; i < 2000; i++) {
            mean.add(0.02 * random.nextGaussian());
        }
        for (int i = 0; i < 100; i++) {
            mean.add(1 + 0.02 * random.nextGaussian());
        }
        assertThat(mean.averaged()).isBetween(99L, 101L);
        // 0.02/sqrt(100), and what the changed differences add for a while.
        assertThat(mean.mean()).isCloseTo(1, within(0.008));
        assertThat(mean.uncertainty().orElseThrow().value()).isBetween(0.0015, 0.008);
        mean.restart();
        mean.add(5);
        assertThat(mean.averaged()).isEqualTo(1);
        assertThat(mean.mean()).isEqualTo(5);
    }

    /** Misfit that a wrong start leaves is found in few passes, and errors of parameters are those of the linear problem. */
    @Test
    void anExponentialIsFittedWithItsErrors() {
        double[] y = new double[20];
        Random random = new Random(2);
        for (int i = 0; i < y.length; i++) {
            y[i] = 3 * Math.exp(-0.2 * i) + 0.01 * random.nextGaussian();
        }
        double[] p = {1, 0.5};
        LinearFit fit = GaussNewton.fit(
                (q, i, gradient) -> {
                    gradient[0] = Math.exp(-q[1] * i);
                    gradient[1] = -q[0] * i * Math.exp(-q[1] * i);
                    return q[0] * Math.exp(-q[1] * i);
                },
                y,
                p);
        // At a minimum the gradient of the sum of squares is 0.
        double byFirst = 0;
        double bySecond = 0;
        double squares = 0;
        double[][] normal = new double[2][2];
        for (int i = 0; i < y.length; i++) {
            double e = Math.exp(-p[1] * i);
            double rest = y[i] - p[0] * e;
            double[] g = {e, -p[0] * i * e};
            byFirst += rest * g[0];
            bySecond += rest * g[1];
            squares += rest * rest;
            for (int a = 0; a < 2; a++) {
                for (int b = 0; b < 2; b++) {
                    normal[a][b] += g[a] * g[b];
                }
            }
        }
        assertThat(byFirst).isCloseTo(0, within(1e-9));
        assertThat(bySecond).isCloseTo(0, within(1e-8));
        assertThat(fit.residualSumOfSquares()).isCloseTo(squares, within(1e-12));
        double determinant = normal[0][0] * normal[1][1] - normal[0][1] * normal[1][0];
        assertThat(fit.standardError(0)).isCloseTo(Math.sqrt(squares / 18 * normal[1][1] / determinant), within(1e-9));
        assertThat(fit.standardError(1)).isCloseTo(Math.sqrt(squares / 18 * normal[0][0] / determinant), within(1e-9));
    }
}
