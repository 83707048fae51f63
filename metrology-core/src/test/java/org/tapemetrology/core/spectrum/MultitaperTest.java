/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Densities and amplitudes of records against the plain transforms that define them, and the transform itself. */
class MultitaperTest {
    private static final double RATE = 500;

    private static double[] record(int seed, int length) {
        Random random = new Random(seed);
        double[] x = new double[length];
        for (int i = 0; i < length; i++) {
            x[i] = 1 + 0.01 * i + random.nextGaussian();
        }
        return x;
    }

    /** Squared magnitude of the sum of a windowed series at a frequency. */
    private static double power(double[] x, double[] window, double hz) {
        double re = 0;
        double im = 0;
        for (int i = 0; i < x.length; i++) {
            re += window[i] * x[i] * Math.cos(2 * Math.PI * hz * i / RATE);
            im += window[i] * x[i] * Math.sin(2 * Math.PI * hz * i / RATE);
        }
        return re * re + im * im;
    }

    /** Of odd and even numbers of tapers, of one record and of two: the mean of the tapers' powers, one-sided. */
    @ParameterizedTest
    @CsvSource({"3, 1", "4, 1", "3, 2", "4, 2"})
    void densityAndAmplitudeAreThoseOfTheirDefinitions(int count, int records) {
        int length = 100;
        Multitaper multitaper = new Multitaper(length, RATE, 2.5, count);
        DpssTapers tapers = DpssTapers.of(length, 2.5, count);
        double[] hann = new double[length];
        for (int i = 0; i < length; i++) {
            // Symmetrical about the middle, with a sum of the length.
            hann[i] = 2 * Math.pow(Math.sin(Math.PI * (i + 0.5) / length), 2);
        }
        double[] density = new double[65];
        double[] squares = new double[65];
        for (int r = 0; r < records; r++) {
            double[] x = record(r, length);
            multitaper.add(x);
            Trend.remove(x, length);
            for (int k = 0; k < 65; k++) {
                double hz = k * RATE / 128;
                for (int t = 0; t < count; t++) {
                    density[k] +=
                            (k == 0 || k == 64 ? 1 : 2) * power(x, tapers.taper(t), hz) / (RATE * count * records);
                }
                squares[k] += power(x, hann, hz) / records;
            }
        }
        assertThat(multitaper.spacingHz()).isCloseTo(RATE / 128, within(1e-12));
        assertThat(multitaper.halfBandwidthHz()).isCloseTo(2.5 * RATE / length, within(1e-12));
        assertThat(multitaper.density()).hasSize(65);
        for (int k = 0; k < 65; k++) {
            assertThat(multitaper.density()[k]).as("point %d", k).isCloseTo(density[k], within(1e-12));
            assertThat(multitaper.amplitude()[k]).isCloseTo(2 * Math.sqrt(squares[k]) / length, within(1e-10));
        }
    }

    @ParameterizedTest
    @CsvSource({"0, 2", "1, 2", "2, 2", "3, 4", "4, 4", "5, 8", "1000, 1024", "1024, 1024", "1025, 2048"})
    void pointsAreAPowerOfTwo(long least, int points) {
        assertThat(Fourier.pointsFor(least)).isEqualTo(points);
    }

    /** Two real series in one transform, each against the sum that defines it. */
    @Test
    void twoSeriesAreTransformedAtOnce() {
        Fourier fourier = new Fourier(16);
        Random random = new Random(3);
        double[] one = random.doubles(16, -1, 1).toArray();
        double[] two = random.doubles(16, -1, 1).toArray();
        System.arraycopy(one, 0, fourier.first(), 0, 16);
        System.arraycopy(two, 0, fourier.second(), 0, 16);
        fourier.transform();
        for (int k = 0; k <= 8; k++) {
            double re = 0;
            double im = 0;
            double re2 = 0;
            double im2 = 0;
            for (int i = 0; i < 16; i++) {
                double angle = -2 * Math.PI * k * i / 16;
                re += one[i] * Math.cos(angle);
                im += one[i] * Math.sin(angle);
                re2 += two[i] * Math.cos(angle);
                im2 += two[i] * Math.sin(angle);
            }
            assertThat(fourier.firstRe(k)).isCloseTo(re, within(1e-13));
            assertThat(fourier.firstIm(k)).isCloseTo(im, within(1e-13));
            assertThat(fourier.firstPower(k)).isCloseTo(re * re + im * im, within(1e-12));
            assertThat(fourier.secondPower(k)).isCloseTo(re2 * re2 + im2 * im2, within(1e-12));
        }
        assertThat(fourier.points()).isEqualTo(16);
    }

    /** A cubic is taken out whole, of odd and even lengths; what is orthogonal to it stays. Nothing beyond the length is touched. */
    @ParameterizedTest
    @ValueSource(ints = {5, 10, 11, 1000})
    void aCubicIsTheTrend(int length) {
        double[] x = new double[length + 3];
        for (int i = 0; i < x.length; i++) {
            double t = i / (double) length;
            x[i] = 3 - 2 * t + 5 * t * t - 7 * t * t * t;
        }
        double after = x[length];
        Trend.remove(x, length);
        for (int i = 0; i < length; i++) {
            assertThat(x[i]).isCloseTo(0, within(1e-12));
        }
        assertThat(x[length]).isEqualTo(after);
    }

    @Test
    void theTrendIsTheLeastSquaresCubic() {
        double[] x = record(5, 50);
        Trend.remove(x, 50);
        for (int power = 0; power < 4; power++) {
            double moment = 0;
            for (int i = 0; i < 50; i++) {
                moment += x[i] * Math.pow(i / 50.0, power);
            }
            // What is left is orthogonal to every power.
            assertThat(moment).isCloseTo(0, within(1e-11));
        }
    }

    /** Shorter and longer records than are fitted are refused; between them the middle is that of the samples that are left. */
    @Test
    void recordsAreReducedToAKilohertz() {
        assertThat(ReducedRecord.factor(999)).isEqualTo(1);
        assertThat(ReducedRecord.factor(1999)).isEqualTo(1);
        assertThat(ReducedRecord.factor(2000)).isEqualTo(2);
        double[] x = record(6, 3000);
        ReducedRecord same = ReducedRecord.of(x, 1000, 1000, 1000);
        assertThat(same.samples()).hasSize(1000);
        assertThat(same.samples()[0]).isEqualTo(x[1000]);
        assertThat(same.samples()[999]).isEqualTo(x[1999]);
        assertThat(same.rateHz()).isEqualTo(1000);
        assertThat(same.middleSeconds()).isCloseTo(0.4995, within(1e-12));
        double[] fine = new double[40_000];
        for (int i = 0; i < fine.length; i++) {
            fine[i] = Math.sin(2 * Math.PI * 3 * i / 8000.0);
        }
        ReducedRecord reduced = ReducedRecord.of(fine, 0, fine.length, 8000);
        assertThat(reduced.rateHz()).isEqualTo(1000);
        int middle = reduced.samples().length / 2;
        double t = reduced.middleSeconds() + (middle - (reduced.samples().length - 1) / 2.0) / 1000;
        // The filter's ripple is 3e-5.
        assertThat(reduced.samples()[middle]).isCloseTo(Math.sin(2 * Math.PI * 3 * t), within(1e-4));
        assertThat(ReducedRecord.of(new double[1 << 18], 0, 1 << 18, 1000).samples())
                .hasSize(1 << 18);
        assertThatThrownBy(() -> ReducedRecord.of(new double[(1 << 18) + 1], 0, (1 << 18) + 1, 1000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("length 262145 at 1000.0 Hz leaves 262145 samples at 1000.0 Hz, not 1000 to 262144");
        assertThatThrownBy(() -> ReducedRecord.of(new double[7000], 0, 7000, 8000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("samples at 1000.0 Hz, not 1000 to 262144");
    }
}
