/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.live;

import java.io.PrintStream;
import java.util.Optional;
import org.tapemetrology.core.LiveMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.examples.output.MeasurementJson;
import org.tapemetrology.examples.recording.Recording;

/**
 * Measures an input until it ends, or until somebody interrupts, from whichever thread; the result is printed once. The meter
 * belongs to whoever holds the lock.
 */
public final class LiveSession {
    private final LiveInput input;
    private final LiveMeter meter;
    private final LiveDisplay display;
    private final PrintStream out;
    private long frames;
    private long overruns;
    private boolean ended;

    public LiveSession(LiveInput input, LiveMeter meter, LiveDisplay display, PrintStream out) {
        this.input = input;
        this.meter = meter;
        this.display = display;
        this.out = out;
    }

    /** Takes samples; false where the session has ended and they count no more. */
    public synchronized boolean take(float[] interleaved, int count) {
        if (ended) {
            return false;
        }
        for (long now = input.overruns().getAsLong(); overruns < now; overruns++) {
            meter.inputLost();
        }
        meter.accept(interleaved, 0, count);
        frames += count;
        display.show(meter::reading);
        return true;
    }

    /** Ends the session and prints the result, unless that has been done. */
    public synchronized void end() {
        if (ended) {
            return;
        }
        ended = true;
        display.end(meter.reading());
        int rate = input.reader().format().sampleRateHz();
        Measurement measurement = Recording.withDamage(meter.measurement(), input.reader());
        out.println(MeasurementJson.line(new Recording.Result(
                input.name(),
                rate,
                input.reader().format().channels(),
                frames / (double) rate,
                measurement,
                Optional.empty())));
        out.flush();
    }

    /** Frames that were measured. */
    public synchronized long frames() {
        return frames;
    }
}
