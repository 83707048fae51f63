/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.AllocatedBytes;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/**
 * Two tones through a memoryless law y = x + q x^2 + c x^3, whose products follow from the addition theorems: with tones of
 * amplitudes a (lower) and b (upper)
 *
 * <ul>
 *   <li>2nd order, at f2 - f1 and f2 + f1: amplitude q a b,
 *   <li>3rd order, at f2 - 2 f1 and f2 + 2 f1: 3/4 c a^2 b; at 2 f1 - f2 the same; at 2 f2 - f1: 3/4 c a b^2,
 *   <li>upper tone: b (1 + 3/4 c (b^2 + 2 a^2)).
 * </ul>
 *
 * The definitions are those of IEC 60268-3 (memory).
 */
class TwoToneDistortionMeterTest {
    private static final double TURN = 2 * Math.PI;

    private static double steady(double t) {
        return t;
    }

    /** Components whose sum exceeds 0.3 % of weighted flutter: slow wow, capstan, idler, motor. */
    private static double severalFlutters(double t) {
        double[][] parts = {{0.55, 0.004}, {4.3, 0.002}, {11.7, 0.002}, {27, 0.002}, {61, 0.001}};
        double passed = t;
        for (double[] part : parts) {
            passed -= part[1] / (TURN * part[0]) * StrictMath.cos(TURN * part[0] * t + part[0]);
        }
        return passed;
    }

    private record Law(double q, double c) {}

    private static double[] replay(
            double rate, double seconds, double[] hz, double[] amplitudes, Law law, DoubleUnaryOperator passed) {
        double[] y = new double[(int) (rate * seconds)];
        for (int i = 0; i < y.length; i++) {
            double t = passed.applyAsDouble(i / rate);
            double x = amplitudes[0] * StrictMath.cos(TURN * hz[0] * t)
                    + amplitudes[1] * StrictMath.cos(TURN * hz[1] * t + 0.7);
            y[i] = x + law.q() * x * x + law.c() * x * x * x;
        }
        return y;
    }

    private static Reading read(double rate, double[] y) {
        TwoToneDistortionMeter meter = new TwoToneDistortionMeter(rate);
        meter.accept(y, 0, y.length);
        assertThat(meter.readings()).hasSize(1);
        return meter.readings().get(0);
    }

    /**
     * The law makes third-order products within the upper tone too, which the closed form has. 1 % of the value, as asked
     * of harmonic distortion; 2 % at 0.01 %, where the tracker's leakage of 1e-6 is 1 % of the product.
     */
    @ParameterizedTest
    @CsvSource({
        "48000, 250, 8000",
        "44100, 250, 8000",
        "96000, 250, 8000",
        "48000, 60, 7000",
        "48000, 400, 4000",
    })
    void modulationDistortion(double rate, double low, double high) {
        double a = 0.4;
        double b = 0.1;
        for (double percent : new double[] {0.01, 0.1, 1, 10}) {
            // Half of the power in each order: 2 q a = 3/2 c a^2 = percent / 100 / sqrt 2.
            double each = percent / 100 / Math.sqrt(2);
            Law law = new Law(each / (2 * a), each / (1.5 * a * a));
            double upper = 1 + 0.75 * law.c() * (b * b + 2 * a * a);
            double expected = 100 * Math.hypot(2 * law.q() * a, 1.5 * law.c() * a * a) / upper;
            for (DoubleUnaryOperator passed : List.<DoubleUnaryOperator>of(
                    TwoToneDistortionMeterTest::steady,
                    t -> 1.05 * t,
                    t -> 0.95 * t,
                    TwoToneDistortionMeterTest::severalFlutters)) {
                Reading reading =
                        read(rate, replay(rate, 4, new double[] {low, high}, new double[] {a, b}, law, passed));
                assertThat(reading.quantity()).isEqualTo(Quantity.DISTORTION_MODULATION);
                assertThat(reading.value().orElseThrow())
                        .as("%s %% at %s and %s Hz", percent, low, high)
                        .isCloseTo(expected, within((percent < 0.05 ? 0.02 : 0.01) * expected));
            }
        }
    }

    /** As above. The tones are such that no product of the law folds onto one that is read. */
    @ParameterizedTest
    @CsvSource({
        "48000, 11000, 11700",
        "44100, 9000, 9700",
        "96000, 11000, 12000",
        "96000, 14000, 15000",
        "48000, 3000, 3300"
    })
    void differenceFrequencyDistortion(double rate, double low, double high) {
        double a = 0.25;
        for (double percent : new double[] {0.01, 0.1, 1, 10}) {
            double each = percent / 100 / Math.sqrt(3);
            Law law = new Law(2 * each / a, 8 * each / (3 * a * a));
            double upper = a * (1 + 0.75 * law.c() * 3 * a * a);
            double third = 0.75 * law.c() * a * a * a;
            double expected = 100 * Math.sqrt(law.q() * law.q() * a * a * a * a + 2 * third * third) / (2 * upper);
            for (DoubleUnaryOperator passed : List.<DoubleUnaryOperator>of(
                    TwoToneDistortionMeterTest::steady,
                    t -> 1.05 * t,
                    t -> 0.95 * t,
                    TwoToneDistortionMeterTest::severalFlutters)) {
                Reading reading =
                        read(rate, replay(rate, 4, new double[] {low, high}, new double[] {a, a}, law, passed));
                assertThat(reading.quantity()).isEqualTo(Quantity.DISTORTION_DIFFERENCE_FREQUENCY);
                assertThat(reading.value().orElseThrow())
                        .as("%s %% at %s and %s Hz", percent, low, high)
                        .isCloseTo(expected, within((percent < 0.05 ? 0.02 : 0.01) * expected));
            }
        }
    }

    /** Negative control: side bands of flutter, some per cent of the tone, are no distortion. */
    @Test
    void flutterIsNoDistortion() {
        Law none = new Law(0, 0);
        for (double[] hz : new double[][] {{250, 8000}, {60, 7000}, {11000, 12000}}) {
            double[] y =
                    replay(48000, 4, hz, new double[] {0.3, 0.2}, none, TwoToneDistortionMeterTest::severalFlutters);
            assertThat(read(48000, y).value().orElseThrow()).as("%s Hz", hz[0]).isLessThan(0.005);
        }
    }

    /** Noise of -60 dB re the tones: the figure of 1 % stays within its own uncertainty, of 5 % of it at most. */
    @Test
    void noiseAddsNoBias() {
        Random random = new Random(4);
        double a = 0.25;
        double sum = 0;
        int trials = 12;
        Law law = new Law(0.04, 0);
        double expected = 100 * law.q() * a * a / (2 * a);
        for (int trial = 0; trial < trials; trial++) {
            double[] y = replay(
                    48000,
                    4,
                    new double[] {11000, 12000},
                    new double[] {a, a},
                    law,
                    TwoToneDistortionMeterTest::steady);
            for (int i = 0; i < y.length; i++) {
                y[i] += 3e-4 * random.nextGaussian();
            }
            Reading reading = read(48000, y);
            assertThat(reading.uncertainty().orElseThrow().halfWidth()).isLessThan(0.05 * expected);
            sum += reading.value().orElseThrow();
        }
        assertThat(sum / trials).isCloseTo(expected, within(0.01 * expected));
    }

    @Test
    void oneToneSilenceNoiseAndShortOnesGiveNoFigure() {
        double[] one = replay(
                48000,
                3,
                new double[] {1000, 8000},
                new double[] {0.3, 0},
                new Law(0, 0),
                TwoToneDistortionMeterTest::steady);
        assertNone(one, Status.NO_CARRIER);
        assertNone(new double[3 * 48000], Status.NO_CARRIER);
        Random random = new Random(1);
        assertNone(random.doubles(3 * 48000, -0.1, 0.1).toArray(), Status.NO_CARRIER);
        assertNone(new double[100], Status.INSUFFICIENT_DATA);
        double[] broken = new double[3 * 48000];
        broken[1000] = Double.NaN;
        assertNone(broken, Status.INVALID_INPUT);
        assertThatThrownBy(() -> new TwoToneDistortionMeter(7000)).hasMessageContaining("sampleRateHz");
    }

    private static void assertNone(double[] y, Status status) {
        TwoToneDistortionMeter meter = new TwoToneDistortionMeter(48000);
        meter.accept(y, 0, y.length);
        assertThat(meter.readings()).hasSize(2).allMatch(reading -> reading.status() == status);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 480, 4096})
    void blocksDoNotMatterAndAResetIsLikeNew(int block) {
        double[] y = replay(
                44100,
                2.5,
                new double[] {250, 8000},
                new double[] {0.4, 0.1},
                new Law(0.01, 0.01),
                TwoToneDistortionMeterTest::steady);
        List<Reading> whole = List.of(read(44100, y));
        TwoToneDistortionMeter meter = new TwoToneDistortionMeter(44100);
        meter.accept(new double[] {1, 2, Double.NaN}, 0, 3);
        meter.reset();
        for (int at = 0; at < y.length; at += block) {
            meter.accept(y, at, Math.min(block, y.length - at));
        }
        assertThat(meter.readings()).isEqualTo(whole);
    }

    @Test
    void aBlockAllocatesNothing() {
        double[] y = replay(
                48000,
                4,
                new double[] {250, 8000},
                new double[] {0.4, 0.1},
                new Law(0.01, 0.01),
                TwoToneDistortionMeterTest::steady);
        TwoToneDistortionMeter meter = new TwoToneDistortionMeter(48000);
        for (int warm = 0; warm < 3; warm++) {
            meter.accept(y, 0, y.length);
        }
        assertThat(AllocatedBytes.leastOf(4, round -> meter.accept(y, 0, y.length)))
                .isZero();
    }
}
