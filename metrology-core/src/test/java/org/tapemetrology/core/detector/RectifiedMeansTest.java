/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.standard.Iec60268Part17;

class RectifiedMeansTest {
    private static final double RATE = 192_000;

    /** Whatever the blocks are like, the means are the same to the last bit, and those of a plain loop to rounding. */
    @Test
    void meansOfSixteenInBlocksOfAnySize() {
        Random random = new Random(7);
        double[] x = random.doubles(1000, -1, 1).toArray();
        double[] whole = new double[63];
        assertThat(new RectifiedMeans().process(x, 0, x.length, whole, 0)).isEqualTo(62);
        for (int m = 0; m < 62; m++) {
            double sum = 0;
            for (int i = 0; i < 16; i++) {
                sum += Math.abs(x[16 * m + i]);
            }
            assertThat(whole[m]).isCloseTo(sum / 16, within(1e-15)); // sixteen roundings of numbers below 1
        }
        RectifiedMeans parts = new RectifiedMeans();
        double[] means = new double[63];
        int count = 0;
        for (int at = 0; at < x.length; ) {
            int part = Math.min(x.length - at, random.nextInt(40));
            count += parts.process(x, at, part, means, count);
            at += part;
        }
        assertThat(count).isEqualTo(62);
        assertThat(means).containsExactly(whole);
        assertThat(parts.process(x, 0, 32, means, 0)).isEqualTo(2); // 8 of 1000 are left over, and 8 of 32 again
        parts.reset();
        assertThat(parts.process(x, 0, 32, means, 0)).isEqualTo(2); // each as soon as it is complete
        assertThat(means[1]).isEqualTo(whole[1]);
    }

    /**
     * The volume indicator behind the means shows what it shows behind every sample: within a part in a million where nothing
     * folds, and within a part in five thousand where twice the tone is 1 Hz beside the rate of the means, 12 kHz (computed:
     * the second harmonic of a rectified sine is 2/3 of its mean, and the mean of a group leaves 1/6000 of it).
     */
    @Test
    void theVolumeIndicatorShowsTheSame() {
        assertThat(farthest(3150)).isLessThan(1e-6);
        assertThat(farthest(6000.5)).isBetween(1e-6, 2e-4);
    }

    /** Largest difference of the two indications of a sine of full scale from 1 s on, re the indication. */
    private static double farthest(double hz) {
        double[] x = new double[(int) (3 * RATE)];
        for (int i = 0; i < x.length; i++) {
            x[i] = Math.sin(2 * Math.PI * hz * i / RATE);
        }
        double[] every = new double[x.length];
        Iec60268Part17.detector(RATE).process(x, 0, every, 0, x.length);
        double[] means = new double[x.length / RectifiedMeans.GROUP + 1];
        int count = new RectifiedMeans().process(x, 0, x.length, means, 0);
        Iec60268Part17.detector(RATE / RectifiedMeans.GROUP).process(means, 0, means, 0, count);
        double most = 0;
        for (int m = count / 3; m < count; m++) {
            most = Math.max(most, Math.abs(means[m] - every[RectifiedMeans.GROUP * (m + 1) - 1]));
        }
        return most / Math.sqrt(0.5);
    }
}
