/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.function.IntConsumer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;

/** What a sound-card callback needs: no garbage while a tone is followed. */
class AllocationTest {
    private static final int RATE = 48_000;
    private static final int BLOCK = 480;
    private static final int WARM_UP = 20 * RATE / BLOCK;
    private static final int ROUND = 10 * RATE / BLOCK;
    private static final int ROUNDS = 4;

    @ParameterizedTest
    @ValueSource(ints = {1, 2})
    void aBlockOfAToneAllocatesNothing(int channels) {
        float[] interleaved = tone(channels);
        RecordingMeter meter = RecordingMeter.builder(RATE, channels).build();

        long allocated = allocatedBytes(block -> meter.accept(interleaved, block * BLOCK * channels, BLOCK));

        assertThat(allocated).isZero();
        assertThat(meter.reading()
                        .find(Quantity.FLUTTER_WEIGHTED_RMS)
                        .orElseThrow()
                        .isValid())
                .as("the tone was really measured")
                .isTrue();
    }

    @ParameterizedTest
    @CsvSource({"1, FLUTTER_WEIGHTED_QUASI_PEAK, VOLUME", "2, FLUTTER_WEIGHTED_TWO_SIGMA, PROGRAMME_PEAK_TWO"})
    void aBlockOfALiveToneAllocatesNothing(int channels, Quantity figure, LiveMeter.Indicator indicator) {
        float[] interleaved = tone(channels);
        LiveMeter meter = LiveMeter.builder(RecordingMeter.builder(RATE, channels))
                .flutter(figure)
                .indicator(indicator)
                .build();

        long allocated = allocatedBytes(block -> meter.accept(interleaved, block * BLOCK * channels, BLOCK));

        assertThat(allocated).isZero();
        assertThat(meter.reading().channels().get(0).flutter().worstPercent())
                .as("the tone was really measured")
                .isPresent();
    }

    /** Negative control: one array of 16 bytes of content in the whole time is seen. */
    @Test
    void aSingleSmallArrayIsSeen() {
        double[][] kept = new double[1][];

        long nothing = allocatedBytes(block -> {});
        long allocated = allocatedBytes(block -> {
            if ((block - WARM_UP) % ROUND == ROUND / 2) {
                kept[0] = new double[2];
            }
        });

        assertThat(kept[0]).hasSize(2);
        assertThat(nothing).isZero();
        // A header of at most 24 bytes and two numbers.
        assertThat(allocated).isBetween(16L, 40L);
    }

    private static float[] tone(int channels) {
        int frames = (WARM_UP + ROUNDS * ROUND) * BLOCK;
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
        for (int block = 0; block < WARM_UP; block++) {
            accept.accept(block);
        }
        return AllocatedBytes.leastOf(ROUNDS, round -> {
            int first = WARM_UP + round * ROUND;
            for (int block = first; block < first + ROUND; block++) {
                accept.accept(block);
            }
        });
    }
}
