/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;

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
}
