/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
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

    /** Eight bits with triangular dither put a flat top on three steps; half a decibel of it is seen, and a whole sine is none. */
    @ParameterizedTest(name = "{0} Hz, limit {1} of an amplitude of {2}")
    @CsvSource({"2943.32, 0.37, 0.427, true", "2943.32, 1, 0.427, false", "1003, 1, 0.2, false", "1000, 1, 0.05, false"
    })
    void ditherHidesNoFlatTop(double hz, double limit, double amplitude, boolean cut) {
        tellsUnderDither(16_000, hz, limit, amplitude, 0, cut);
    }

    /**
     * Where a limit at 0.89 of the amplitude is hidden from single samples, the whole wave is flat. A tape that is driven to a third
     * harmonic of 3 %, which is common practice for its greatest level, has its level, and so has a tone that steps of 8 bits fit
     * in any way; with four samples a period the fourth power tells nothing.
     */
    @ParameterizedTest(name = "{0} Hz, {1} Hz, limit {2} of an amplitude of {3}, third harmonic {4}")
    @CsvSource({
        "8000, 3150.3, 0.308, 0.346, 0, true",
        "8000, 3150, 0.308, 0.346, 0, true",
        "11025, 3066.75, 0.2, 0.2265, 0, true",
        "11025, 3066.75, 1, 0.2265, 0, false",
        "8000, 3150.3, 1, 0.346, 0.03, false",
        "8000, 3150.3, 1, 0.346, 0.05, true",
        "16000, 3200, 1, 0.346, 0, false",
        "8000, 3000, 1, 0.17, 0, false",
        "16000, 4000, 1, 0.3, 0, false",
        "12000, 3050, 1, 0.3, 0, false"
    })
    void ditherHidesNoFlatWave(int rate, double hz, double limit, double amplitude, double third, boolean cut) {
        tellsUnderDither(rate, hz, limit, amplitude, third, cut);
    }

    private static void tellsUnderDither(
            int rate, double hz, double limit, double amplitude, double third, boolean cut) {
        CrestWatch watch = new CrestWatch(rate);
        watch.watchTone(hz);
        Random random = new Random(5);
        float[] block = new float[rate / 25];
        for (int b = 0; b < 50; b++) {
            for (int i = 0; i < block.length; i++) {
                double phase = 2 * Math.PI * hz * (b * (double) block.length + i) / rate;
                double x = amplitude * (Math.sin(phase) + third * Math.sin(3 * phase));
                double limited = Math.max(-limit, Math.min(limit, x));
                double dither = random.nextDouble();
                dither -= random.nextDouble();
                block[i] = (float) (Math.rint(limited * 128 + dither) / 128);
            }
            watch.accept(block, 0, block.length);
        }
        assertThat(watch.cutOff(0.01)).isEqualTo(cut);
    }
}
