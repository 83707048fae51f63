/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** The vector loops against the functions of {@link Math}, value by value. */
class DiscriminatorTest {
    private static final int N = 600;
    private static final double TURN = 1.234;

    @Test
    void stepsAreThoseOfArcTangentAndLogarithm() {
        Random random = new Random(7);
        double[] re = new double[N];
        double[] im = new double[N];
        double angle = 0;
        double amplitude = 0.3;
        for (int i = 0; i < N; i++) {
            // Mostly the small steps of a tone, at times anything, as noise gives it; and silence.
            boolean large = i % 37 == 5;
            angle += TURN + (large ? 6 * random.nextDouble() - 3 : 0.1 * random.nextGaussian());
            amplitude *= Math.exp(large ? random.nextGaussian() : 0.005 * random.nextGaussian());
            if (i % 41 == 7) {
                amplitude *= Math.exp(i % 2 == 0 ? 0.0299 : -0.0299); // the end of the series
            }
            boolean silent = i >= 300 && i < 303;
            re[i] = silent ? 0 : amplitude * Math.cos(angle);
            im[i] = silent ? 0 : amplitude * Math.sin(angle);
        }
        double[] phase = new double[N];
        double[] level = new double[N];
        double[] power = new double[N];
        Discriminator discriminator = new Discriminator(TURN);
        int count = 0;
        int[] blocks = {1, 2, 150, 47, 400};
        int at = 0;
        for (int block : blocks) {
            double[] partRe = new double[block];
            double[] partIm = new double[block];
            System.arraycopy(re, at, partRe, 0, block);
            System.arraycopy(im, at, partIm, 0, block);
            double[] p = new double[block];
            double[] l = new double[block];
            double[] w = new double[block];
            int n = discriminator.process(partRe, partIm, block, p, l, w);
            System.arraycopy(p, 0, phase, count, n);
            System.arraycopy(l, 0, level, count, n);
            System.arraycopy(w, 0, power, count, n);
            count += n;
            at += block;
        }
        assertThat(count).isEqualTo(N - 1);
        for (int i = 1; i < N; i++) {
            double dot = re[i] * re[i - 1] + im[i] * im[i - 1];
            double cross = im[i] * re[i - 1] - re[i] * im[i - 1];
            double along = dot * Math.cos(TURN) + cross * Math.sin(TURN);
            double across = cross * Math.cos(TURN) - dot * Math.sin(TURN);
            double here = re[i] * re[i] + im[i] * im[i];
            double before = re[i - 1] * re[i - 1] + im[i - 1] * im[i - 1];
            // The remainder of the arc tangent's series at a quarter.
            assertThat(phase[i - 1]).as("step %d", i).isCloseTo(Math.atan2(across, along), within(4e-12));
            double logarithm = here > 0 && before > 0 ? 0.5 * Math.log(here / before) : 0;
            // The remainder of the other series at 0.03: 0.03^9/9.
            assertThat(level[i - 1]).as("step %d", i).isCloseTo(logarithm, within(3e-12));
            assertThat(power[i - 1]).isEqualTo(here);
        }
    }
}
