/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Halving and doubling of a rate against plain convolution, and the mask of their filter. */
class HalfBandTest {
    private static double[] noise(int length) {
        return new SplittableRandom(5).doubles(length, -1, 1).toArray();
    }

    /** All taps of the filter at the higher rate, of gain 1: a half in the middle, every second one beside it zero. */
    private static double[] taps(double[] sides) {
        int middle = 2 * sides.length - 1;
        double[] taps = new double[2 * middle + 1];
        taps[middle] = 0.5;
        for (int j = 0; j < sides.length; j++) {
            taps[middle - 2 * j - 1] = taps[middle + 2 * j + 1] = sides[j] / 2;
        }
        return taps;
    }

    /** A half-band filter has ripple and attenuation alike; it loses up to 7 dB to the window's unequal sums. */
    @ParameterizedTest
    @CsvSource({"20000, 70, 48000", "14515, 70, 32000", "300, 90, 1000", "375, 60, 1000"})
    void sidesKeepTheMask(double passHz, double attenuation, double lowRate) {
        double[] sides = FirDesign.halfBandSides(passHz, attenuation, lowRate);
        assertThat(Arrays.stream(sides).sum()).isCloseTo(0.5, within(1e-15)); // gain 1 at 0 Hz
        double ripple = Math.pow(10, -(attenuation - 7) / 20);
        double[] taps = taps(sides);
        for (double share = 0; share <= 1; share += 0.02) {
            double inside = FirDesign.magnitude(taps, share * passHz, 2 * lowRate);
            assertThat(inside).isCloseTo(1, within(ripple));
            assertThat(FirDesign.magnitude(taps, lowRate - share * passHz, 2 * lowRate))
                    .isCloseTo(0, within(ripple));
        }
        // Negative control: without its two outermost pairs it misses its mask.
        double[] shorter = taps(Arrays.copyOf(sides, sides.length - 2));
        double worst = 0;
        for (double share = 0; share <= 1; share += 0.02) {
            worst = Math.max(worst, FirDesign.magnitude(shorter, lowRate - share * passHz, 2 * lowRate));
        }
        assertThat(worst).isGreaterThan(Math.pow(10, -attenuation / 20));
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 512, 513, 5000})
    void theDecimatorIsPlainConvolution(int block) {
        double[] sides = FirDesign.halfBandSides(300, 70, 1000);
        double[] taps = taps(sides);
        double[] x = noise(4001);
        HalfBandDecimator decimator = new HalfBandDecimator(300, 70, 1000);
        for (int pass = 0; pass < 2; pass++) { // the second one after a reset
            double[] out = new double[x.length + 3];
            int count = 3;
            for (int at = 0; at < x.length; at += block) {
                count += decimator.process(x, at, Math.min(block, x.length - at), out, count);
            }
            assertThat(count - 3).isEqualTo((x.length - taps.length) / 2 + 1);
            for (int m = 0; m < count - 3; m++) {
                double sum = 0;
                for (int k = 0; k < taps.length; k++) {
                    sum += taps[k] * x[2 * m + k];
                }
                assertThat(out[3 + m]).isCloseTo(sum, within(1e-14)); // rounding of sums below 1
            }
            decimator.reset();
        }
    }

    /** An even and an odd number of pairs: zeros between the inputs, twice the filter. */
    @ParameterizedTest
    @CsvSource({"300, 70, 1", "300, 60, 513", "300, 90, 5000", "375, 60, 77", "50, 40, 100"})
    void theInterpolatorIsPlainConvolution(double passHz, double attenuation, int block) {
        double[] sides = FirDesign.halfBandSides(passHz, attenuation, 1000);
        double[] taps = taps(sides);
        double[] x = noise(2001);
        double[] stuffed = new double[2 * x.length];
        for (int i = 0; i < x.length; i++) {
            stuffed[2 * i] = x[i];
        }
        HalfBandInterpolator interpolator = new HalfBandInterpolator(passHz, attenuation, 1000);
        assertThat(interpolator.sides()).isEqualTo(sides);
        for (int pass = 0; pass < 2; pass++) {
            double[] out = new double[2 * x.length + 3];
            int count = 3;
            for (int at = 0; at < x.length; at += block) {
                count += interpolator.process(x, at, Math.min(block, x.length - at), out, count);
            }
            // It waits until an output between two inputs has all its pairs.
            assertThat(count - 3).isEqualTo(2 * (x.length - 2 * sides.length + 1));
            int middle = taps.length / 2;
            for (int m = 0; m < count - 3; m++) {
                int centre = 2 * (sides.length - 1) + m;
                double sum = 0;
                for (int k = 0; k < taps.length; k++) {
                    int from = centre - middle + k;
                    sum += from >= 0 ? 2 * taps[k] * stuffed[from] : 0;
                }
                assertThat(out[3 + m]).isCloseTo(sum, within(1e-14));
            }
            interpolator.reset();
        }
    }

    /** Two doublings in a row from 48 kHz, none at 192 kHz; the pass edge is 20 kHz or 0.4536 of the rate. */
    @ParameterizedTest
    @CsvSource({"48000, 4, 20000", "44100, 4, 20000", "32000, 8, 14515.2", "192000, 1, 0", "160000, 1, 0"})
    void theOversamplerIsItsDoublingsInARow(double rate, int factor, double pass) {
        Oversampler oversampler = Oversampler.beforeRectifier(rate);
        assertThat(oversampler.factor()).isEqualTo(factor);
        assertThat(oversampler.outputRateHz()).isEqualTo(factor * rate);
        assertThat(oversampler.sides()).hasSize(Integer.numberOfTrailingZeros(factor));
        double[] x = noise(2000);
        double[] expected = x;
        int count = x.length;
        double stageRate = rate;
        for (int stage = 0; stage < oversampler.sides().size(); stage++) {
            assertThat(oversampler.sides().get(stage)).isEqualTo(FirDesign.halfBandSides(pass, 70, stageRate));
            double[] more = new double[2 * count];
            count = new HalfBandInterpolator(pass, 70, stageRate).process(expected, 0, count, more, 0);
            expected = more;
            stageRate *= 2;
        }
        for (int pass2 = 0; pass2 < 2; pass2++) {
            double[] out = new double[factor * x.length + 3];
            int produced = 3 + oversampler.process(x, 0, 700, out, 3);
            produced += oversampler.process(x, 700, 1300, out, produced);
            assertThat(produced - 3).isEqualTo(count);
            for (int i = 0; i < count; i++) {
                assertThat(out[3 + i]).isEqualTo(expected[i]);
            }
            oversampler.reset();
        }
    }

    /** A weighting runs as its sections do, and begins anew after a reset. */
    @Test
    void aMatchedFilterRunsAsItsSections() {
        AnalogFilter analog = Butterworth.analogLowPass(4, 2000);
        MatchedFilter filter = new MatchedFilter(analog, 48_000);
        double[] x = noise(500);
        double[] expected = new double[x.length];
        filter.sections().process(x, 0, expected, 0, x.length);
        for (int pass = 0; pass < 2; pass++) {
            double[] out = new double[x.length];
            assertThat(filter.process(x, 0, x.length, out, 0)).isEqualTo(x.length);
            assertThat(out).isEqualTo(expected);
            filter.reset();
        }
    }
}
