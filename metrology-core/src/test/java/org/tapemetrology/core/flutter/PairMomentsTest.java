/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** One reading for every two samples: against the cubic of Lagrange, in any blocks, and on sines that would lock. */
class PairMomentsTest {
    private static double[] read(double[] samples, int block) {
        PairMoments moments = new PairMoments();
        double[] all = new double[samples.length];
        double[] part = new double[block];
        int readings = 0;
        for (int at = 0; at < samples.length; at += block) {
            int count = moments.process(samples, at, Math.min(block, samples.length - at), part);
            System.arraycopy(part, 0, all, readings, count);
            readings += count;
        }
        return Arrays.copyOf(all, readings);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 7, 200, 401})
    void isTheCubicOfLagrangeAtTheGoldenSectionOfTwoIntervals(int block) {
        double[] x = new Random(1).doubles(401, -1, 1).toArray();
        double[] readings = read(x, block);
        // The last reading needs the last of five samples.
        assertThat(readings).hasSize((x.length - 5) / 2 + 1);
        double golden = (Math.sqrt(5) - 1) / 2;
        for (int k = 0; k < readings.length; k++) {
            double time = 2 * ((k + 1) * golden % 1);
            int i = 2 * k + (int) time;
            double u = time - (int) time;
            double cubic = -u * (u - 1) * (u - 2) / 6 * x[i]
                    + (u + 1) * (u - 1) * (u - 2) / 2 * x[i + 1]
                    - (u + 1) * u * (u - 2) / 2 * x[i + 2]
                    + (u + 1) * u * (u - 1) / 6 * x[i + 3];
            // Rounding of the golden section, 1e-16 a step, times slopes of up to 3.
            assertThat(readings[k]).isCloseTo(cubic, within(1e-12));
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {20, 40, 100})
    void meanMagnitudeOfASineOfAWholePeriodIsThatOfASine(int period) {
        double[] sine = new double[20_000];
        for (int i = 0; i < sine.length; i++) {
            sine[i] = Math.sin(2 * Math.PI * i / period);
        }
        double sum = 0;
        double[] readings = read(sine, 200);
        for (double reading : readings) {
            sum += Math.abs(reading);
        }
        // 2/pi by calculus. The cubic is within 0.03 % at 20 samples a period; 10 000 golden moments leave some 1e-4.
        assertThat(sum / readings.length).isCloseTo(2 / Math.PI, within(5e-4 * 2 / Math.PI));
    }
}
