/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.live;

import java.io.ByteArrayInputStream;
import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.io.SequenceInputStream;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.OptionalInt;
import java.util.function.LongSupplier;
import org.tapemetrology.core.wav.WavFormat;
import org.tapemetrology.core.wav.WavReader;

/**
 * Samples that come while they are measured.
 *
 * @param name what the input is called in the output
 * @param reader the samples
 * @param overruns how often samples were lost so far
 */
public record LiveInput(String name, WavReader reader, LongSupplier overruns) implements Closeable {
    /** What {@code measure} calls standard input, too. */
    public static final String STANDARD_INPUT = "-";

    private static final String READABLE = "standard input";
    private static final int MAGIC = 12;

    /** How raw samples are stored; the lowest byte comes first. */
    public enum Pcm {
        /** Unsigned 8-bit integers. */
        U8(1, WavFormat.Encoding.INTEGER),
        /** Signed 16-bit integers. */
        S16(2, WavFormat.Encoding.INTEGER),
        /** Signed 24-bit integers in three bytes. */
        S24(3, WavFormat.Encoding.INTEGER),
        /** Signed 32-bit integers. */
        S32(4, WavFormat.Encoding.INTEGER),
        /** 32-bit floating point. */
        F32(4, WavFormat.Encoding.FLOAT),
        /** 64-bit floating point. */
        F64(8, WavFormat.Encoding.FLOAT);

        private final int bytes;
        private final WavFormat.Encoding encoding;

        Pcm(int bytes, WavFormat.Encoding encoding) {
            this.bytes = bytes;
            this.encoding = encoding;
        }

        WavFormat format(int rateHz, int channels) {
            return new WavFormat(rateHz, channels, 8 * bytes, bytes, encoding);
        }

        @Override
        public String toString() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /**
     * Standard input: raw samples, or a WAV stream, which its header is told by.
     *
     * @param in the stream
     * @param rateHz sampling rate of raw samples, where it was given
     * @param channels channels of raw samples
     * @param pcm how raw samples are stored
     * @throws IOException where nothing comes, or there is neither a header nor a rate, or they contradict each other
     */
    public static LiveInput of(InputStream in, OptionalInt rateHz, OptionalInt channels, Pcm pcm) throws IOException {
        byte[] first = in.readNBytes(MAGIC);
        if (first.length == 0) {
            throw new IOException(READABLE + ": no sample came");
        }
        InputStream whole = new SequenceInputStream(new ByteArrayInputStream(first), in);
        if (!isWav(first)) {
            if (rateHz.isEmpty()) {
                throw new IOException(READABLE
                        + ": there is no WAV header; --rate, --channels and --pcm tell how raw samples are to be read");
            }
            WavFormat format = pcm.format(rateHz.getAsInt(), channels.orElse(2));
            return new LiveInput(STANDARD_INPUT, WavReader.ofRaw(whole, READABLE, format), () -> 0);
        }
        WavReader reader = WavReader.of(whole, READABLE);
        requireEqual("--rate", rateHz, reader.format().sampleRateHz());
        requireEqual("--channels", channels, reader.format().channels());
        return new LiveInput(STANDARD_INPUT, reader, () -> 0);
    }

    private static void requireEqual(String option, OptionalInt given, int inHeader) throws IOException {
        if (given.isPresent() && given.getAsInt() != inHeader) {
            throw new IOException(
                    READABLE + ": its WAV header says " + inHeader + ", but " + option + " " + given.getAsInt());
        }
    }

    private static boolean isWav(byte[] first) {
        if (first.length < MAGIC) {
            return false;
        }
        String riff = new String(first, 0, 4, StandardCharsets.ISO_8859_1);
        String wave = new String(first, 8, 4, StandardCharsets.ISO_8859_1);
        return wave.equals("WAVE") && (riff.equals("RIFF") || riff.equals("RF64") || riff.equals("BW64"));
    }

    @Override
    public void close() throws IOException {
        reader.close();
    }
}
