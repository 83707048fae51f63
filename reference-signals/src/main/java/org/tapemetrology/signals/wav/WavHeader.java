/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.wav;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/** Everything before the samples, of the same length whatever their number. */
final class WavHeader {
    private static final int PCM = 1;
    private static final int IEEE_FLOAT = 3;
    private static final int EXTENSIBLE = 0xFFFE;
    private static final int DS64_BYTES = 28;
    private static final int UNKNOWN_SIZE = -1;
    /** Bytes 4 to 15 of the sub-format identifier of PCM and of floating point; the first two are the format tag. */
    private static final byte[] SUBFORMAT_TAIL = {
        0, 0, 0, 0, 0x10, 0, (byte) 0x80, 0, 0, (byte) 0xAA, 0, 0x38, (byte) 0x9B, 0x71
    };

    private final int sampleRateHz;
    private final int channels;
    private final WavEncoding encoding;
    private final boolean extensible;
    private final boolean room;

    WavHeader(int sampleRateHz, int channels, WavEncoding encoding, boolean extensible, Rf64Mode rf64) {
        this.sampleRateHz = sampleRateHz;
        this.channels = channels;
        this.encoding = encoding;
        this.extensible = extensible || encoding == WavEncoding.PCM_24_IN_32;
        this.room = rf64 != Rf64Mode.NEVER;
    }

    /** Size of the complete file. */
    long fileBytes(long frames) {
        long data = dataBytes(frames);
        return headerBytes() + data + data % 2;
    }

    ByteBuffer bytes(long frames, boolean large) {
        ByteBuffer out = ByteBuffer.allocate(headerBytes()).order(ByteOrder.LITTLE_ENDIAN);
        long riffBytes = fileBytes(frames) - 8;
        id(out, large ? "RF64" : "RIFF").putInt(large ? UNKNOWN_SIZE : (int) riffBytes);
        id(out, "WAVE");
        if (room) {
            // Room that a reader skips as JUNK until the file needs it (EBU Tech 3306).
            id(out, large ? "ds64" : "JUNK").putInt(DS64_BYTES);
            out.putLong(large ? riffBytes : 0);
            out.putLong(large ? dataBytes(frames) : 0);
            out.putLong(large ? frames : 0);
            out.putInt(0);
        }
        format(out);
        if (hasFact()) {
            id(out, "fact").putInt(4).putInt(large ? UNKNOWN_SIZE : (int) frames);
        }
        id(out, "data").putInt(large ? UNKNOWN_SIZE : (int) dataBytes(frames));
        return out.flip();
    }

    private void format(ByteBuffer out) {
        int tag = encoding.isFloatingPoint() ? IEEE_FLOAT : PCM;
        int frameBytes = channels * encoding.bytes();
        id(out, "fmt ").putInt(formatBytes());
        out.putShort((short) (extensible ? EXTENSIBLE : tag));
        out.putShort((short) channels);
        out.putInt(sampleRateHz);
        out.putInt(sampleRateHz * frameBytes);
        out.putShort((short) frameBytes);
        out.putShort((short) (8 * encoding.bytes()));
        if (extensible) {
            out.putShort((short) 22);
            out.putShort((short) encoding.validBits());
            out.putInt(channels == 1 ? 4 : channels == 2 ? 3 : 0); // front centre; front left and right; unassigned
            out.putShort((short) tag).put(SUBFORMAT_TAIL);
        } else if (encoding.isFloatingPoint()) {
            out.putShort((short) 0);
        }
    }

    private int formatBytes() {
        return extensible ? 40 : encoding.isFloatingPoint() ? 18 : 16;
    }

    private boolean hasFact() {
        return encoding.isFloatingPoint();
    }

    private int headerBytes() {
        return 12 + (room ? 8 + DS64_BYTES : 0) + 8 + formatBytes() + (hasFact() ? 12 : 0) + 8;
    }

    private long dataBytes(long frames) {
        return frames * channels * encoding.bytes();
    }

    private static ByteBuffer id(ByteBuffer out, String name) {
        return out.put(name.getBytes(StandardCharsets.US_ASCII));
    }
}
