/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** Statistics against sums, sorted values and highest values that were taken plainly or in the head. */
class BlockStatisticTest {
    /** A tenth of a second is two values, a piece of 1.5 s thirty. */
    private static final double RATE_HZ = 20;

    /** Rounding of a few additions of numbers of some units. */
    private static final double ROUNDING = 1e-14;

    @Test
    void everyFigureOfEverySample() {
        double[] x = {9, 0.5, -2, -1, 1.5, 1.5};
        Statistics statistics = new Statistics();
        assertThat(statistics.maximum()).isEqualTo(Double.NEGATIVE_INFINITY);
        assertThat(statistics.mean()).isNaN();
        for (int pass = 0; pass < 2; pass++) { // the second one after a reset
            statistics.process(x, 1, 2);
            statistics.process(x, 3, 3);
            assertThat(statistics.count()).isEqualTo(5);
            assertThat(statistics.mean()).isCloseTo(0.1, within(ROUNDING));
            assertThat(statistics.meanMagnitude()).isCloseTo(1.3, within(ROUNDING));
            assertThat(statistics.rms()).isCloseTo(Math.sqrt(9.75 / 5), within(ROUNDING));
            assertThat(statistics.maximum()).isEqualTo(1.5);
            assertThat(statistics.maximumAt()).isEqualTo(3); // the first of two equal ones
            statistics.reset();
        }
        assertThat(statistics.count()).isZero();
        assertThat(statistics.maximumAt()).isZero();
    }

    /** Two means of 0.1 s are the least that a scatter can be told from: half their difference, one degree of freedom. */
    @Test
    void meanMagnitudeAndItsScatter() {
        AverageMagnitude average = new AverageMagnitude(RATE_HZ);
        assertThat(average.value()).isEmpty();
        average.addMoved(new double[] {7, 1, -2, 3}, 1, 3);
        assertThat(average.value()).hasValue(2);
        assertThat(average.uncertainty()).isEmpty();
        average.addMoved(new double[] {-4}, 0, 1);
        average.addMoved(new double[] {6}, 0, 1); // three and then two values are the two means: 2 and 5
        assertThat(average.count()).isEqualTo(5);
        assertThat(average.sum()).isCloseTo(16, within(ROUNDING));
        assertThat(average.value()).hasValue(16 / 5.0);
        assertThat(average.ofSome(12, 8)).isEqualTo(1.5);
        assertScatter(average.uncertainty().orElseThrow(), 1.5, 1);
    }

    /** The RMS value is the root of the power: half as uncertain in proportion. */
    @Test
    void powerAndItsScatter() {
        MeanPower power = new MeanPower(RATE_HZ);
        assertThat(power.rms()).isEmpty();
        power.add(new double[] {0, 0, 0, 0}, 0, 4);
        power.add(new double[] {0, 0, 0, 0}, 0, 4);
        assertThat(power.rmsUncertainty()).isEmpty();
        power.add(new double[] {9, 8, 0}, 1, 2);
        assertThat(power.count()).isEqualTo(10);
        assertThat(power.sum()).isCloseTo(64, within(ROUNDING));
        assertThat(power.rms().orElseThrow()).isCloseTo(Math.sqrt(6.4), within(ROUNDING));
        // Powers of the three blocks: 0, 0, 32; standard deviation 32/sqrt(3), that of the mean 32/3.
        assertScatter(power.rmsUncertainty().orElseThrow(), 32.0 / 3 / (2 * Math.sqrt(6.4)), 2);
        assertThat(power.ofSome(50, 2)).isEqualTo(5);
        assertThat(power.ofSome(-1e-20, 2)).isZero(); // what rounding leaves of a difference of sums
    }

    private static void assertScatter(StandardUncertainty seen, double value, double degreesOfFreedom) {
        assertThat(seen.value()).isCloseTo(value, within(1e-12));
        assertThat(seen.degreesOfFreedom()).isCloseTo(degreesOfFreedom, within(1e-12));
    }

    @Test
    void highestPerPartOfAFewValues() {
        HighestPerPart parts = new HighestPerPart(4, RATE_HZ);
        assertThat(parts.highest()).isEmpty();
        assertThat(parts.mean()).isEmpty();
        assertThat(parts.meanOfHighest()).isEmpty();
        parts.add(new double[] {99, 1, 5}, 1, 2, 100);
        // A single part counts, however short it is.
        assertThat(parts.meanOfHighest()).hasValue(5);
        parts.add(new double[] {5, 2, 3}, 0, 3, 102);
        // One value of the second part is less than half of it.
        assertThat(parts.meanOfHighest()).hasValue(5);
        assertThat(parts.highestIndex()).isEqualTo(101);
        parts.add(1, 105);
        // Half of it counts.
        assertThat(parts.meanOfHighest()).hasValue(4);
        parts.add(new double[] {8, 8, 0, 0, 2, 0}, 0, 6, 106);
        assertThat(parts.meanOfHighest()).hasValue((5 + 8 + 2) / 3.0);
        assertThat(parts.highest()).hasValue(8);
        assertThat(parts.highestIndex()).isEqualTo(106);
        parts.add(8, 112);
        assertThat(parts.highestIndex()).isEqualTo(106); // the first of three equal ones
        assertThat(parts.mean().orElseThrow()).isCloseTo(43.0 / 13, within(ROUNDING));
        assertThatThrownBy(() -> new HighestPerPart(0, RATE_HZ))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("partLength 0");
        assertThatCode(() -> new HighestPerPart(1, RATE_HZ)).doesNotThrowAnyException();
    }

    /**
     * The highest values of two pieces of 1.5 s are 3 and 5; their squares scatter by 16/sqrt(2), which over twice the mean
     * is what the highest value scatters by (E. J. Gumbel, "Statistics of Extremes", 1958, from memory).
     */
    @Test
    void highestValuesOfPiecesTellTheScatter() {
        HighestPerPart parts = new HighestPerPart(45, RATE_HZ);
        double[] values = new double[60];
        Arrays.fill(values, 0, 30, 0.25);
        values[7] = 3;
        values[50] = 5;
        parts.add(values, 0, 59, 0);
        assertThat(parts.highestUncertainty()).isEmpty();
        assertThat(parts.meanUncertainty()).isEmpty();
        parts.add(values, 59, 1, 59);
        double deviation = 16 / Math.sqrt(2);
        assertScatter(parts.highestUncertainty().orElseThrow(), deviation / (2 * 5), 1);
        // The second part is a third of one, and does not count; four thirds of a part are known.
        assertThat(parts.meanOfHighest()).hasValue(3);
        double root = Math.sqrt(4.0 / 3);
        assertScatter(parts.meanOfHighestUncertainty().orElseThrow(), deviation / (2 * 3) / root, 1);
        // Means of the pieces: (29 * 0.25 + 3)/30 and 5/30; half their difference.
        assertScatter(parts.meanUncertainty().orElseThrow(), (10.25 - 5) / 60, 1);
    }

    @Test
    void scatterOfHighestValuesNeedsTwoAndKnowsLessOfItselfThanANormalOne() {
        HighestScatter scatter = new HighestScatter();
        scatter.add(1);
        assertThat(scatter.of(4, 1, 1)).isEmpty();
        for (int i = 2; i <= 8; i++) {
            scatter.add(i);
        }
        assertThat(scatter.of(0, 1, 1)).isEmpty();
        // Eight values have seven degrees of freedom, by 1.4 fewer for their skewed distribution.
        assertThat(scatter.of(4, 1, 1).orElseThrow().degreesOfFreedom()).isCloseTo(5, within(1e-12));
    }

    private static double[] noise(int length) {
        Random random = new Random(length);
        double[] values = new double[length];
        for (int i = 0; i < length; i++) {
            values[i] = random.nextGaussian() * (1 + i / 1000);
        }
        return values;
    }

    /** Exceeded for a twentieth of the time, of values that were sorted. */
    private static double exceeded(double[] values, int from, int to) {
        double[] sorted =
                Arrays.stream(values, from, to).map(Math::abs).sorted().toArray();
        return sorted[(int) (0.95 * sorted.length)];
    }

    /** Each thousand values is louder than the one before it, so that neighbours cannot stand for each other. */
    @Test
    void percentilesOfWholePeriodsAndOfTheLastOne() {
        double[] values = noise(2980);
        TwoSigma twoSigma = new TwoSigma(0.05, 1000, 28); // a period is no whole number of the blocks of the scatter
        assertThat(twoSigma.value()).isEmpty();
        assertThat(twoSigma.highestOfPeriods()).isEmpty();
        twoSigma.addMoved(values, 0, 979);
        assertThat(twoSigma.highestOfPeriods()).isEmpty();
        assertThat(twoSigma.latest()).isZero();
        twoSigma.addMoved(values, 979, 1);
        assertClose(twoSigma.highestOfPeriods().orElseThrow(), exceeded(values, 0, 980)); // a fiftieth is missing
        assertThat(twoSigma.latest()).isZero();
        twoSigma.addMoved(values, 980, 1020);
        assertClose(twoSigma.highestOfPeriods().orElseThrow(), exceeded(values, 1000, 2000));
        assertClose(twoSigma.latest(), exceeded(values, 1000, 2000));
        twoSigma.addMoved(values, 2000, 500);
        assertClose(twoSigma.latest(), exceeded(values, 1500, 2500));
        twoSigma.addMoved(values, 2500, 479);
        assertClose(twoSigma.highestOfPeriods().orElseThrow(), exceeded(values, 1000, 2000));
        twoSigma.addMoved(values, 2979, 1);
        assertClose(twoSigma.highestOfPeriods().orElseThrow(), exceeded(values, 2000, 2980));
        assertClose(twoSigma.value().orElseThrow(), exceeded(values, 0, 2980));
        // The highest is that of one period, of which the whole has nearly three.
        double whole = twoSigma.uncertainty().orElseThrow().value();
        assertThat(twoSigma.highestUncertainty().orElseThrow().value())
                .isCloseTo(whole * Math.sqrt(2.98), within(1e-12 * whole));
    }

    private static void assertClose(double seen, double expected) {
        // A bin is at most 0.1 % wide, and one value more or less of a thousand.
        assertThat(seen).isCloseTo(expected, within(0.012 * expected));
    }

    /** Of 980 values 49 are a twentieth: with one more of them the percentile is theirs. */
    @ParameterizedTest
    @ValueSource(ints = {49, 50})
    void everyValueOfAnUnfinishedPeriodCounts(int loud) {
        double[] values = new double[980];
        Arrays.fill(values, 1);
        Arrays.fill(values, 980 - loud, 980, 3);
        TwoSigma twoSigma = new TwoSigma(0.05, 1000, RATE_HZ);
        twoSigma.addMoved(values, 0, values.length);
        double least = loud > 49 ? 3 : 1;
        assertThat(twoSigma.highestOfPeriods().orElseThrow()).isBetween(least, 1.001 * least); // a bin
    }

    @Test
    void lessThanAPeriodIsNoBetterKnownThanItself() {
        TwoSigma twoSigma = new TwoSigma(0.05, 4000, RATE_HZ);
        twoSigma.add(noise(600), 0, 600);
        assertThat(twoSigma.highestUncertainty()).isEqualTo(twoSigma.uncertainty());
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 1, Double.NaN})
    void shareIsBetweenNoneAndAll(double bad) {
        assertThatThrownBy(() -> new TwoSigma(bad, 10, RATE_HZ))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("exceeded " + bad);
        assertThatThrownBy(() -> new TwoSigma(0.5, 0, RATE_HZ))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("periodLength 0");
        assertThatCode(() -> new TwoSigma(0.5, 1, RATE_HZ)).doesNotThrowAnyException();
    }

    /**
     * What is claimed of a percentile is what it scatters by, also in a recording so short that the threshold of its counting
     * still moves.
     */
    @ParameterizedTest
    @ValueSource(doubles = {0.05, 0.01})
    void percentileOfAShortRecordingScattersAsClaimed(double exceeded) {
        int trials = 600;
        double squares = 0;
        double sum = 0;
        double claimed = 0;
        for (int trial = 0; trial < trials; trial++) {
            Random random = new Random(trial);
            double[] values = random.doubles(1600).map(u -> 1 + u).toArray();
            TwoSigma twoSigma = new TwoSigma(exceeded, 10_000, 400);
            twoSigma.addMoved(values, 0, values.length);
            double value = twoSigma.value().orElseThrow();
            sum += value;
            squares += value * value;
            claimed += Math.pow(twoSigma.uncertainty().orElseThrow().value(), 2) / trials;
        }
        double mean = sum / trials;
        // Uniform from 1 to 2: the density is 1, so the variance is p (1 - p) / n.
        double truth = Math.sqrt(exceeded * (1 - exceeded) / 1600);
        assertThat(mean).isCloseTo(2 - exceeded, within(1e-3)); // a bin
        assertThat(Math.sqrt(squares / trials - mean * mean) / truth).isCloseTo(1, within(0.1)); // 3 % thrice
        // With 16 values beyond the percentile the claim is some 22 % on the safe side.
        assertThat(Math.sqrt(claimed) / truth).isBetween(0.85, 1.3);
    }
}
