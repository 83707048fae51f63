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
        watch.forget();
        assertThat(watch.cutOff(0.01)).isFalse();
    }

    /** Eight bits with triangular dither put a flat top on three steps; half a decibel of it is seen, and a whole sine is none. */
    @ParameterizedTest(name = "{0} Hz, limit {1} of an amplitude of {2}")
    @CsvSource({"2943.32, 0.37, 0.427, true", "2943.32, 1, 0.427, false", "1003, 1, 0.2, false", "1000, 1, 0.05, false"
    })
    void ditherHidesNoFlatTop(double hz, double limit, double amplitude, boolean cut) {
        int rate = 16_000;
        CrestWatch watch = new CrestWatch(rate);
        Random random = new Random(5);
        float[] block = new float[640];
        for (int b = 0; b < 50; b++) {
            for (int i = 0; i < block.length; i++) {
                double x = amplitude * Math.sin(2 * Math.PI * hz * (b * (double) block.length + i) / rate);
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
