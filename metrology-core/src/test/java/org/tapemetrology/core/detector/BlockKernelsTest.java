/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.internal.Sums;
import org.tapemetrology.core.standard.Iec60386Edition1972;

/** What works on blocks, against the same written plainly, value by value. */
class BlockKernelsTest {
    private static final double RATE_HZ = 4000;

    private static double[] noise(int length) {
        Random random = new Random(length);
        double[] values = new double[length];
        for (int i = 0; i < length; i++) {
            values[i] = random.nextGaussian() * (1 + i % 700 / 100.0);
        }
        return values;
    }

    @Test
    void quasiPeakOfBlocksIsThatOfSamples() {
        double[] values = noise(5000);
        QuasiPeakDetector one = new QuasiPeakDetector(Iec60386Edition1972.QUASI_PEAK, RATE_HZ);
        QuasiPeakDetector blocks = one.another();
        double[] out = new double[values.length];
        for (int at = 0; at < values.length; at += 130) {
            blocks.process(values, at, out, at, Math.min(130, values.length - at));
        }
        for (int i = 0; i < values.length; i++) {
            assertThat(out[i]).isEqualTo(one.next(values[i]));
        }
        assertThat(blocks.indication()).isEqualTo(one.indication());
    }

    /** Whole numbers and stages that follow at once: a sample that equals its hold lets it fall, in both. */
    @Test
    void quasiPeakOfBlocksIsThatOfSamplesOnPlateausToo() {
        double[] values = Arrays.stream(noise(3000)).map(Math::rint).toArray();
        QuasiPeakDetector one = new QuasiPeakDetector(new QuasiPeakConstants(1e-6, 0.01, 1e-6, 0.02, 0.003), RATE_HZ);
        QuasiPeakDetector blocks = one.another();
        double[] out = new double[values.length];
        blocks.process(values, 0, out, 0, values.length);
        for (int i = 0; i < values.length; i++) {
            assertThat(out[i]).isEqualTo(one.next(values[i]));
        }
    }

    @Test
    void movingMomentIsTheCubicOfLagrangeAtTheGoldenSection() {
        double[] x = noise(400);
        double[] out = new double[x.length];
        MovingMoment moment = new MovingMoment();
        moment.process(x, 0, out, 0, 101);
        moment.process(x, 101, out, 101, x.length - 101);
        double golden = (Math.sqrt(5) - 1) / 2;
        for (int i = 3; i < x.length; i++) {
            double u = (i + 1) * golden % 1;
            double cubic = -u * (u - 1) * (u - 2) / 6 * x[i - 3]
                    + (u + 1) * (u - 1) * (u - 2) / 2 * x[i - 2]
                    - (u + 1) * u * (u - 2) / 2 * x[i - 1]
                    + (u + 1) * u * (u - 1) / 6 * x[i];
            // Rounding of the golden section, 1e-16 a step, times slopes of up to 30.
            assertThat(out[i]).isCloseTo(cubic, within(1e-11));
        }
    }

    @Test
    void quantileIsThatOfTheSortedValuesWithinABin() {
        double[] values = noise(20_001);
        MagnitudeHistogram one = new MagnitudeHistogram();
        for (double value : new double[] {1e-9, 3, 3e5}) {
            for (int i = 0; i < values.length; i++) {
                one.add(value);
            }
        }
        one.reset(); // nothing of it may be left
        for (double value : values) {
            one.add(value);
        }
        double[] sorted = Arrays.stream(values).map(Math::abs).sorted().toArray();
        for (double share : new double[] {0.01, 0.3, 0.5, 0.9, 0.95, 0.999}) {
            double expected = sorted[(int) (share * sorted.length)];
            // A bin is at most 0.1 % wide; one value more or less.
            assertThat(one.quantile(share).orElseThrow()).isCloseTo(expected, within(0.002 * expected));
        }
        assertThat(one.total()).isEqualTo(values.length);
    }

    /** A share that is reached exactly ends with its bin, though the next value is far away. */
    @Test
    void shareThatIsReachedExactlyIsNotThatOfTheNextValue() {
        MagnitudeHistogram two = new MagnitudeHistogram();
        for (double value : new double[] {-1, 1, 1.5, 4}) {
            two.add(value);
        }
        assertThat(two.quantile(0.25).orElseThrow()).isBetween(1.0, 1.001); // half of the bin of 1
        assertThat(two.quantile(0.5).orElseThrow()).isBetween(1.0, 1.001);
        assertThat(two.quantile(0.75).orElseThrow()).isBetween(1.5, 1.502);
        assertThat(two.quantile(0.25).orElseThrow())
                .isCloseTo((1 + two.quantile(0.5).orElseThrow()) / 2, within(1e-12)); // by interpolation
    }

    /** Beyond 2^-40 and 2^24 magnitudes fall into the outermost bins, 0.1 % wide. */
    @Test
    void outermostBinsTakeWhatIsBeyond() {
        MagnitudeHistogram small = new MagnitudeHistogram();
        small.add(0);
        assertThat(small.quantile(0.5).orElseThrow()).isBetween(0x1p-40, 1.001 * 0x1p-40);
        MagnitudeHistogram large = new MagnitudeHistogram();
        large.add(Double.NEGATIVE_INFINITY);
        assertThat(large.quantile(0.5).orElseThrow()).isBetween(0.999 * 0x1p24, 0x1p24);
        large.reset();
        assertThat(large.quantile(0.5)).isEmpty();
        large.add(0.999_999 * 0x1p24);
        assertThat(large.quantile(0.5).orElseThrow()).isBetween(0.999 * 0x1p24, 0x1p24);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 1, -0.1, Double.NaN})
    void shareIsBetweenNoneAndAll(double share) {
        assertThatThrownBy(() -> new MagnitudeHistogram().quantile(share))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("share " + share);
    }

    @Test
    void twoSigmaOfBlocksIsThatOfSingleValues() {
        double[] values = noise(45_000);
        TwoSigma single = new TwoSigma(0.05, 20_000, RATE_HZ);
        TwoSigma blocks = new TwoSigma(0.05, 20_000, RATE_HZ);
        for (int i = 0; i < values.length; i++) {
            single.add(values, i, 1);
        }
        for (int at = 0; at < values.length; at += 7001) { // no whole number of the blocks of the scatter
            blocks.add(values, at, Math.min(7001, values.length - at));
        }
        assertThat(blocks.value()).isEqualTo(single.value());
        assertThat(blocks.highestOfPeriods()).isEqualTo(single.highestOfPeriods());
        assertThat(blocks.uncertainty()).isEqualTo(single.uncertainty());
    }

    @Test
    void highestPerPartOfBlocksIsThatOfSingleValues() {
        double[] values = Arrays.stream(noise(50_000)).map(Math::abs).toArray();
        HighestPerPart single = new HighestPerPart(20_000, RATE_HZ);
        HighestPerPart blocks = new HighestPerPart(20_000, RATE_HZ);
        for (int i = 0; i < values.length; i++) {
            single.add(values[i], 5 + i);
        }
        for (int at = 0; at < values.length; at += 7001) {
            blocks.add(values, at, Math.min(7001, values.length - at), 5 + at);
        }
        assertThat(blocks.meanOfHighest()).isEqualTo(single.meanOfHighest());
        assertThat(blocks.highest()).isEqualTo(single.highest());
        assertThat(blocks.highestIndex()).isEqualTo(single.highestIndex());
        double mean = single.mean().orElseThrow();
        // Sums in another order.
        assertThat(blocks.mean().orElseThrow()).isCloseTo(mean, within(1e-12 * mean));
        assertThat(blocks.meanOfHighestUncertainty()).isEqualTo(single.meanOfHighestUncertainty());
        assertThat(blocks.highestUncertainty()).isEqualTo(single.highestUncertainty());
        double scatter = single.meanUncertainty().orElseThrow().value();
        assertThat(blocks.meanUncertainty().orElseThrow().value()).isCloseTo(scatter, within(1e-9 * scatter));
    }

    @Test
    void sumsAreSums() {
        double[] values = noise(103);
        double sum = 0;
        double squares = 0;
        for (int i = 2; i < 101; i++) {
            sum += values[i];
            squares += values[i] * values[i];
        }
        // Rounding of a hundred additions of numbers of up to 30.
        assertThat(Sums.of(values, 2, 99)).isCloseTo(sum, within(1e-11));
        assertThat(Sums.ofSquares(values, 2, 99)).isCloseTo(squares, within(1e-9));
    }
}
