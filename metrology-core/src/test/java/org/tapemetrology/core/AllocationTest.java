/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.util.function.IntConsumer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;

/** What a sound-card callback needs: no garbage while a tone is followed. */
class AllocationTest {
    private static final int RATE = 48_000;
    private static final int BLOCK = 480;
    private static final int WARM_UP = 20 * RATE / BLOCK;
    private static final int MEASURED = 40 * RATE / BLOCK;
    /**
     * The two-sigma value of each whole 5 s may leave one optional result behind (24 bytes), until the compiler has seen
     * it often enough to spare it: nothing per block, and nothing else at all.
     */
    private static final long ONE_RESULT_PER_PERIOD = 24 * (40 / 5);

    @ParameterizedTest
    @ValueSource(ints = {1, 2})
    void aBlockOfAToneAllocatesNothing(int channels) {
        float[] interleaved = tone(channels);
        RecordingMeter meter = RecordingMeter.builder(RATE, channels).build();

        long allocated = allocatedBytes(block -> meter.accept(interleaved, block * BLOCK * channels, BLOCK));

        assertThat(allocated).isBetween(0L, ONE_RESULT_PER_PERIOD * channels);
        assertThat(meter.reading()
                        .find(Quantity.FLUTTER_WEIGHTED_RMS)
                        .orElseThrow()
                        .isValid())
                .as("the tone was really measured")
                .isTrue();
    }

    /** Negative control: one array of 16 bytes of content in the whole time is seen. */
    @Test
    void aSingleSmallArrayIsSeen() {
        double[][] kept = new double[1][];

        long nothing = allocatedBytes(block -> {});
        long allocated = allocatedBytes(block -> {
            if (block == WARM_UP + 1000) {
                kept[0] = new double[2];
            }
        });

        assertThat(kept[0]).hasSize(2);
        assertThat(nothing).isZero();
        // A header of at most 24 bytes and two numbers.
        assertThat(allocated).isBetween(16L, 40L);
    }

    private static float[] tone(int channels) {
        int frames = (WARM_UP + MEASURED) * BLOCK;
        float[] mono = new float[frames];
        FmTone tone = FmTone.builder(3150).amplitude(0.5).sine(4, 0.001).build();
        SampledSignal.of(tone, RATE).fill(0, mono, 0, frames);
        float[] interleaved = new float[frames * channels];
        for (int i = 0; i < interleaved.length; i++) {
            interleaved[i] = mono[i / channels];
        }
        return interleaved;
    }

    private static long allocatedBytes(IntConsumer accept) {
        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        assertThat(threads.isThreadAllocatedMemoryEnabled()).isTrue();
        long thread = Thread.currentThread().getId();
        threads.getThreadAllocatedBytes(thread);
        for (int block = 0; block < WARM_UP; block++) {
            accept.accept(block);
        }
        long before = threads.getThreadAllocatedBytes(thread);
        for (int block = WARM_UP; block < WARM_UP + MEASURED; block++) {
            accept.accept(block);
        }
        return threads.getThreadAllocatedBytes(thread) - before;
    }
}
