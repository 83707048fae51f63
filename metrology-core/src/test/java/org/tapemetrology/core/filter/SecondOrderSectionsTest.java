/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The running filter: difference equation, preset, flush, blocks. */
class SecondOrderSectionsTest {
    private static final double RATE = 4000;

    /** The difference equation y0 = b0 x0 + b1 x1 + b2 x2 - a1 y1 - a2 y2, section after section, written out. */
    @Test
    void outputFollowsTheDifferenceEquation() {
        SecondOrderSections filter = Butterworth.band(4, 0.075, 270, RATE);
        double[] signal = noise(3000);
        double[] out = new double[signal.length];
        filter.process(signal, 0, out, 0, signal.length);

        double[] expected = signal.clone();
        double[] c = filter.coefficients();
        for (int s = 0; s < c.length; s += 5) {
            double[] y = new double[expected.length];
            for (int i = 0; i < y.length; i++) {
                y[i] = c[s] * expected[i]
                        + (i > 0 ? c[s + 1] * expected[i - 1] - c[s + 3] * y[i - 1] : 0)
                        + (i > 1 ? c[s + 2] * expected[i - 2] - c[s + 4] * y[i - 2] : 0);
            }
            expected = y;
        }
        // Direct form I against II: both round at 1e-16, which poles 1e-4 from z = 1 raise by up to 1e4 squared.
        for (int i = 0; i < out.length; i++) {
            assertThat(out[i]).isCloseTo(expected[i], within(1e-8));
        }
    }

    /** Sections run in fours, pairs and alone: every number of them does what they do one after the other. */
    @ParameterizedTest
    @ValueSource(ints = {2, 4, 6, 8, 10, 12})
    void sectionsTogetherAreSectionsOneAfterTheOther(int order) {
        SecondOrderSections filter = Butterworth.lowPass(order, 470, RATE);
        double[] signal = noise(3000);
        double[] out = new double[signal.length];
        for (int at = 0; at < signal.length; at += 120) {
            filter.process(signal, at, out, at, 120);
        }
        double[] c = filter.coefficients();
        assertThat(c).hasSize(5 * order / 2);
        double[] expected = signal.clone();
        double gain = 1;
        for (int s = 0; s < c.length; s += 5) {
            double s1 = 0;
            double s2 = 0;
            for (int i = 0; i < expected.length; i++) {
                double x = expected[i];
                expected[i] = x + s1;
                double next = (c[s + 1] / c[s] - c[s + 3]) * x + s2 - c[s + 3] * s1;
                s2 = (c[s + 2] / c[s] - c[s + 4]) * x - c[s + 4] * s1;
                s1 = next;
            }
            gain *= c[s];
        }
        for (int i = 0; i < expected.length; i++) {
            expected[i] *= gain;
        }
        assertThat(out).isEqualTo(expected);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 1, -37.5})
    void aPresetMakesNoTransient(double constant) {
        SecondOrderSections high = Butterworth.highPass(4, 0.075, RATE);
        SecondOrderSections low = Butterworth.lowPass(4, 270, RATE);
        high.presetTo(constant);
        low.presetTo(constant);
        double[] in = new double[20_000];
        Arrays.fill(in, constant);
        double[] out = new double[in.length];
        high.process(in, 0, out, 0, in.length);
        // 1e-6 of the constant: rounding that poles 1e-4 from z = 1 have raised.
        assertThat(largest(out, 0)).isLessThanOrEqualTo(1e-6 * Math.abs(constant));
        low.process(in, 0, out, 0, in.length);
        assertThat(largest(out, constant)).isLessThanOrEqualTo(1e-12 * Math.abs(constant));
    }

    /** Negative control: without the preset the same filter rings for seconds. */
    @Test
    void withoutAPresetThereIsATransient() {
        SecondOrderSections high = Butterworth.highPass(4, 0.075, RATE);
        double[] in = new double[20_000];
        Arrays.fill(in, 1);
        high.process(in, 0, in, 0, in.length);
        assertThat(largest(in, 0)).isGreaterThan(0.9);
    }

    /** Silence after sound leaves nothing behind: no subnormal number that would slow the processor down. */
    @Test
    void stateThatDiesAwayIsFlushed() {
        SecondOrderSections filter = Butterworth.lowPass(2, 100, RATE);
        double[] block = new double[1000];
        block[0] = 1;
        filter.process(block, 0, block, 0, block.length);
        // Poles at 2 pi 70/4000 = 0.11 from the circle: 1e-30 is reached within 700 samples, 1e-308 within 6500.
        boolean subnormal = false;
        double[] out = new double[block.length];
        Arrays.fill(block, 0);
        for (int i = 0; i < 20; i++) {
            filter.process(block, 0, out, 0, out.length);
            for (double y : out) {
                subnormal |= y != 0 && Math.abs(y) < Double.MIN_NORMAL;
            }
        }
        assertThat(subnormal).isFalse();
        assertThat(largest(out, 0)).isZero();
    }

    /** Negative control: the same recursion without a flush does come to subnormal numbers. */
    @Test
    void withoutAFlushSubnormalNumbersAppear() {
        double[] c = Butterworth.lowPass(2, 100, RATE).coefficients();
        double s1 = c[1] - c[3] * c[0];
        double s2 = c[2] - c[4] * c[0];
        boolean subnormal = false;
        for (int i = 0; i < 20_000; i++) {
            double y = s1;
            s1 = s2 - c[3] * y;
            s2 = -c[4] * y;
            subnormal |= y != 0 && Math.abs(y) < Double.MIN_NORMAL;
        }
        assertThat(subnormal).isTrue();
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 480, 4096})
    void anyBlockGivesTheSameBitsAlsoAfterAReset(int block) {
        double[] in = noise(9001);
        Arrays.fill(in, 3000, 8000, 0); // long enough to be flushed in
        double[] whole = new double[in.length];
        Butterworth.lowPass(4, 100, RATE).process(in, 0, whole, 0, in.length);
        SecondOrderSections filter = Butterworth.lowPass(4, 100, RATE);
        for (int pass = 0; pass < 2; pass++) {
            double[] out = in.clone();
            for (int at = 0; at < in.length; at += block) {
                filter.process(out, at, out, at, Math.min(block, in.length - at)); // in place
            }
            assertThat(out).containsExactly(whole);
            filter.reset();
        }
    }

    @Test
    void aNonFiniteSampleStaysUntilReset() {
        SecondOrderSections filter = Butterworth.lowPass(2, 100, RATE);
        double[] block = new double[3000];
        block[0] = Double.NaN;
        filter.process(block, 0, block, 0, block.length);
        assertThat(block[2999]).isNaN();
        filter.reset();
        Arrays.fill(block, 1);
        filter.process(block, 0, block, 0, block.length);
        assertThat(block[2999]).isCloseTo(1, within(1e-12));
    }

    /** The bilinear transform moves f to (fs/pi) tan(pi f/fs): the response there is that of the prototype. */
    @Test
    void aBilinearFilterIsThePrototypeAtTheWarpedFrequency() {
        AnalogFilter prototype = new AnalogFilter(
                4,
                List.of(Root.real(0), Root.real(-5)),
                List.of(Root.pair(-0.3, 0.29), Root.real(-12), Root.real(-120)));
        SecondOrderSections filter = prototype.bilinear(RATE);
        double reference = RATE / Math.PI * Math.tan(Math.PI * 4 / RATE);
        for (double f : new double[] {0.05, 0.3, 1, 4, 20, 200, 900, 1700}) {
            double warped = RATE / Math.PI * Math.tan(Math.PI * f / RATE);
            double expected = prototype.magnitude(warped) / prototype.magnitude(reference);
            assertThat(filter.magnitude(f)).as(f + " Hz").isCloseTo(expected, within(1e-7 * expected));
        }
        assertThat(prototype.magnitude(4)).isCloseTo(1, within(1e-15));
    }

    @Test
    void wrongPrototypesAreNamed() {
        assertThatThrownBy(() -> new AnalogFilter(-1, List.of(), List.of(Root.real(-1))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("referenceHz -1.0");
        assertThatThrownBy(() -> new AnalogFilter(4, List.of(), List.of(Root.real(0.5))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("left half plane");
        assertThatThrownBy(() -> new AnalogFilter(4, List.of(Root.real(0), Root.real(0)), List.of(Root.real(-1))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("2 zeros are more than the 1 poles");
        assertThatThrownBy(() -> Root.pair(-1, 0)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> Butterworth.lowPass(2, 100, 4000).then(Butterworth.lowPass(2, 100, 8000)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("4000.0 Hz and 8000.0 Hz");
        AnalogFilter prototype = new AnalogFilter(4, List.of(), List.of(Root.real(-1)));
        assertThatThrownBy(() -> prototype.bilinear(8))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("sampleRateHz 8.0");
    }

    private static double largest(double[] values, double re) {
        return Arrays.stream(values).map(x -> Math.abs(x - re)).max().orElseThrow();
    }

    private static double[] noise(int length) {
        return new SplittableRandom(8).doubles(length, -1, 1).toArray();
    }

    /** Two filters in a row have up to a dozen sections, of which each four run together. */
    @ParameterizedTest
    @ValueSource(ints = {5, 6, 9, 11, 12})
    void manySectionsAreSectionsOneAfterTheOther(int order) {
        SecondOrderSections filter = Butterworth.band(order, 20, 470, RATE);
        double[] signal = noise(2000);
        double[] out = new double[signal.length + 4];
        filter.process(signal, 0, out, 4, 1500);
        filter.process(signal, 1500, out, 1504, 500);
        double[] high = new double[signal.length];
        Butterworth.highPass(order, 20, RATE).process(signal, 0, high, 0, signal.length);
        Butterworth.lowPass(order, 470, RATE).process(high, 0, high, 0, signal.length);
        for (int i = 0; i < signal.length; i++) {
            // Sections that run together round in another order: some 1e-16 of values below 1, for each of a dozen.
            assertThat(out[4 + i]).isCloseTo(high[i], within(1e-13));
        }
    }

    @Test
    void prototypesKeepTheirLimits() {
        List<Root> pole = List.of(Root.real(-1));
        assertThatThrownBy(() -> new AnalogFilter(Double.POSITIVE_INFINITY, List.of(), pole))
                .hasMessageContaining("referenceHz Infinity");
        assertThat(new AnalogFilter(0, List.of(), pole).magnitude(1)).isCloseTo(Math.sqrt(0.5), within(1e-15));
        assertThat(new AnalogFilter(1, List.of(Root.real(0)), pole).magnitude(1))
                .isCloseTo(1, within(1e-15));
        assertThatThrownBy(() -> new AnalogFilter(4, List.of(), List.of(Root.real(0))))
                .hasMessageContaining("left half plane");
        AnalogFilter low = new AnalogFilter(1000, List.of(), List.of(Root.real(-100)));
        assertThatThrownBy(() -> new MatchedFilter(low, 2000)).hasMessageContaining("sampleRateHz 2000.0");
    }
}
