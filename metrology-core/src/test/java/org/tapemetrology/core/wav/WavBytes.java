/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/** Assembles WAV files byte by byte, right ones and wrong ones. */
final class WavBytes {
    static final int PCM = 1;
    static final int FLOAT = 3;
    static final int EXTENSIBLE = 0xFFFE;

    private final ByteArrayOutputStream out = new ByteArrayOutputStream();

    static WavBytes riff() {
        return new WavBytes().ascii("RIFF").int32(0).ascii("WAVE");
    }

    static WavBytes form64(String form) {
        return new WavBytes().ascii(form).int32(-1).ascii("WAVE");
    }

    WavBytes ascii(String text) {
        return raw(text.getBytes(StandardCharsets.ISO_8859_1));
    }

    WavBytes raw(byte... bytes) {
        out.writeBytes(bytes);
        return this;
    }

    WavBytes int16(int value) {
        return raw((byte) value, (byte) (value >> 8));
    }

    WavBytes int32(int value) {
        return int16(value).int16(value >> 16);
    }

    WavBytes int64(long value) {
        return int32((int) value).int32((int) (value >> 32));
    }

    WavBytes chunk(String id, byte... body) {
        unpadded(id, body);
        return body.length % 2 == 0 ? this : raw((byte) 0);
    }

    WavBytes unpadded(String id, byte... body) {
        return ascii(id).int32(body.length).raw(body);
    }

    /** The plain format chunk of 24 bytes, of which 16 are its body. */
    WavBytes fmt(int tag, int channels, int rate, int bytesPerFrame, int bits) {
        return ascii("fmt ").int32(16).fields(tag, channels, rate, bytesPerFrame, bits);
    }

    private WavBytes fields(int tag, int channels, int rate, int bytesPerFrame, int bits) {
        return int16(tag)
                .int16(channels)
                .int32(rate)
                .int32(rate * bytesPerFrame)
                .int16(bytesPerFrame)
                .int16(bits);
    }

    WavBytes pcm16() {
        return fmt(PCM, 1, 48000, 2, 16);
    }

    /** The extensible format chunk of 48 bytes, of which 40 are its body. */
    WavBytes extensible(int tag, int channels, int rate, int bytesPerFrame, int bits, int validBits) {
        return ascii("fmt ")
                .int32(40)
                .fields(EXTENSIBLE, channels, rate, bytesPerFrame, bits)
                .int16(22)
                .int16(validBits)
                .int32(0)
                .int16(tag)
                .raw(new byte[] {0, 0, 0, 0, 0x10, 0, (byte) 0x80, 0, 0, (byte) 0xAA, 0, 0x38, (byte) 0x9B, 0x71});
    }

    WavBytes ds64(long riffSize, long dataSize, long frames) {
        return ascii("ds64")
                .int32(28)
                .int64(riffSize)
                .int64(dataSize)
                .int64(frames)
                .int32(0);
    }

    byte[] bytes() {
        return out.toByteArray();
    }

    static byte[] shorts(int... values) {
        ByteBuffer bytes = ByteBuffer.allocate(2 * values.length).order(ByteOrder.LITTLE_ENDIAN);
        Arrays.stream(values).forEach(v -> bytes.putShort((short) v));
        return bytes.array();
    }

    static byte[] ints(int... values) {
        ByteBuffer bytes = ByteBuffer.allocate(4 * values.length).order(ByteOrder.LITTLE_ENDIAN);
        Arrays.stream(values).forEach(bytes::putInt);
        return bytes.array();
    }

    static WavReader reader(byte[] file) throws IOException {
        return WavReader.of(new ByteArrayInputStream(file), "test.wav");
    }

    /** Everything that is left, read in blocks of the given number of frames. */
    static double[] readAll(WavReader reader, int block) throws IOException {
        int channels = reader.format().channels();
        double[] all = new double[1024];
        double[] buffer = new double[block * channels];
        int count = 0;
        for (int frames = reader.read(buffer, 0, block); frames >= 0; frames = reader.read(buffer, 0, block)) {
            int samples = frames * channels;
            if (count + samples > all.length) {
                all = Arrays.copyOf(all, Math.max(2 * all.length, count + samples));
            }
            System.arraycopy(buffer, 0, all, count, samples);
            count += samples;
        }
        return Arrays.copyOf(all, count);
    }

    static double[] readAll(byte[] file) throws IOException {
        try (WavReader reader = reader(file)) {
            return readAll(reader, 480);
        }
    }

    /** A pipe that hands out few bytes at a time, and none at all now and then, as a careless stream might. */
    static InputStream trickle(byte[] file, int atOnce) {
        return new ByteArrayInputStream(file) {
            private int calls;

            @Override
            public synchronized int read(byte[] target, int offset, int length) {
                calls++;
                return calls % 5 == 0 ? 0 : super.read(target, offset, Math.min(length, atOnce));
            }

            @Override
            public synchronized long skip(long count) {
                throw new UnsupportedOperationException("a pipe cannot be moved");
            }
        };
    }
}
