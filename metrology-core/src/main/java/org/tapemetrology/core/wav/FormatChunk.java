/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import java.io.IOException;

/**
 * The {@code fmt } chunk: WAVEFORMAT (RFC 2361) and its extensible form, whose sub-format stands in a GUID.
 *
 * @param format what it says
 * @param justificationOpen whether the samples may stand at either end of their containers: the plain form knows no
 *     container larger than its sample, so that writers who use one do not agree
 */
record FormatChunk(WavFormat format, boolean justificationOpen) {
    private static final int PCM = 0x0001;
    private static final int IEEE_FLOAT = 0x0003;
    private static final int EXTENSIBLE = 0xFFFE;
    private static final int PLAIN_LENGTH = 16;
    /** The plain form, the size of its extension, and the extension of 22 bytes. */
    private static final int EXTENSIBLE_LENGTH = 40;
    /** Sub-formats that repeat a format tag, which stands in the first two of their sixteen bytes. */
    private static final String TAG_GUID_TAIL = "00 00 00 00 10 00 80 00 00 AA 00 38 9B 71";

    /** Reads the body of the chunk, at which the window stands, without moving the window. */
    static FormatChunk read(ByteWindow in, long size) throws IOException {
        long at = in.position();
        if (size < PLAIN_LENGTH) {
            throw new WavFormatException(
                    in.name(), at, "the format description has " + size + " bytes, but the shortest has 16");
        }
        int wanted = (int) Math.min(size, EXTENSIBLE_LENGTH);
        if (in.require(wanted) < wanted) {
            throw new WavFormatException(
                    in.name(), at + in.require(wanted), "the file ends within the format description");
        }
        int tag = in.uint16(0);
        int channels = in.uint16(2);
        long sampleRateHz = in.uint32(4);
        int bytesPerFrame = in.uint16(12);
        int bits = in.uint16(14);
        int validBits = bits;
        if (tag == EXTENSIBLE) {
            if (wanted < EXTENSIBLE_LENGTH) {
                throw new WavFormatException(
                        in.name(), at, "the extensible format description has " + size + " bytes instead of 40");
            }
            validBits = in.uint16(18) == 0 ? bits : in.uint16(18);
            if (!in.hex(26, 14).equals(TAG_GUID_TAIL)) {
                throw new WavFormatException(
                        in.name(), at + 24, "samples of the unknown sub-format " + in.hex(24, 16) + " cannot be read");
            }
            tag = in.uint16(24);
        }
        if (tag != PCM && tag != IEEE_FLOAT) {
            throw new WavFormatException(
                    in.name(),
                    in.uint16(0) == EXTENSIBLE ? at + 24 : at,
                    "the samples are " + nameOf(tag) + ", and only linear PCM and IEEE floating point can be read");
        }
        if (channels < 1 || channels > WavFormat.MAX_CHANNELS) {
            throw new WavFormatException(
                    in.name(), at + 2, channels + " channels, allowed 1 to " + WavFormat.MAX_CHANNELS);
        }
        if (sampleRateHz < 1 || sampleRateHz > WavFormat.MAX_SAMPLE_RATE_HZ) {
            throw new WavFormatException(
                    in.name(),
                    at + 4,
                    "a sample rate of " + sampleRateHz + " Hz, allowed 1 to " + WavFormat.MAX_SAMPLE_RATE_HZ + " Hz");
        }
        int bytesPerSample = bytesPerFrame / channels;
        if (bytesPerFrame == 0 || bytesPerFrame % channels != 0) {
            throw new WavFormatException(
                    in.name(),
                    at + 12,
                    "a frame of " + bytesPerFrame + " bytes cannot hold one sample of each of " + channels
                            + " channels");
        }
        boolean fits = tag == PCM
                ? bits >= 1 && bits <= 8 * bytesPerSample && bytesPerSample <= 4
                : bits == 8 * bytesPerSample && (bits == 32 || bits == 64);
        if (!fits) {
            throw new WavFormatException(
                    in.name(),
                    at + 12,
                    (tag == PCM ? "integers" : "floating-point numbers") + " of " + bits + " bits in containers of "
                            + bytesPerSample + " bytes cannot be read");
        }
        if (validBits > bits) {
            throw new WavFormatException(
                    in.name(), at + 18, validBits + " valid bits in samples of " + bits + " bits are too many");
        }
        return tag == PCM
                ? new FormatChunk(
                        new WavFormat(
                                (int) sampleRateHz, channels, validBits, bytesPerSample, WavFormat.Encoding.INTEGER),
                        bits == 24 && bytesPerSample == 4)
                : new FormatChunk(
                        new WavFormat((int) sampleRateHz, channels, bits, bytesPerSample, WavFormat.Encoding.FLOAT),
                        false);
    }

    /** Names of RFC 2361 without those of their makers. */
    private static String nameOf(int tag) {
        String name = switch (tag) {
            case 0x0002, 0x0010, 0x0011, 0x0017, 0x0020, 0x0200 -> "ADPCM";
            case 0x0006 -> "A-law";
            case 0x0007 -> "mu-law";
            case 0x0014 -> "G.723 ADPCM";
            case 0x0031 -> "GSM 06.10";
            case 0x0040 -> "G.721 ADPCM";
            case 0x0045, 0x0064 -> "G.726 ADPCM";
            case 0x0050 -> "MPEG-1 layer 1 or 2";
            case 0x0055 -> "MPEG layer 3";
            case 0x0065 -> "G.722 ADPCM";
            case 0x0092 -> "IEC 61937 (not PCM)";
            case 0x00FF -> "AAC";
            default -> "of an unknown encoding";
        };
        return name + String.format(" (format tag 0x%04X)", tag);
    }
}
