/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SineFitTest {
    private static final double RATE_HZ = 48000;

    /** Tolerances: rounding of the samples, 1e-16, over root n, with a factor of a hundred for the passes. */
    @Test
    void aPureSineIsFoundToRounding() {
        int n = 4800;
        double[] y = new double[n + 7];
        for (int i = 0; i < n; i++) {
            y[i + 7] = 0.25 + 0.7 * StrictMath.cos(2 * Math.PI * 997.3 * i / RATE_HZ + 0.4);
        }
        SineFit fit = SineFit.fourParameter(y, 7, n, RATE_HZ, 1000);
        assertThat(fit.frequencyHz()).isCloseTo(997.3, within(1e-10));
        assertThat(fit.amplitude()).isCloseTo(0.7, within(1e-13));
        assertThat(fit.offset()).isCloseTo(0.25, within(1e-13));
        assertThat(StrictMath.cos(fit.phaseAt(0) - 0.4)).isCloseTo(1, within(1e-12));
        assertThat(StrictMath.sin(fit.phaseAt(0) - 0.4)).isCloseTo(0, within(1e-11));
        assertThat(fit.residualRms()).isLessThan(1e-12);
        // A known frequency that is wrong leaves a residue: the fit with the frequency known does not search.
        assertThat(SineFit.threeParameter(y, 7, n, RATE_HZ, 1000).residualRms()).isGreaterThan(0.05);
        assertThat(SineFit.threeParameter(y, 7, n, RATE_HZ, 997.3).amplitude()).isCloseTo(0.7, within(1e-13));
    }

    @Test
    void harmonicsShareTheFundamental() {
        int n = 9600;
        double[] y = new double[n];
        for (int i = 0; i < n; i++) {
            double phase = 2 * Math.PI * 315.7 * i / RATE_HZ;
            y[i] = StrictMath.cos(phase) + 1e-3 * StrictMath.cos(3 * phase + 1) + 1e-5 * StrictMath.cos(5 * phase - 2);
        }
        HarmonicFit fit = HarmonicFit.unknown(y, 0, n, RATE_HZ, 315, 10);
        assertThat(fit.frequencyHz()).isCloseTo(315.7, within(1e-9));
        assertThat(fit.amplitude(1)).isCloseTo(1, within(1e-12));
        assertThat(fit.amplitude(2)).isLessThan(1e-12);
        assertThat(fit.amplitude(3)).isCloseTo(1e-3, within(1e-12));
        assertThat(fit.amplitude(5)).isCloseTo(1e-5, within(1e-12));
        double toStart = -3 * 2 * Math.PI * fit.frequencyHz() * fit.middleSeconds();
        assertThat(StrictMath.sin(fit.phaseRad(3) + toStart - 1)).isCloseTo(0, within(1e-8));
    }

    /**
     * Cramer-Rao bounds of a real sine in white noise (D. C. Rife, R. R. Boorstyn, IEEE Trans. Inf. Theory 20 (1974);
     * second-hand and computed from the Fisher matrix): var A = 2 s^2/N, var w = 24 s^2/(A^2 N (N^2-1)),
     * var phi = 2 s^2/(A^2 N) at the middle and 4 s^2 (2N-1)/(A^2 N (N+1)) at the first sample.
     *
     * <p>The required limit is 1.1 of the bound. A variance from 6000 trials has a relative deviation of
     * sqrt(2/6000) = 1.8 %: an efficient estimator passes 1.1 by 5.5 of them. The same margin below 1 guards
     * against a bound that is wrong.
     */
    @ParameterizedTest
    @ValueSource(doubles = {20, 40, 60, 80})
    void variancesAreWithin1Point1OfTheCramerRaoBound(double snrDb) {
        int n = 512;
        int trials = 6000;
        double s = StrictMath.sqrt(0.5 * StrictMath.pow(10, -snrDb / 10));
        Random random = new Random(1057 + (long) snrDb);
        double[] y = new double[n];
        double[] squares = new double[4];
        double[] claimed = new double[4];
        for (int trial = 0; trial < trials; trial++) {
            double f = 3000 + 300 * random.nextDouble();
            double phase = 2 * Math.PI * random.nextDouble();
            for (int i = 0; i < n; i++) {
                y[i] = StrictMath.cos(2 * Math.PI * f * i / RATE_HZ + phase) + s * random.nextGaussian();
            }
            double start = f + (random.nextDouble() - 0.5) * 0.6 * RATE_HZ / n;
            SineFit fit = SineFit.fourParameter(y, 0, n, RATE_HZ, start);
            double middle = 2 * Math.PI * f * fit.middleSeconds() + phase;
            add(squares, 0, 2 * Math.PI * (fit.frequencyHz() - f) / RATE_HZ);
            add(squares, 1, fit.amplitude() - 1);
            add(squares, 2, Math.IEEEremainder(fit.phaseRad() - middle, 2 * Math.PI));
            add(squares, 3, Math.IEEEremainder(fit.phaseAt(0) - phase, 2 * Math.PI));
            add(claimed, 0, 2 * Math.PI * fit.frequencyErrorHz() / RATE_HZ);
            add(claimed, 1, fit.amplitudeError());
            add(claimed, 2, fit.phaseErrorRad());
            add(claimed, 3, fit.phaseErrorAt(0));
        }
        double v = s * s;
        double[] bound = {
            24 * v / (n * ((double) n * n - 1)), 2 * v / n, 2 * v / n, 4 * v * (2 * n - 1) / (n * (n + 1.0))
        };
        for (int k = 0; k < 4; k++) {
            double ratio = squares[k] / trials / bound[k];
            System.out.printf(
                    "CRB snr %.0f dB, %d: %.4f, claimed %.4f%n", snrDb, k, ratio, claimed[k] / trials / bound[k]);
            assertThat(ratio).as("parameter %d at %s dB", k, snrDb).isBetween(0.9, 1.1);
            // The claimed variance averages 1/(n-p) of n residuals per trial: 6 % off per trial, 0.1 % over all.
            assertThat(claimed[k] / trials / bound[k]).as("claimed %d", k).isCloseTo(1, within(0.03));
        }
    }

    private static void add(double[] sums, int index, double value) {
        sums[index] += value * value;
    }

    @Test
    void unusableInputIsNamed() {
        double[] y = new double[100];
        assertThatThrownBy(() -> SineFit.threeParameter(y, 0, 100, 48000, 24000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("24000");
        assertThatThrownBy(() -> SineFit.threeParameter(y, 0, 3, 48000, 1000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("length 3");
        y[50] = Double.NaN;
        assertThatThrownBy(() -> SineFit.fourParameter(y, 0, 100, 48000, 1000)).isInstanceOf(ArithmeticException.class);
    }
}
