/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.live;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.DataLine;
import javax.sound.sampled.LineUnavailableException;
import javax.sound.sampled.Mixer;
import javax.sound.sampled.TargetDataLine;
import org.tapemetrology.core.wav.WavFormat;
import org.tapemetrology.core.wav.WavReader;

/** A sound card as an input. */
public final class SoundCard {
    /** What the card may hold: a garbage collection or a busy second is survived. */
    private static final int BUFFER_SECONDS = 2;

    private SoundCard() {}

    /** The names of the inputs there are. */
    static List<String> names() {
        List<String> names = new ArrayList<>();
        for (Mixer.Info info : AudioSystem.getMixerInfo()) {
            for (var line : AudioSystem.getMixer(info).getTargetLineInfo()) {
                if (TargetDataLine.class.isAssignableFrom(line.getLineClass()) && !names.contains(info.getName())) {
                    names.add(info.getName());
                }
            }
        }
        return names;
    }

    /**
     * Opens and starts an input.
     *
     * @param name part of its name, in any case; empty for the first one
     * @throws IOException where there is no such input or it does not record in this format
     */
    public static LiveInput open(String name, int rateHz, int channels, LiveInput.Pcm pcm) throws IOException {
        WavFormat format = pcm.format(rateHz, channels);
        if (format.encoding() != WavFormat.Encoding.INTEGER || format.bytesPerSample() < 2) {
            throw new IOException("a sound card is read as s16, s24 or s32, not " + pcm);
        }
        AudioFormat asked = new AudioFormat(rateHz, format.bitsPerSample(), channels, true, false);
        DataLine.Info wanted = new DataLine.Info(TargetDataLine.class, asked);
        for (Mixer.Info info : AudioSystem.getMixerInfo()) {
            if (info.getName().toLowerCase(Locale.ROOT).contains(name.toLowerCase(Locale.ROOT))
                    && AudioSystem.getMixer(info).isLineSupported(wanted)) {
                try {
                    TargetDataLine line =
                            (TargetDataLine) AudioSystem.getMixer(info).getLine(wanted);
                    line.open(asked, BUFFER_SECONDS * rateHz * format.bytesPerFrame());
                    line.start();
                    return of(line, info.getName(), format);
                } catch (LineUnavailableException busy) {
                    throw new IOException("sound card " + info.getName() + ": " + busy.getMessage(), busy);
                }
            }
        }
        List<String> names = names();
        throw new IOException("there is no sound card" + (name.isEmpty() ? "" : " \"" + name + "\"") + " that records "
                + channels + " channels of " + pcm + " at " + rateHz + " Hz; inputs: "
                + (names.isEmpty() ? "none" : String.join(", ", names)));
    }

    /** An input of a line that runs. */
    static LiveInput of(TargetDataLine line, String name, WavFormat format) {
        LineStream stream = new LineStream(line, format.bytesPerFrame());
        return new LiveInput(name, WavReader.ofRaw(stream, name, format), stream::overruns);
    }

    /** The bytes of a line. Where its buffer is found full, what came meanwhile found no room: that is counted. */
    private static final class LineStream extends InputStream {
        private final TargetDataLine line;
        private final int bytesPerFrame;
        private long overruns;

        LineStream(TargetDataLine line, int bytesPerFrame) {
            this.line = line;
            this.bytesPerFrame = bytesPerFrame;
        }

        long overruns() {
            return overruns;
        }

        @Override
        public int read() throws IOException {
            throw new IOException("a sound card is read by whole frames");
        }

        @Override
        public int read(byte[] bytes, int offset, int length) {
            int available = line.available();
            if (available >= line.getBufferSize()) {
                overruns++;
            }
            // At least a frame, and no more than there is, so that the figures do not wait for a full buffer.
            int whole = Math.min(length, Math.max(bytesPerFrame, available)) / bytesPerFrame * bytesPerFrame;
            int count = line.read(bytes, offset, whole);
            return count == 0 ? -1 : count;
        }

        @Override
        public void close() {
            line.stop();
            line.close();
        }
    }
}
