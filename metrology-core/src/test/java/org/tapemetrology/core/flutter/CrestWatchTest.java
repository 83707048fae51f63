/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Crests cut off where a period has some three to eight samples, so that no three in a row stand on one. */
class CrestWatchTest {
    private static final int RATE = 8000;
    private static final int BLOCK = 320;

    /** A 16-bit sine of whole or cut off crests; where both ends are cut, at one end, and not at all. */
    @ParameterizedTest(name = "{0} Hz, limits {1} and {2} of an amplitude of {3}")
    @CsvSource({
        "1003, 0.45, -0.45, 0.6, true",
        "1003, 0.45, -1, 0.6, true",
        "2503, 0.8, -0.8, 0.9, true",
        "2503, 1, -1, 1.3, true",
        "1003, 1, -1, 0.6, false",
        "2503, 1, -1, 0.9, false",
        "1000, 1, -1, 0.6, false"
    })
    void tellsCutCrestsFromWholeOnes(double hz, double highest, double lowest, double amplitude, boolean cut) {
        CrestWatch watch = new CrestWatch(RATE);
        watch.watchTone(hz);
        float[] block = new float[BLOCK];
        for (int b = 0; b < 50; b++) {
            for (int i = 0; i < BLOCK; i++) {
                double x = amplitude * Math.sin(2 * Math.PI * hz * (b * (double) BLOCK + i) / RATE);
                double limited = Math.max(lowest, Math.min(highest, x));
                block[i] = (float) (Math.rint(limited * 32767) / 32767);
            }
            watch.accept(block, 0, BLOCK);
        }
        assertThat(watch.cutOff(0.01)).isEqualTo(cut);
        watch.watchTone(hz);
        assertThat(watch.cutOff(0.01)).isFalse();
    }

    /**
     * Where a period has a whole number of samples, two of them may stand beside each crest of a whole sine, and dither (triangular,
     * of one step) lets them differ: those before come from two places of the wave only.
     */
    @ParameterizedTest(name = "{1} Hz at {0}, {2} bits")
    @CsvSource({
        "44100, 3150, 8",
        "44100, 3150, 16",
        "44100, 3150, 24",
        "44100, 1050, 16",
        "44100, 1050, 24",
        "16000, 3200, 16",
        "48000, 3000, 16",
        "48000, 200, 24",
        "44100, 100, 24"
    })
    void aWholePeriodOfSamplesIsNoLimit(int rate, double hz, int bits) {
        CrestWatch watch = new CrestWatch(rate);
        watch.watchTone(1.001 * hz);
        double full = Math.scalb(1.0, bits - 1);
        feed(watch, rate, full, t -> 0.4 * Math.sin(2 * Math.PI * hz * t));
        assertThat(watch.cutOff(0.01)).isFalse();
    }

    /**
     * Two periods of 3200 Hz have five samples at 8000 Hz. Flutter of 0.15 % at 10 Hz moves them along the wave, so that a limit shows
     * by the slope; on a steady tone, 0.1 Hz or 0.3 Hz away, by samples that stand where the fundamental does not. Hiss is a thousandth
     * of the tone.
     */
    @ParameterizedTest(name = "{0} Hz, flutter of {1}")
    @CsvSource({"3199.9, 0.0015", "3199.9, 0", "3200.3, 0", "1600.2, 0"})
    void aLimitIsToldWhereAFewPeriodsHaveAWholeNumberOfSamples(double hz, double flutter) {
        for (double limit : new double[] {0.7, 2}) {
            CrestWatch watch = new CrestWatch(RATE);
            watch.watchTone(1.0007 * hz);
            Random hiss = new Random(7);
            feed(watch, RATE, 32768, t -> {
                double phase = 2 * Math.PI * hz * t + flutter * hz / 10 * Math.sin(2 * Math.PI * 10 * t);
                double x = Math.cos(phase) - 0.25 + 0.001 * hiss.nextGaussian();
                return 0.5 * Math.max(-limit, Math.min(limit, x));
            });
            assertThat(watch.cutOff(0.01)).isEqualTo(limit < 1);
        }
    }

    private static final float[] QUIET = new float[BLOCK];

    /** At full scale 5 % of 20 ms, 8 of 160 samples, may stand, at either end. */
    @ParameterizedTest
    @ValueSource(floats = {1, -1})
    void fullScaleNeedsNoTone(float limit) {
        for (int standing = 8; standing <= 9; standing++) {
            float[] block = new float[BLOCK];
            Random random = new Random(3);
            for (int i = 0; i < BLOCK; i++) {
                block[i] = random.nextFloat() - 0.5f;
            }
            for (int i = 0; i < standing; i++) {
                block[17 * i] = limit;
            }
            CrestWatch watch = new CrestWatch(RATE);
            for (int b = 0; b < 3; b++) {
                watch.accept(block, 0, BLOCK);
            }
            assertThat(watch.cutOff(0.01)).as("%d samples", standing).isEqualTo(standing > 8);
        }
    }

    /** The first, the third and so on; more than one look must find something, and more than a share of them. */
    @Test
    void everySecondBlockIsLookedAt() {
        float[] full = new float[BLOCK];
        Arrays.fill(full, 0, 100, 1);
        CrestWatch even = new CrestWatch(RATE);
        CrestWatch odd = new CrestWatch(RATE);
        for (int b = 0; b < 4; b++) {
            even.accept(b % 2 == 0 ? full : QUIET, 0, BLOCK);
            odd.accept(b % 2 == 1 ? full : QUIET, 0, BLOCK);
            assertThat(even.cutOff(0)).isEqualTo(b >= 2);
        }
        assertThat(odd.cutOff(0)).isFalse();
        for (int b = 0; b < 4; b++) {
            even.accept(QUIET, 0, BLOCK);
        }
        assertThat(even.cutOff(0.49)).isTrue(); // two of four looks
        assertThat(even.cutOff(0.5)).isFalse();
    }

    /** Twenty milliseconds of a block are looked at. */
    @Test
    void theEndOfABlockIsNotLookedAt() {
        CrestWatch watch = new CrestWatch(RATE);
        float[] late = new float[BLOCK];
        Arrays.fill(late, RATE / 50, BLOCK, 1);
        for (int b = 0; b < 9; b++) {
            watch.accept(late, 0, BLOCK);
        }
        assertThat(watch.cutOff(0)).isFalse();
    }

    /** A constant, and what is not finite, have no crests. */
    @ParameterizedTest
    @ValueSource(floats = {0, 0.5f, Float.POSITIVE_INFINITY, Float.NaN})
    void whatHasNoAmplitudeHasNoCrest(float value) {
        CrestWatch watch = new CrestWatch(RATE);
        watch.watchTone(1000);
        float[] block = new float[BLOCK];
        Arrays.fill(block, value);
        for (int b = 0; b < 9; b++) {
            watch.accept(block, 0, BLOCK);
        }
        assertThat(watch.cutOff(0)).isFalse();
    }

    /** Of a tone below 150 Hz 40 ms have too few periods, and the samples before those at the limit tell alone. */
    @Test
    void aLimitOfALowToneIsToldByTheSamplesBefore() {
        CrestWatch watch = new CrestWatch(RATE);
        watch.watchTone(100);
        feed(watch, RATE, 32768, t -> Math.max(-0.3, Math.min(0.3, 0.4 * Math.sin(2 * Math.PI * 100.3 * t))));
        assertThat(watch.cutOff(0.01)).isTrue();
    }

    /**
     * Eight bits with triangular dither hide a flat top from single samples, also where 3.5 samples a period leave few between
     * one crest and the next. The limits are 1.0 to 1.3 dB below the crest, and one is far below.
     */
    @ParameterizedTest(name = "{1} Hz at {0}, limit {2} of an amplitude of {3}")
    @CsvSource({
        "16000, 2943.32, 0.37, 0.427",
        "8000, 3150.06, 0.3, 0.343",
        "11025, 3066.75, 0.202, 0.2265",
        "48000, 3000, 0.3, 0.343",
        "48000, 315, 0.3, 0.343",
        "44100, 3150, 0.35, 0.7"
    })
    void ditherHidesNoFlatTop(int rate, double hz, double limit, double amplitude) {
        assertThat(dithered(rate, hz, limit, amplitude, 0, 0, 0, 0).cutOff(0.01))
                .isTrue();
    }

    /**
     * A tape driven to its greatest level flattens the crest too, by a third harmonic of 3 % (common practice, no source), and
     * has that level; so has twice as much distortion. Nor does it matter where a few samples a period stand on a whole sine, how
     * many steps it has, that its phase moves by a quarter radian at 63 Hz, or that another tone is added.
     */
    @ParameterizedTest(name = "{1} Hz at {0}, amplitude {2}, third harmonic {3}, {4} rad, other of {5} Hz, {6}")
    @CsvSource({
        "16000, 2943.32, 0.427, 0, 0, 0, 0",
        "16000, 1003, 0.2, 0, 0, 0, 0",
        "16000, 1000, 0.05, 0, 0, 0, 0",
        "8000, 3150.06, 0.343, -0.03, 0, 0, 0",
        "8000, 3150.06, 0.343, -0.06, 0, 0, 0",
        "8000, 3150.06, 0.343, 0.06, 0, 0, 0",
        "11025, 3150.06, 0.35, -0.06, 0, 0, 0",
        "8000, 3000, 0.7, -0.04, 0, 0, 0",
        "8000, 2000, 0.7, -0.04, 0, 0, 0",
        "12000, 3050, 0.3, 0, 0, 0, 0",
        "48000, 3000, 0.343, -0.06, 0, 0, 0",
        "11025, 3152.7, 0.45, 0, 0.25, 0, 0",
        "48000, 3000, 0.343, 0, 0, 50, 0.1",
        "8000, 2990, 0.6, 0, 0, 1058, 0.25",
        "48000, 60, 0.343, 0, 0, 0, 0"
    })
    void aRoundedCrestIsWhole(
            int rate, double hz, double amplitude, double third, double turn, double otherHz, double other) {
        assertThat(dithered(rate, hz, 1, amplitude, third, turn, otherHz, other).cutOff(0.01))
                .isFalse();
    }

    /** A watch that has had 4 s of 8 bits with dither, whose tone was found at a frequency a little beside the true one. */
    private static CrestWatch dithered(
            int rate,
            double hz,
            double limit,
            double amplitude,
            double third,
            double turn,
            double otherHz,
            double other) {
        CrestWatch watch = new CrestWatch(rate);
        watch.watchTone(1.004 * hz);
        feed(watch, rate, 128, seconds -> {
            double t = 2 * Math.PI * seconds;
            double phase = hz * t + turn * Math.sin(63 * t);
            double x = amplitude * (Math.cos(phase) + third * Math.cos(3 * phase) + other * Math.sin(otherHz * t));
            return Math.max(-limit, Math.min(limit, x));
        });
        return watch;
    }

    /** Four seconds with triangular dither of one step, of which there are so many up to full scale. */
    private static void feed(CrestWatch watch, int rate, double full, DoubleUnaryOperator signal) {
        Random random = new Random(5);
        float[] block = new float[rate / 25];
        for (int b = 0; b < 100; b++) {
            for (int i = 0; i < block.length; i++) {
                double x = signal.applyAsDouble((b * (double) block.length + i) / rate);
                double dither = random.nextDouble();
                dither -= random.nextDouble();
                block[i] = (float) (Math.rint(x * full + dither) / full);
            }
            watch.accept(block, 0, block.length);
        }
    }
}
