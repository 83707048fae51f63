/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.tapemetrology.signals.SampledSignal;

/** Makes the samples of recordings, and keeps those of the last few where several meters will hear them. */
final class Player {
    /** A case plays no more. */
    private static final int MOST_KEPT = 3;

    private final boolean keeps;
    private final Map<String, double[][]> kept = new LinkedHashMap<>(MOST_KEPT, 0.75f, true);

    private Player(boolean keeps) {
        this.keeps = keeps;
    }

    /** A player that makes samples as they are needed. */
    static Player streaming() {
        return new Player(false);
    }

    /** A player that makes the samples of a recording once. */
    static Player keeping() {
        return new Player(true);
    }

    /** Plays a recording to a meter in blocks, and tells after each. */
    void play(MeterUnderTest<?> meter, Recording recording, int block, Runnable afterEach) {
        List<SampledSignal> signals = recording.samples();
        double[][] samples = new double[signals.size()][block];
        meter.start(recording.format());
        for (long at = 0; at < recording.frames(); at += block) {
            int length = (int) Math.min(block, recording.frames() - at);
            for (int channel = 0; channel < samples.length; channel++) {
                if (keeps) {
                    System.arraycopy(whole(recording)[channel], (int) at, samples[channel], 0, length);
                } else {
                    signals.get(channel).fill(at, samples[channel], 0, length);
                }
            }
            meter.accept(samples, length);
            afterEach.run();
        }
    }

    private double[][] whole(Recording recording) {
        double[][] before = kept.get(recording.name());
        if (before != null) {
            return before;
        }
        if (kept.size() == MOST_KEPT) {
            kept.remove(kept.keySet().iterator().next());
        }
        double[][] made = recording.samples().stream()
                .map(samples -> samples.samples(0, Math.toIntExact(recording.frames())))
                .toArray(double[][]::new);
        kept.put(recording.name(), made);
        return made;
    }
}
