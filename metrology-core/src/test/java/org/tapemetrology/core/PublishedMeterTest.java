/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;

/** One writer, many readers: what is read is always one whole measurement, never older than one that was read before. */
class PublishedMeterTest {
    private static final int RATE = 8000;
    private static final int BLOCK = 160;
    private static final int BLOCKS = 500;
    private static final int READERS = 6;
    private static final int ROUNDS = 12;

    private static float[] recording() {
        FmTone tone = FmTone.builder(3000)
                .amplitude(0.4)
                .speedError(0.003)
                .sine(4, 0.001)
                .drift(1e-4)
                .build();
        float[] samples = new float[BLOCK * BLOCKS];
        SampledSignal.of(tone, RATE).fill(0, samples, 0, samples.length);
        return samples;
    }

    private static RecordingMeter meter() {
        return RecordingMeter.builder(RATE, 1).nominalHz(3000).build();
    }

    /** What an unshared meter says after every block. */
    private static Map<Long, Measurement> expected(float[] samples) {
        Map<Long, Measurement> byFrames = new HashMap<>();
        RecordingMeter meter = meter();
        for (int at = 0; at < samples.length; at += BLOCK) {
            meter.accept(samples, at, BLOCK);
            byFrames.put((long) at + BLOCK, meter.reading());
        }
        return byFrames;
    }

    /** A reader's findings. */
    private record Seen(int different, List<String> wrong) {}

    private static Seen readAll(PublishedMeter meter, Map<Long, Measurement> expected, AtomicBoolean running) {
        List<String> wrong = new ArrayList<>();
        long last = 0;
        int different = 0;
        boolean again = true;
        while (again) {
            again = running.get(); // one more look after the writer has ended
            PublishedMeter.Published seen = meter.latest().orElse(null);
            if (seen == null || seen.frames() == last) {
                continue;
            }
            if (seen.frames() < last) {
                wrong.add(seen.frames() + " frames after " + last);
            }
            if (!seen.measurement().equals(expected.get(seen.frames()))) {
                wrong.add("another measurement after " + seen.frames() + " frames");
            }
            last = seen.frames();
            different++;
        }
        if (last != (long) BLOCK * BLOCKS) {
            wrong.add("the last one was not seen, but that of " + last + " frames");
        }
        return new Seen(different, wrong);
    }

    @Test
    void readersSeeWholeMeasurementsInOrder() throws InterruptedException, ExecutionException {
        float[] samples = recording();
        Map<Long, Measurement> expected = expected(samples);
        ExecutorService threads = Executors.newFixedThreadPool(READERS);
        int different = 0;
        try {
            for (int round = 0; round < ROUNDS; round++) {
                PublishedMeter meter = new PublishedMeter(meter(), BLOCK);
                AtomicBoolean running = new AtomicBoolean(true);
                List<Future<Seen>> readers = new ArrayList<>();
                Callable<Seen> reader = () -> readAll(meter, expected, running);
                for (int i = 0; i < READERS; i++) {
                    readers.add(threads.submit(reader));
                }
                for (int at = 0; at < samples.length; at += BLOCK) {
                    meter.accept(samples, at, BLOCK);
                }
                running.set(false);
                for (Future<Seen> seen : readers) {
                    assertThat(seen.get().wrong()).isEmpty();
                    different += seen.get().different();
                }
            }
        } finally {
            threads.shutdownNow();
        }
        // Had every reader looked at the end alone, nothing would be shown.
        assertThat(different).isGreaterThan(2 * READERS * ROUNDS);
    }

    @Test
    void publishesAsOftenAsAskedAndAtTheEnd() {
        float[] samples = recording();
        PublishedMeter meter = new PublishedMeter(meter(), 3 * BLOCK);
        meter.accept(samples, 0, 2 * BLOCK);
        assertThat(meter.latest()).isEmpty();
        meter.accept(samples, 2 * BLOCK, BLOCK);
        assertThat(meter.latest().orElseThrow().frames()).isEqualTo(3 * BLOCK);
        meter.accept(samples, 3 * BLOCK, BLOCK);
        assertThat(meter.latest().orElseThrow().frames()).isEqualTo(3 * BLOCK);
        meter.publish();
        assertThat(meter.latest().orElseThrow().frames()).isEqualTo(4 * BLOCK);
        meter.reset();
        assertThat(meter.latest()).isEmpty();
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new PublishedMeter(meter(), 0))
                .withMessageContaining("everyFrames 0");
    }
}
