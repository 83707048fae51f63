/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

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
