/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** Frames, their groups of lines and the line that a sweep passes in them, by hand. */
class SweepFramesTest {
    private static final int LINES = 400;

    private static SweepFrames frames(int capacity) {
        return new SweepFrames(capacity, LINES, 20, 350, 3, 0.02);
    }

    private static double[] spectrum(double floor, double... linesAndPowers) {
        double[] power = new double[LINES];
        java.util.Arrays.fill(power, floor);
        for (int i = 0; i < linesAndPowers.length; i += 2) {
            power[(int) linesAndPowers[i]] = linesAndPowers[i + 1];
        }
        return power;
    }

    @Test
    void theStrongestFrequencyIsTheCentreOfItsPower() {
        SweepFrames frames = frames(4);
        frames.add(spectrum(0, 100, 1, 101, 3, 10, 50, 380, 50), false); // outside the range nothing counts
        assertThat(Math.exp(frames.strongest(0))).isCloseTo(100.75, within(1e-9));
        frames.add(spectrum(0), true);
        assertThat(frames.strongest(1)).isEqualTo(Double.NEGATIVE_INFINITY);
        assertThat(frames.overloaded(0)).isFalse();
        assertThat(frames.overloaded(1)).isTrue();
        assertThat(frames.first()).isZero();
        assertThat(frames.end()).isEqualTo(2);
    }

    /** Within 3 lines and 2 %: of line 100 that is 95 to 105, of which whole groups are taken. */
    @Test
    void powerAboutALineAndNoiseBesideIt() {
        SweepFrames frames = frames(4);
        frames.add(spectrum(1, 100, 500), false);
        double about = frames.powerAt(0, 100);
        assertThat(about).isBetween(500 + 8.0, 500 + 13.0);
        // Beside it stands nothing but the floor, as much as is among the lines.
        assertThat(frames.noiseBeside(0, 100)).isCloseTo(about - 499 - 1 + 1, within(1e-9));
        assertThat(frames.powerAt(0, 300)).isBetween(15.0, 25.0);
        assertThat(frames.noiseBeside(0, 300)).isCloseTo(frames.powerAt(0, 300), within(1e-9));
        assertThat(frames.powerAt(0, 90)).isLessThan(20);
        assertThat(frames.powerAt(0, 104)).isGreaterThan(500);
        // What stands beside within twice that distance counts as noise by its share of the lines.
        frames.add(spectrum(0, 109, 40), false);
        assertThat(frames.powerAt(1, 100)).isZero();
        assertThat(frames.noiseBeside(1, 100)).isBetween(30.0, 50.0);
        frames.add(spectrum(0, 120, 40), false);
        assertThat(frames.noiseBeside(2, 100)).isZero();
    }

    /** A sweep that grows by 1 % a frame: line, twice 3 lines and 2 % of either are clear after ln(...)/0.01 frames. */
    @Test
    void framesUntilASweepIsClear() {
        double clear = (100 + 3 + 2 + 3) / (1 - 0.02);
        assertThat(frames(4).framesApart(100, 0.01)).isEqualTo((int) Math.ceil(Math.log(clear / 100) / 0.01));
    }

    @Test
    void theLatestFramesAreKept() {
        SweepFrames frames = frames(3);
        for (int n = 0; n < 5; n++) {
            frames.add(spectrum(0, 50 + 20 * n, 1), n == 3);
        }
        assertThat(frames.capacity()).isEqualTo(3);
        assertThat(frames.first()).isEqualTo(2);
        assertThat(frames.end()).isEqualTo(5);
        for (int n = 2; n < 5; n++) {
            assertThat(Math.exp(frames.strongest(n))).isCloseTo(50 + 20 * n, within(1e-9));
            assertThat(frames.powerAt(n, 50 + 20 * n)).isEqualTo(1);
            assertThat(frames.overloaded(n)).isEqualTo(n == 3);
        }
        SweepFrames copy = frames(3);
        copy.add(spectrum(0, 300, 7), true);
        copy.copyFrom(frames);
        frames.clear();
        frames.add(spectrum(0, 200, 9), true);
        assertThat(frames.end()).isEqualTo(1);
        assertThat(copy.end()).isEqualTo(5);
        for (int n = 2; n < 5; n++) {
            assertThat(Math.exp(copy.strongest(n))).isCloseTo(50 + 20 * n, within(1e-9));
            assertThat(copy.powerAt(n, 50 + 20 * n)).isEqualTo(1);
            assertThat(copy.powerAt(n, 200)).isZero();
            assertThat(copy.overloaded(n)).isEqualTo(n == 3);
        }
    }

    /** A ridge that rises by 2 % a frame where 1.96 % were sent, among frames of something else. */
    @Test
    void theRidgeIsTheLineThatMostFramesLieOn() {
        SweepFrames frames = new SweepFrames(200, LINES, 10, 380, 3, 0.02);
        for (int n = 0; n < 150; n++) {
            double line = 20 * Math.exp(0.02 * (n - 10));
            boolean swept = n >= 10 && n < 140;
            // Two lines in the shares that put the centre where the sweep is.
            double part = line - Math.floor(line);
            frames.add(
                    swept ? spectrum(0, Math.floor(line), 1 - part, Math.floor(line) + 1, part) : spectrum(0, 30, 1),
                    false);
        }
        SweepRidge ridge = new SweepRidge(0.0196, 200, LINES);
        ridge.find(frames);
        assertThat(ridge.slope()).isCloseTo(0.02, within(1e-5));
        assertThat(ridge.speedRatio()).isCloseTo(0.02 / 0.0196, within(1e-3));
        assertThat(ridge.lineLogarithm(60)).isCloseTo(Math.log(20) + 1, within(1e-3));
        assertThat(ridge.frameAt(Math.log(20) + 1)).isCloseTo(60, within(0.05));
        assertThat(ridge.followed()).isBetween(125, 145);
        // 7 % off speed and more is another sweep.
        SweepRidge other = new SweepRidge(0.0225, 200, LINES);
        other.find(frames);
        assertThat(other.followed()).isZero();
        // A steady tone is none.
        SweepFrames steady = new SweepFrames(200, LINES, 10, 380, 3, 0.02);
        for (int n = 0; n < 150; n++) {
            steady.add(spectrum(0, 100, 1), false);
        }
        ridge.find(steady);
        assertThat(ridge.followed()).isZero();
    }

    /** Sums of 1, 2, 3 ... frames: eight batches become four of twice the length. */
    @Test
    void batchesAreOfEqualLength() {
        SpectrumBatches batches = new SpectrumBatches(2);
        double frame = 0;
        for (int n = 1; n <= 7; n++) {
            batches.add(new double[] {++frame, 1});
        }
        assertThat(batches.whole()).hasSize(7);
        assertThat(batches.whole().get(6)).containsExactly(7, 1);
        batches.add(new double[] {++frame, 1});
        assertThat(batches.whole()).hasSize(4);
        assertThat(batches.whole().get(0)).containsExactly(3, 2);
        assertThat(batches.whole().get(3)).containsExactly(15, 2);
        batches.add(new double[] {++frame, 1});
        assertThat(batches.whole()).hasSize(4);
        batches.add(new double[] {++frame, 1});
        assertThat(batches.whole().get(4)).containsExactly(19, 2);
        for (int n = 11; n <= 17; n++) {
            batches.add(new double[] {++frame, 1});
        }
        assertThat(batches.whole()).hasSize(4);
        assertThat(batches.whole().get(0)).containsExactly(10, 4);
        assertThat(batches.whole().get(3)).containsExactly(13 + 14 + 15 + 16, 4);
        batches.clear();
        assertThat(batches.whole()).isEmpty();
        batches.add(new double[] {5, 6});
        assertThat(batches.whole().get(0)).containsExactly(5, 6);
    }
}
