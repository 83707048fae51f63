/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.quantity.Measurement;

/**
 * Lets many threads read what one thread measures. The writer pushes samples and so often publishes what can be said at
 * that moment; readers get the latest of it, whole and unchanging, without a lock and without waiting. The measurement is
 * that of {@link RecordingMeter} after as many frames, to the last bit.
 *
 * <p>{@link #accept}, {@link #publish} and {@link #reset} belong to one thread at a time; {@link #latest()} may be called by
 * any number of threads at any time. Publication is a write of a {@code volatile}: what a reader sees was finished before it
 * (Java Language Specification, 17.4.5). It happens after the call of {@code accept} that brings the frames due, and costs a
 * reading, some kB; nothing else is allocated per block. A sample that is no finite number makes the readings
 * {@code invalid-input}, as in the meter itself. Every other meter of this library is thread-confined; where one thread
 * measures and reads, this class is not needed.
 */
public final class PublishedMeter {
    private final RecordingMeter meter;
    private final long everyFrames;
    private long frames;
    private long publishedFrames;
    private volatile @Nullable Published latest;

    /**
     * What was published at one moment.
     *
     * @param frames frames that had been taken by then
     * @param measurement what could be said after them
     */
    public record Published(long frames, Measurement measurement) {}

    /**
     * A meter that has published nothing yet.
     *
     * @param meter the meter, at rest, which the writer must not use otherwise from now on
     * @param everyFrames frames from one publication to the next at least, above 0
     */
    public PublishedMeter(RecordingMeter meter, long everyFrames) {
        if (everyFrames < 1) {
            throw new IllegalArgumentException("everyFrames " + everyFrames + " is below 1");
        }
        this.meter = meter;
        this.everyFrames = everyFrames;
    }

    /**
     * Takes interleaved samples; the writer's alone.
     *
     * @param interleaved samples of all channels in turn, full scale 1
     * @param offset first sample of the first frame
     * @param count number of frames
     */
    public void accept(float[] interleaved, int offset, int count) {
        meter.accept(interleaved, offset, count);
        frames += count;
        if (frames - publishedFrames >= everyFrames) {
            publish();
        }
    }

    /** Publishes what can be said now, as at the end of a recording; the writer's alone. */
    public void publish() {
        publishedFrames = frames;
        latest = new Published(frames, meter.reading());
    }

    /**
     * What was published last; any thread's.
     *
     * @return it, empty before the first publication and after a reset
     */
    public Optional<Published> latest() {
        return Optional.ofNullable(latest);
    }

    /** Puts the meter to rest, as if new; the writer's alone. */
    public void reset() {
        meter.reset();
        frames = 0;
        publishedFrames = 0;
        latest = null;
    }
}
