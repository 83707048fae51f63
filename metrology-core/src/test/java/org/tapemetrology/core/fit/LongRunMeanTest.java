/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** Against processes whose long-run mean is known in closed form. */
class LongRunMeanTest {
    private static boolean holds(LongRunMean mean, double truth) {
        StandardUncertainty known = mean.uncertainty().orElseThrow();
        return Math.abs(mean.mean() - truth) <= known.expanded().halfWidth();
    }

    /**
     * Values that forget a share of their past, with and without a regular sway of ten times their deviation: 800 series
     * each, of which the binomial standard deviation of 95 % is 0.8 %; bounds are three of them.
     */
    @ParameterizedTest
    @CsvSource({"0, 0, 300", "0.5, 0, 300", "0.8, 0, 1500", "0, 10, 300", "0.5, 10, 3000", "0.5, 0, 100"})
    void intervalsHoldTheMeanAsOftenAsTheyClaim(double keep, double sway, int values) {
        int inside = 0;
        for (int trial = 0; trial < 800; trial++) {
            Random random = new Random(trial);
            LongRunMean mean = new LongRunMean();
            double state = random.nextGaussian();
            double phase = 2 * Math.PI * random.nextDouble();
            for (int i = 0; i < values; i++) {
                state = keep * state + Math.sqrt(1 - keep * keep) * random.nextGaussian();
                mean.add(3 + state + sway * Math.sin(2 * Math.PI * i / 7.3 + phase));
            }
            inside += holds(mean, 3) ? 1 : 0;
        }
        // A sway leaves part of a period in the mean, of up to 10 x 7.3/(2 pi n), and as much in the terms.
        assertThat(inside / 800.0).isBetween(sway == 0 ? 0.925 : 0.90, sway == 0 ? 0.975 : 0.99);
    }

    /** Independent values of deviation 1: the uncertainty of the mean is 1/sqrt(n); each scatters by sqrt(1/(2 x 24)). */
    @Test
    void independentValuesHaveTheUncertaintyOfTheirCount() {
        double sum = 0;
        for (int trial = 0; trial < 200; trial++) {
            Random random = new Random(500 + trial);
            LongRunMean mean = new LongRunMean();
            for (int i = 0; i < 10_000; i++) {
                mean.add(random.nextGaussian());
            }
            double u = mean.uncertainty().orElseThrow().value();
            sum += u * u * 10_000;
        }
        // The mean of 200 variances of some 14 degrees of freedom scatters by sqrt(2/(200 x 14)) = 2.7 %: four of them.
        assertThat(sum / 200).isCloseTo(1, within(0.11));
    }

    /** Least-squares slope of independent values: deviation sqrt(12/n^3), in closed form. */
    @Test
    void slopeHasTheUncertaintyOfLeastSquares() {
        double sum = 0;
        int n = 600;
        for (int trial = 0; trial < 400; trial++) {
            Random random = new Random(900 + trial);
            LongRunMean mean = new LongRunMean();
            for (int i = 0; i < n; i++) {
                mean.add(0.01 * i + random.nextGaussian());
            }
            double u = mean.slopeUncertainty().orElseThrow().value();
            sum += u * u * n * (double) n * n / 12;
        }
        // 400 variances of 12 degrees of freedom: sqrt(2/4800) = 2 %, four of them; the third term lends 1 % to the
        // slope.
        assertThat(sum / 400).isCloseTo(1, within(0.09));
    }

    /** The sum of two series is known as the series of sums is: the same terms, so to rounding. */
    @Test
    void seriesAddUpLikeTheirValues() {
        Random random = new Random(7);
        LongRunMean one = new LongRunMean();
        LongRunMean other = new LongRunMean();
        LongRunMean both = new LongRunMean();
        for (int i = 0; i < 5000; i++) {
            double a = random.nextGaussian();
            double b = a + random.nextGaussian();
            one.add(a);
            other.add(b);
            both.add(a - 0.7 * b);
        }
        double together = one.uncertaintyWith(-0.7, other).orElseThrow().value();
        assertThat(together).isCloseTo(both.uncertainty().orElseThrow().value(), within(1e-12));
        other.add(1);
        LongRunMean shorter = new LongRunMean();
        shorter.add(1);
        assertThatThrownBy(() -> one.uncertaintyWith(1, shorter)).isInstanceOf(IllegalArgumentException.class);
    }

    /** Two values 1 and 3: mean 2, standard deviation of the mean 1 with one degree of freedom. */
    @Test
    void fewValuesAreTakenForIndependent() {
        LongRunMean mean = new LongRunMean();
        mean.add(1);
        assertThat(mean.uncertainty()).isEmpty();
        mean.add(3);
        StandardUncertainty known = mean.uncertainty().orElseThrow();
        assertThat(known.value()).isCloseTo(1, within(1e-12));
        assertThat(known.degreesOfFreedom()).isEqualTo(1);
        mean.reset();
        assertThat(mean.uncertainty()).isEmpty();
        assertThat(mean.count()).isZero();
    }
}
