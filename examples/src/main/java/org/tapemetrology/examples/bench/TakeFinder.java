/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.bench;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.alignment.Take;
import org.tapemetrology.core.wav.WavReader;

/** Finds the takes in a recording that holds them one after the other with pauses between. */
final class TakeFinder {
    private static final double WINDOW_SECONDS = 0.05;
    /** A pause is so much weaker than the loudest sound, in power: 30 dB. */
    private static final double PAUSE = 1e-3;
    /** A dropout is no pause. */
    private static final double SHORTEST_PAUSE_SECONDS = 0.5;
    /** A sound shorter than this part of the take that it should be is none. */
    private static final double SHORTEST = 0.6;

    private TakeFinder() {}

    /** A stretch of a recording in frames. */
    record Span(long from, long to) {}

    /** The stretch of each take, without its ends. */
    static List<Span> find(Path file, List<Take> takes) throws IOException {
        int rate;
        List<Double> powers = new ArrayList<>();
        int window;
        try (WavReader reader = WavReader.open(file)) {
            rate = reader.format().sampleRateHz();
            window = (int) Math.round(WINDOW_SECONDS * rate);
            float[] block = new float[window * reader.format().channels()];
            for (int frames = reader.read(block, 0, window); frames > 0; frames = reader.read(block, 0, window)) {
                double sum = 0;
                for (int i = 0; i < frames * reader.format().channels(); i++) {
                    sum += block[i] * (double) block[i];
                }
                powers.add(sum / frames);
            }
        }
        List<Span> sounds = sounds(powers);
        long edge = Math.round(Bench.EDGE_SECONDS * rate);
        List<Span> found = new ArrayList<>();
        for (Span sound : sounds) {
            Take take = takes.get(Math.min(found.size(), takes.size() - 1));
            double seconds = (sound.to() - sound.from()) * WINDOW_SECONDS;
            if (seconds >= SHORTEST * take.seconds()) {
                found.add(new Span(sound.from() * window + edge, sound.to() * window - edge));
            }
        }
        if (found.size() != takes.size()) {
            throw new IOException(String.format(
                    java.util.Locale.ROOT,
                    "%s: %d sounds of the right length between pauses, %d takes were asked for; record them again, or give one file for each take",
                    file,
                    found.size(),
                    takes.size()));
        }
        return found;
    }

    private static List<Span> sounds(List<Double> powers) {
        double loudest = powers.stream().mapToDouble(p -> p).max().orElse(0);
        double threshold = Math.max(PAUSE * loudest, Double.MIN_NORMAL);
        int pause = (int) Math.round(SHORTEST_PAUSE_SECONDS / WINDOW_SECONDS);
        List<Span> sounds = new ArrayList<>();
        int from = -1;
        int last = -1;
        for (int i = 0; i < powers.size(); i++) {
            if (powers.get(i) < threshold) {
                continue;
            }
            if (from >= 0 && i - last > pause) {
                sounds.add(new Span(from, last + 1));
                from = i;
            }
            from = from < 0 ? i : from;
            last = i;
        }
        if (from >= 0) {
            sounds.add(new Span(from, last + 1));
        }
        return sounds;
    }
}
