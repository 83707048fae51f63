/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What every package uses: sums, the cubic, checks of arguments, and the cutting of a stream into frames. */
class BuildingBlocksTest {
    @ParameterizedTest
    @ValueSource(ints = {0, 1, 3, 4, 5, 7, 8, 103})
    void sumsAreThosePlainlyAdded(int length) {
        double[] values = new Random(1).doubles(120, -1, 1).toArray();
        double sum = 0;
        double squares = 0;
        for (int i = 7; i < 7 + length; i++) {
            sum += values[i];
            squares += values[i] * values[i];
        }
        assertThat(Sums.of(values, 7, length)).isCloseTo(sum, within(1e-13)); // the order of a hundred numbers
        assertThat(Sums.ofSquares(values, 7, length)).isCloseTo(squares, within(1e-13));
        // The last values of an array, and of four numbers each counts.
        assertThat(Sums.of(new double[] {9, 1, 10, 100, 1000}, 1, 4)).isEqualTo(1111);
        assertThat(Sums.ofSquares(new double[] {9, 1, 2, 3, 4, 5}, 1, 5)).isEqualTo(55);
        assertThat(Sums.of(new double[] {Double.NaN, 1}, 1, 1)).isEqualTo(1);
        assertThat(Sums.of(new double[] {Double.NaN, 1}, 0, 2)).isNaN();
    }

    /** Through four points there is one cubic: any cubic comes back, at the points and between and beside them. */
    @Test
    void aCubicComesBack() {
        for (double u : new double[] {-1, -0.5, 0, 0.25, 0.5, 1, 2}) {
            assertThat(Cubic.at(cubic(-1), cubic(0), cubic(1), cubic(2), u)).isCloseTo(cubic(u), within(1e-13));
        }
    }

    private static double cubic(double x) {
        return 0.3 - 1.2 * x + 0.7 * x * x - 2.1 * x * x * x;
    }

    @Test
    void argumentsAreNamedWithTheirRange() {
        assertThat(Require.inRange("gain", 2, 2, 3)).isEqualTo(2);
        assertThat(Require.inRange("gain", 3, 2, 3)).isEqualTo(3);
        for (double value : new double[] {1.999, 3.001, Double.NaN}) {
            assertThatThrownBy(() -> Require.inRange("gain", value, 2, 3))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("gain " + value + " is not in [2.0, 3.0]");
        }
        assertThat(Require.positive("rate", 0.1)).isEqualTo(0.1);
        for (double value : new double[] {0, -1, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> Require.positive("rate", value))
                    .hasMessage("rate " + value + " is not in (0, infinity)");
        }
        assertThat(Require.notNegative("time", 0)).isZero();
        assertThat(Require.notNegative("time", 2)).isEqualTo(2);
        for (double value : new double[] {-1, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> Require.notNegative("time", value))
                    .hasMessage("time " + value + " is not in [0, infinity)");
        }
        assertThat(Require.finite("level", -3)).isEqualTo(-3);
        for (double value : new double[] {Double.NaN, Double.NEGATIVE_INFINITY}) {
            assertThatThrownBy(() -> Require.finite("level", value)).hasMessage("level " + value + " is not finite");
        }
    }

    /** What a splitter of two channels handed on: index of the frame's first sample, then both channels. */
    private static final class Frames implements FrameSplitter.Analysis {
        final List<double[]> seen = new ArrayList<>();

        @Override
        public void frame(double[][] samples, long first) {
            double[] all = new double[1 + samples.length * samples[0].length];
            all[0] = first;
            for (int c = 0; c < samples.length; c++) {
                System.arraycopy(samples[c], 0, all, 1 + c * samples[0].length, samples[0].length);
            }
            seen.add(all);
        }
    }

    private static double[] ramp(int length, double from) {
        double[] ramp = new double[length];
        Arrays.setAll(ramp, i -> from + i);
        return ramp;
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 5, 23})
    void framesDoNotDependOnTheBlocks(int block) {
        double[] first = ramp(23, 0);
        double[] second = ramp(23, 100);
        float[] interleaved = new float[46];
        for (int i = 0; i < 23; i++) {
            interleaved[2 * i] = (float) first[i];
            interleaved[2 * i + 1] = (float) second[i];
        }
        Frames one = new Frames();
        Frames two = new Frames();
        Frames three = new Frames();
        FrameSplitter mono = new FrameSplitter(1, 6, 4, one);
        FrameSplitter stereo = new FrameSplitter(2, 6, 4, two);
        FrameSplitter strided = new FrameSplitter(2, 6, 4, three);
        for (int at = 0; at < 23; at += block) {
            int part = Math.min(block, 23 - at);
            mono.accept(first, at, part);
            stereo.accept(first, second, at, part);
            strided.accept(interleaved, 2 * at, 2, part);
        }
        // Frames from 0, 4, 8, 12 and 16 on; that from 20 on is not full.
        assertThat(one.seen).hasSize(5);
        assertThat(two.seen).hasSize(5);
        assertThat(three.seen).hasSize(5);
        for (int f = 0; f < 5; f++) {
            double at = 4 * f;
            assertThat(one.seen.get(f)).containsExactly(at, at, at + 1, at + 2, at + 3, at + 4, at + 5);
            assertThat(two.seen.get(f))
                    .containsExactly(
                            at, at, at + 1, at + 2, at + 3, at + 4, at + 5, at + 100, at + 101, at + 102, at + 103,
                            at + 104, at + 105);
            assertThat(three.seen.get(f)).isEqualTo(two.seen.get(f));
        }
        assertThat(mono.received()).isEqualTo(23);
        assertThat(mono.finite()).isTrue();
    }

    @Test
    void aGapBeginsANewFrameAndAResetANewStream() {
        Frames frames = new Frames();
        FrameSplitter splitter = new FrameSplitter(1, 4, 4, frames);
        splitter.accept(ramp(3, 0), 0, 3);
        splitter.gap();
        splitter.accept(ramp(4, 10), 0, 4);
        assertThat(frames.seen).hasSize(1);
        assertThat(frames.seen.get(0)).containsExactly(3, 10, 11, 12, 13); // counted on
        splitter.accept(new double[] {1, Double.NaN, 2, 3}, 0, 4);
        assertThat(splitter.finite()).isFalse();
        splitter.accept(ramp(4, 20), 0, 4);
        assertThat(frames.seen).hasSize(1); // nothing after what is no number
        assertThat(splitter.received()).isEqualTo(15); // but it is counted
        splitter.accept(ramp(2, 0), 0, 2);
        splitter.reset();
        assertThat(splitter.received()).isZero();
        assertThat(splitter.finite()).isTrue();
        splitter.accept(ramp(4, 30), 0, 4);
        assertThat(frames.seen).hasSize(2);
        assertThat(frames.seen.get(1)).containsExactly(0, 30, 31, 32, 33);
    }

    @Test
    void blocksThatDoNotFitAreRefused() {
        FrameSplitter splitter = new FrameSplitter(2, 4, 4, (samples, first) -> {});
        assertThatThrownBy(() -> splitter.accept(new double[3], 1, 3)).isInstanceOf(IndexOutOfBoundsException.class);
        assertThatThrownBy(() -> splitter.accept(new double[4], new double[3], 0, 4))
                .isInstanceOf(IndexOutOfBoundsException.class);
        // Two frames of three channels, of which the first two are taken, need five samples.
        assertThatThrownBy(() -> splitter.accept(new float[4], 0, 3, 2)).isInstanceOf(IndexOutOfBoundsException.class);
        splitter.accept(new float[5], 0, 3, 2);
        assertThat(splitter.received()).isEqualTo(2);
        splitter.accept(new float[0], 0, 3, 0); // nothing
        assertThat(splitter.received()).isEqualTo(2);
    }
}
