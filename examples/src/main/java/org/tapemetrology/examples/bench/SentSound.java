/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.bench;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.alignment.SentTone;
import org.tapemetrology.core.alignment.Take;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.Mix;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.wav.WavEncoding;
import org.tapemetrology.signals.wav.WavWriter;

/** The tones of takes as sound, to be sent to the input of a machine. */
public final class SentSound {
    /** Pause between takes: long enough to be found again in the recording, and to turn a trimmer in. */
    static final double PAUSE_SECONDS = 3;

    private static final int RATE_HZ = 48_000;

    private SentSound() {}

    /**
     * The tones of a take.
     *
     * @param take a take
     * @param referenceDbfs the reference level in dBFS
     * @return their sum
     */
    public static Signal of(Take take, double referenceDbfs) {
        List<Signal> tones = new ArrayList<>();
        int count = take.tones().size();
        for (SentTone tone : take.tones()) {
            // Phases that grow with the square of the number keep the peak of many tones low (M. R. Schroeder, IEEE
            // Trans.
            // Information Theory 16, 1970).
            double phase = Math.PI * tones.size() * tones.size() / count;
            tones.add(new Sine(tone.frequencyHz(), Decibels.toRatio(referenceDbfs + tone.levelDb()), phase));
        }
        return new Mix(tones);
    }

    /**
     * Writes the takes of a request one after the other, with pauses between them, on every channel alike.
     *
     * @param request what is to be recorded
     * @param referenceDbfs the reference level in dBFS
     * @param channels number of channels
     * @param out the WAV file; what was there is overwritten
     * @throws IOException where it cannot be written
     */
    public static void write(Request request, double referenceDbfs, int channels, Path out) throws IOException {
        long pause = Math.round(PAUSE_SECONDS * RATE_HZ);
        try (WavWriter writer = WavWriter.to(out)
                .sampleRateHz(RATE_HZ)
                .channels(channels)
                .encoding(WavEncoding.PCM_24)
                .overwrite()
                .create()) {
            for (Take take : request.takes()) {
                write(of(take, referenceDbfs), Math.round(take.seconds() * RATE_HZ), channels, writer);
                write(moment -> 0, pause, channels, writer);
            }
        }
    }

    private static void write(Signal signal, long frames, int channels, WavWriter writer) throws IOException {
        SampledSignal[] all = new SampledSignal[channels];
        for (int channel = 0; channel < channels; channel++) {
            all[channel] = SampledSignal.of(signal, RATE_HZ);
        }
        writer.write(all, frames);
    }
}
