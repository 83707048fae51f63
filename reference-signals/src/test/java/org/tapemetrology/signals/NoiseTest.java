/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.stat.descriptive.moment.Kurtosis;
import org.apache.commons.math3.stat.inference.KolmogorovSmirnovTest;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;
import org.junit.jupiter.api.Test;

class NoiseTest {
    private static final int COUNT = 1 << 20;
    private static final double[] HISS =
            SampledSignal.of(new WhiteNoise(42, 0.1, 48_000), 48_000).samples(0, COUNT);

    /** The library's distribution function takes back what the quantile made; its tails are good to about 1e-12. */
    @Test
    void normalQuantileIsTheInverseOfTheDistributionFunction() {
        var normal = new NormalDistribution();
        for (double p : new double[] {1e-12, 1e-6, 0.01, 0.0749, 0.0751, 0.3, 0.5, 0.6, 0.93, 0.999, 1 - 1e-9}) {
            double back = normal.cumulativeProbability(CounterRandom.normalQuantile(p));

            assertThat(back).isCloseTo(p, within(1e-11 * p));
        }
    }

    /** Bounds of five standard errors: a correct generator passes for all but one seed in a million. */
    @Test
    void hissHasItsMeanRmsAndKurtosis() {
        double mean = Arrays.stream(HISS).average().orElseThrow();
        double square = Arrays.stream(HISS).map(x -> x * x).average().orElseThrow();

        assertThat(mean).isCloseTo(0, within(5 * 0.1 / Math.sqrt(COUNT)));
        assertThat(Math.sqrt(square)).isCloseTo(0.1, within(5 * 0.1 / Math.sqrt(2.0 * COUNT)));
        assertThat(new Kurtosis().evaluate(HISS)).isCloseTo(0, within(5 * Math.sqrt(24.0 / COUNT)));
    }

    /** Significance 1e-6: a correct generator passes for all but one seed in a million. */
    @Test
    void hissIsGaussian() {
        double significance = new KolmogorovSmirnovTest()
                .kolmogorovSmirnovTest(new NormalDistribution(0, 0.1), Arrays.copyOf(HISS, 100_000));

        assertThat(significance).isGreaterThan(1e-6);
    }

    /** Autocorrelation of white noise has the standard error 1/sqrt(n). */
    @Test
    void hissIsWhite() {
        for (int lag : new int[] {1, 2, 3, 7, 64, 1024, 48_000}) {
            assertThat(correlation(HISS, HISS, lag)).isCloseTo(0, within(5 / Math.sqrt(COUNT - lag)));
        }
    }

    @Test
    void noisesOfNeighbouringSeedsAreIndependent() {
        double[] other =
                SampledSignal.of(new WhiteNoise(43, 0.1, 48_000), 48_000).samples(0, COUNT);

        for (int lag : new int[] {0, 1, 2, 1000}) {
            assertThat(correlation(HISS, other, lag)).isCloseTo(0, within(5 / Math.sqrt(COUNT - lag)));
        }
    }

    /** 3.01 dB per octave is the definition of pink; 1 dB is the ripple that the class states. */
    @Test
    void pinkNoiseLosesThreeDecibelsPerOctave() {
        double[] pink = SampledSignal.of(new PinkNoise(9, 0.1, 48_000), 48_000).samples(0, COUNT);
        double[] density = density(pink, 1 << 13);

        // Octaves from 48 Hz to 6 kHz; each holds over 8 bins of 128 averages: 0.14 dB of scatter.
        double reference = octave(density, 64);
        for (int bin = 8; bin <= 512; bin *= 2) {
            double expected = -10 * Math.log10(bin / 64.0);
            assertThat(10 * Math.log10(octave(density, bin) / reference)).isCloseTo(expected, within(1.5));
        }
        double square = Arrays.stream(pink).map(x -> x * x).average().orElseThrow();
        // The slowest row holds for 0.7 s: 32 values of it in 22 s; 10 % is some 4 standard errors.
        assertThat(Math.sqrt(square)).isCloseTo(0.1, within(0.01));
    }

    private static double correlation(double[] a, double[] b, int lag) {
        double sum = 0;
        for (int i = lag; i < a.length; i++) {
            sum += a[i] * b[i - lag];
        }
        return sum / (a.length - lag) / 0.01;
    }

    private static double[] density(double[] samples, int size) {
        double[] sum = new double[size / 2];
        var transformer = new FastFourierTransformer(DftNormalization.STANDARD);
        for (int start = 0; start + size <= samples.length; start += size) {
            double[] windowed = Arrays.copyOfRange(samples, start, start + size);
            for (int i = 0; i < size; i++) {
                windowed[i] *= 0.5 - 0.5 * Math.cos(2 * Math.PI * i / size);
            }
            Complex[] spectrum = transformer.transform(windowed, TransformType.FORWARD);
            for (int i = 0; i < sum.length; i++) {
                sum[i] += spectrum[i].abs() * spectrum[i].abs();
            }
        }
        return sum;
    }

    private static double octave(double[] density, int from) {
        return Arrays.stream(density, from, 2 * from).average().orElseThrow();
    }
}
