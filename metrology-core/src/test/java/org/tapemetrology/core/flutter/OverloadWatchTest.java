/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Runs of equal samples are found wherever they lie in the blocks. */
class OverloadWatchTest {
    private static final int RATE = 48_000;

    @Test
    void everyRunAtFullScaleIsFound() {
        for (int length = 1; length <= 5; length++) {
            for (int at = 0; at < 40; at++) {
                float[] samples = new float[64];
                Random random = new Random(at);
                for (int i = 0; i < samples.length; i++) {
                    samples[i] = random.nextFloat() - 0.5f;
                }
                for (int i = 0; i < length; i++) {
                    samples[10 + at + i] = 1;
                }
                for (int block : new int[] {3, 4, 7, 16, 33, 64}) {
                    OverloadWatch watch = new OverloadWatch(RATE);
                    for (int from = 0; from < samples.length; from += block) {
                        watch.accept(samples, from, Math.min(block, samples.length - from), from);
                    }
                    assertThat(watch.fullScaleReached())
                            .as("%d samples at %d in blocks of %d", length, at, block)
                            .isEqualTo(length >= 3);
                    if (length >= 3) {
                        assertThat(watch.firstFullScaleSeconds()).isEqualTo((10.0 + at) / RATE);
                        assertThat(watch.lastFullScaleSeconds()).isEqualTo((10.0 + at + length) / RATE);
                    }
                }
            }
        }
    }

    private static final double HZ = 1003;

    /** A watch that has had 2 s of a sine in 16 bits, limited in some of its periods, in blocks of 40 ms. */
    private static OverloadWatch sine(double amplitude, double limit, int oneInSoMany) {
        OverloadWatch watch = new OverloadWatch(RATE);
        watch.watchTone(HZ);
        float[] samples = new float[2 * RATE];
        for (int i = 0; i < samples.length; i++) {
            double periods = HZ * i / RATE;
            double x = amplitude * Math.sin(2 * Math.PI * periods);
            boolean limited = (long) periods % oneInSoMany == 0;
            double y = limited ? Math.max(-limit, Math.min(limit, x)) : x;
            samples[i] = (float) (Math.rint(y * 32768) / 32768);
        }
        int block = RATE / 25;
        for (int from = 0; from < samples.length; from += block) {
            watch.accept(samples, from, block, from);
        }
        return watch;
    }

    /** Wherever the limit stands: full scale is another matter. */
    @Test
    void flatTopsAreClipping() {
        assertThat(sine(0.5, 0.4, 1).clipped()).isTrue();
        assertThat(sine(0.5, 0.4, 1).fullScaleReached()).isFalse();
        assertThat(sine(0.5, 1, 1).clipped()).isFalse();
        assertThat(sine(2, 1, 1).clipped()).isTrue();
        assertThat(sine(2, 1, 1).fullScaleReached()).isTrue();
    }

    /** A crest at -60 dBFS, 33 steps high, is rounded to as many equal samples as 0.5 rad hold at most. */
    @Test
    void aRoundedCrestIsNoFlatTop() {
        assertThat(sine(0.001, 1, 1).clipped()).isFalse();
        assertThat(sine(0.01, 1, 1).clipped()).isFalse();
    }

    /** One period in a hundred is allowed, with two tops in it: one in 400 passes, one in 20 does not. The others reach no limit. */
    @Test
    void aFewFlatTopsAreNoClipping() {
        OverloadWatch few = new OverloadWatch(RATE);
        OverloadWatch many = new OverloadWatch(RATE);
        feed(few, 400);
        feed(many, 20);
        assertThat(few.clipped()).isFalse();
        assertThat(many.clipped()).isTrue();
        few.watchTone(HZ);
        many.watchTone(HZ);
        assertThat(many.clipped()).isFalse(); // another tone, of which nothing is known
    }

    /** A tone of 0.3, in one of so many periods of 0.6 and cut off at 0.5. */
    private static void feed(OverloadWatch watch, int oneInSoMany) {
        watch.watchTone(HZ);
        float[] samples = new float[RATE];
        for (int i = 0; i < samples.length; i++) {
            double periods = HZ * i / RATE;
            double amplitude = (long) periods % oneInSoMany == 0 ? 0.6 : 0.3;
            samples[i] = (float) Math.max(-0.5, Math.min(0.5, amplitude * Math.sin(2 * Math.PI * periods)));
        }
        watch.accept(samples, 0, samples.length, 0);
    }

    /** Equal samples below the extreme are no limit: those of a lower step that came first are forgotten. */
    @Test
    void whatStandsBelowTheExtremeIsNoFlatTop() {
        OverloadWatch watch = new OverloadWatch(RATE);
        watch.watchTone(HZ);
        float[] samples = new float[RATE];
        for (int i = 0; i < samples.length; i++) {
            double x = 0.5 * Math.sin(2 * Math.PI * HZ * i / RATE);
            // A step at 0.3 in the first half, and once at the end a run at the crest.
            boolean held = i < RATE / 2 && x > 0.25 && x < 0.35;
            samples[i] = (float) (held ? 0.3 : x);
        }
        Arrays.fill(samples, RATE - 24, RATE - 6, 0.5f);
        watch.accept(samples, 0, samples.length, 0);
        assertThat(watch.clipped()).isFalse();
    }

    /** Periods of 2.7 samples on a constant: every other sample is cut off, no three of them in a row, and no tone is known. */
    @Test
    void singleSamplesAtFullScaleAreFoundWithoutATone() {
        OverloadWatch watch = new OverloadWatch(8000);
        float[] samples = new float[1600];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = (float) Math.max(-1, 0.7 * Math.sin(2 * Math.PI * 2946.3 * i / 8000) - 0.8);
        }
        for (int from = 0; from < 1600; from += 320) {
            watch.accept(samples, from, 320, 8000 + from);
        }
        assertThat(watch.fullScaleReached()).isTrue();
        // The first block and the third and fifth are looked at.
        assertThat(watch.firstFullScaleSeconds()).isEqualTo(1);
        assertThat(watch.lastFullScaleSeconds()).isEqualTo(1.2);
    }

    /** A sine that just reaches full scale stands there with a hundredth of its samples at most. */
    @Test
    void aSineThatReachesFullScaleIsWhole() {
        assertThat(sine(1, 1, 1).fullScaleReached()).isFalse();
    }
}
