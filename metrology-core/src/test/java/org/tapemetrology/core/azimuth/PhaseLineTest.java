/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

/** A few phases, of which the sums are written out. Rounding is some 1e-15 of a sum; 1e-12 is far from anything else. */
class PhaseLineTest {
    private static final double[] OMEGA = {1000, 2500, 4200, 7000};
    private static final double[] WEIGHT = {1, 3, 0.5, 2};
    private static final double[] SIZE = {2, 1, 4, 0.5};

    private final PhaseLine line = new PhaseLine(OMEGA.length);

    /** Phases of a delay, each off the line by so much. */
    private void fill(double delay, double... off) {
        line.clear();
        for (int k = 0; k < OMEGA.length; k++) {
            double phase = -OMEGA[k] * delay + off[k];
            line.add(WEIGHT[k], OMEGA[k], SIZE[k] * Math.cos(phase), SIZE[k] * Math.sin(phase));
        }
    }

    /** {@code sum w cos(phase + omega t)}, differentiated by hand so many times. */
    private static double sum(double t, int derivative, double delay, double... off) {
        double sum = 0;
        for (int k = 0; k < OMEGA.length; k++) {
            double angle = OMEGA[k] * (t - delay) + off[k] + derivative * Math.PI / 2;
            sum += WEIGHT[k] * SIZE[k] * Math.pow(OMEGA[k], derivative) * Math.cos(angle);
        }
        return sum;
    }

    @Test
    void weightsAddUp() {
        assertThat(line.isEmpty()).isTrue();
        fill(1e-4, 0, 0, 0, 0);
        assertThat(line.isEmpty()).isFalse();
        assertThat(line.weightSum()).isCloseTo(2 + 3 + 2 + 1, within(1e-12));
        double meanSquare = (2 * 1e6 + 3 * 6.25e6 + 2 * 17.64e6 + 49e6) / 8;
        assertThat(line.period()).isCloseTo(2 * Math.PI / Math.sqrt(meanSquare), within(1e-15));
        // Eight points in a cycle of the highest frequency.
        assertThat(line.step()).isCloseTo(2 * Math.PI / 7000 / 8, within(1e-15));
        line.clear();
        assertThat(line.isEmpty()).isTrue();
        assertThat(line.weightSum()).isZero();
        line.add(1, 100, 0, 2);
        assertThat(line.weightSum()).isEqualTo(2);
        assertThat(line.period()).isCloseTo(2 * Math.PI / 100, within(1e-12));
        assertThat(line.step()).isCloseTo(2 * Math.PI / 800, within(1e-12));
        line.clear();
        line.add(1, 100, 0, 0);
        assertThat(line.isEmpty()).as("a phase of no weight").isTrue();
    }

    @Test
    void aScanIsTheSumAtEachOfItsPoints() {
        double[] off = {0.2, -0.3, 0.1, 0.4};
        fill(3e-5, off);
        double[] out = new double[42];
        Arrays.fill(out, 7);
        line.scan(-2e-3, 1e-4, 41, out);
        for (int i = 0; i < 41; i++) {
            assertThat(out[i]).isCloseTo(sum(-2e-3 + i * 1e-4, 0, 3e-5, off), within(1e-12));
        }
        assertThat(out[41]).isEqualTo(7);
        line.differentiate(1.3e-4);
        assertThat(line.value()).isCloseTo(sum(1.3e-4, 0, 3e-5, off), within(1e-12));
        double curvature = sum(1.3e-4, 2, 3e-5, off);
        assertThat(line.information()).isCloseTo(Math.abs(curvature), within(1e-12 * Math.abs(curvature)));
    }

    @Test
    void aClimbEndsOnThePeak() {
        for (double start : new double[] {-3e-4, 2e-5, 2e-4, 3.1e-4}) {
            fill(3e-5, 0, 0, 0, 0);
            assertThat(line.climb(start, 1)).isCloseTo(3e-5, within(1e-13));
            assertThat(line.value()).isCloseTo(8, within(1e-12));
        }
        // Inverted, the peak downwards is found; and from beside it upwards it is left.
        fill(3e-5, Math.PI, Math.PI, Math.PI, Math.PI);
        assertThat(line.climb(1e-4, -1)).isCloseTo(3e-5, within(1e-13));
        assertThat(line.value()).isCloseTo(-8, within(1e-12));
        double up = line.climb(1e-4, 1);
        assertThat(up).isGreaterThan(1.5e-4);
        assertThat(line.value()).isPositive();
        // At the end of a climb the slope is nothing, against some 1e4 beside it.
        double[] off = {0.3, -0.2, 0.4, -0.1};
        fill(3e-5, off);
        double top = line.climb(0, 1);
        assertThat(sum(top, 1, 3e-5, off)).isCloseTo(0, within(1e-5));
        assertThat(line.value()).isCloseTo(sum(top, 0, 3e-5, off), within(1e-12));
        assertThat(line.information()).isCloseTo(-sum(top, 2, 3e-5, off), within(1e-3));
    }

    /** A climb goes a scan step at most each time, and 20 times: of one frequency 2.5 cycles, and none where there is no slope to take. */
    @Test
    void aClimbTakesSmallSteps() {
        line.add(1, 2 * Math.PI, 1, 0);
        assertThat(line.climb(0.3, 1)).isCloseTo(0, within(1e-13));
        assertThat(line.climb(-0.3, 1)).isCloseTo(0, within(1e-13));
        assertThat(line.climb(0.7, 1)).isCloseTo(1, within(1e-13));
        assertThat(line.climb(0.2, -1)).isCloseTo(0.5, within(1e-13));
        assertThat(line.climb(-0.2, -1)).isCloseTo(-0.5, within(1e-13));
    }

    /** The variance is {@code sum (w omega sin(off))^2/curvature^2}; where nothing is off it is 0. */
    @Test
    void phasesThatScatterGiveTheirVariance() {
        double[] off = {0.05, -0.02, 0.03, -0.04};
        fill(3e-5, off);
        line.differentiate(3e-5);
        double above = 0;
        double curvature = 0;
        for (int k = 0; k < OMEGA.length; k++) {
            double weight = WEIGHT[k] * SIZE[k];
            above += Math.pow(weight * OMEGA[k] * Math.sin(off[k]), 2);
            curvature += weight * OMEGA[k] * OMEGA[k] * Math.cos(off[k]);
        }
        double variance = above / (curvature * curvature);
        assertThat(line.scatter(3e-5)).isCloseTo(variance, within(1e-9 * variance));
        fill(3e-5, 0, 0, 0, 0);
        line.differentiate(3e-5);
        assertThat(line.scatter(3e-5)).isCloseTo(0, within(1e-30));
    }
}
