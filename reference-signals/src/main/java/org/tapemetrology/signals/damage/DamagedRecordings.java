/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import java.util.List;
import java.util.stream.Stream;

/**
 * Draws recordings with faults at random: tones of tape machines with flutter, hiss and distortion, noise, speech-like and
 * music-like sounds and silence, of 0.05 s to 40 s at 8 kHz to 192 kHz, one or two channels, with none to four faults out of
 * gaps, dropouts, lost, repeated and filled buffers, wrong sampling rate, drifting clock, AM, hum, hiss, clipping, offset,
 * crosstalk, swapped, dead and inverted channels, second tone, speech over the tone, stop and start, strong wow, run-out,
 * splices, samples that are no numbers, faint level, clicks and an unsteady level.
 *
 * <p>The same seed gives the same recording. Not to be taken for a model of how often a fault occurs.
 *
 * <p>Has no state: any number of threads may use it. Levels and lengths are this project's own; what is not finite
 * among the samples is so on purpose.
 */
public final class DamagedRecordings {
    private DamagedRecordings() {}

    /**
     * Draws a recording.
     *
     * @param seed any number
     * @return the recording of that seed
     */
    public static DamagedRecording of(long seed) {
        Draft draft = new Draft(seed);
        int count = draft.pick(0.1, 0.35, 0.3, 0.15, 0.1);
        List<Fault> all = List.of(Fault.values());
        Stream.generate(() -> all.get(draft.random.nextInt(all.size())))
                .limit(count)
                .sorted()
                .forEachOrdered(fault -> fault.applyTo(draft));
        return draft.finished(seed);
    }

    /**
     * How long a recording is, without making it.
     *
     * @param seed any number
     * @return samples of all its channels
     */
    public static long samplesOf(long seed) {
        Draft draft = new Draft(seed);
        return Math.round(draft.seconds * draft.rateHz) * draft.channels.length;
    }
}
