/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import java.io.IOException;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * What stands before the samples: RIFF chunks (Multimedia Programming Interface and Data Specifications 1.0), with the
 * 64-bit sizes of RF64 (EBU Tech 3306) and BW64 (ITU-R BS.2088).
 *
 * @param format how the samples are stored
 * @param dataBytes bytes of samples that the header promises, {@link ByteWindow#UNKNOWN} for all up to the end of file
 * @param damage what is wrong with the header
 */
record WavHeader(
        FormatChunk format, long dataBytes, @Nullable WavDamage damage) {
    private static final int CHUNK_HEADER = 8;
    /** Stands for "see ds64", or for "I could not go back to write it". */
    private static final long NO_SIZE = 0xFFFF_FFFFL;
    /** An endless pipe of empty chunks must end somewhere. */
    private static final int MAX_CHUNKS = 1_000_000;

    private static final Set<String> KNOWN_CHUNKS = Set.of(
            "fmt ", "data", "fact", "LIST", "bext", "iXML", "axml", "chna", "JUNK", "junk", "PAD ", "FLLR", "cue ",
            "plst", "smpl", "inst", "levl", "link", "cart", "id3 ", "ID3 ", "PEAK", "DISP", "wavl", "slnt", "umid");

    /** Reads up to the first sample, where it leaves the window. */
    static WavHeader read(ByteWindow in) throws IOException {
        requireWave(in);
        in.consume(12);
        Map<String, Long> sizes64 = new HashMap<>();
        FormatChunk format = null;
        for (int chunks = 0; chunks < MAX_CHUNKS; chunks++) {
            long at = in.position();
            if (in.require(CHUNK_HEADER) < CHUNK_HEADER) {
                throw new WavFormatException(
                        in.name(),
                        at,
                        "the file ends before its " + (format == null ? "format description and " : "") + "samples");
            }
            String id = in.fourCc(0);
            long size = in.uint32(4);
            if (size == NO_SIZE) {
                size = sizes64.getOrDefault(id, NO_SIZE);
            }
            in.consume(CHUNK_HEADER);
            switch (id) {
                case "ds64" -> readSizes(in, size, sizes64);
                case "fmt " -> {
                    if (format != null) {
                        throw new WavFormatException(in.name(), at, "a second format description");
                    }
                    format = FormatChunk.read(in, size);
                }
                case "data" -> {
                    if (format == null) {
                        throw new WavFormatException(
                                in.name(), at, "the samples stand before their format description");
                    }
                    return atData(in, format, at + 4, size, sizes64.isEmpty());
                }
                default -> {}
            }
            skipChunk(in, id, at, size);
        }
        throw new WavFormatException(in.name(), in.position(), "no samples within " + MAX_CHUNKS + " chunks");
    }

    private static void requireWave(ByteWindow in) throws IOException {
        int held = in.require(12);
        if (held == 0) {
            throw new WavFormatException(in.name(), 0, "the file is empty");
        }
        String form = held < 4 ? "" : in.fourCc(0);
        boolean riff = form.equals("RIFF") || form.equals("RF64") || form.equals("BW64");
        if (!riff) {
            throw new WavFormatException(in.name(), 0, "this is no WAV file: " + Magic.describe(in, held));
        }
        if (held < 12) {
            throw new WavFormatException(in.name(), held, "the file ends within its header");
        }
        if (!in.fourCc(8).equals("WAVE")) {
            throw new WavFormatException(
                    in.name(), 8, "this is no WAV file: a RIFF file of another kind (" + in.hex(8, 4) + ")");
        }
    }

    /** EBU Tech 3306: sizes of the form and of the samples, number of samples, then a table of other large chunks. */
    private static void readSizes(ByteWindow in, long size, Map<String, Long> sizes64) throws IOException {
        int held = in.require((int) Math.min(size, ByteWindow.CAPACITY));
        int length = (int) Math.min(size, held);
        if (length < 24) {
            throw new WavFormatException(
                    in.name(), in.position(), "the table of 64-bit sizes is cut off after " + length + " bytes");
        }
        sizes64.put("data", in.int64(8));
        if (length >= 28) {
            long entries = Math.min(in.uint32(24), (length - 28) / 12);
            for (int i = 0; i < entries; i++) {
                sizes64.putIfAbsent(in.fourCc(28 + 12 * i), in.int64(32 + 12 * i));
            }
        }
    }

    private static void skipChunk(ByteWindow in, String id, long at, long size) throws IOException {
        long skipped = size < 0 ? 0 : in.skip(size);
        if (skipped < size || size < 0) {
            throw new WavFormatException(
                    in.name(),
                    at,
                    "the chunk " + Magic.printable(id) + " should be " + Long.toUnsignedString(size)
                            + " bytes long, but the file ends at byte " + in.position() + ", before its samples");
        }
        if (size % 2 != 0 && hasPadByte(in)) {
            in.consume(1);
        }
    }

    /** A chunk of odd size is followed by a pad byte, which some writers forget. */
    private static boolean hasPadByte(ByteWindow in) throws IOException {
        int held = in.require(5);
        if (held < 4 || KNOWN_CHUNKS.contains(in.fourCc(0))) {
            return false;
        }
        if (held >= 5 && KNOWN_CHUNKS.contains(in.fourCc(1))) {
            return true;
        }
        return !isChunkName(in, 0);
    }

    private static boolean isChunkName(ByteWindow in, int index) {
        for (int i = index; i < index + 4; i++) {
            if (in.uint8(i) < 0x20 || in.uint8(i) > 0x7E) {
                return false;
            }
        }
        return true;
    }

    /** Whether the window stands at a place where a file may end or go on after a chunk. */
    static boolean isChunkBoundary(ByteWindow in, boolean afterOddChunk) throws IOException {
        int held = in.require(5);
        if (held <= (afterOddChunk ? 1 : 0)) {
            return true;
        }
        return (held >= 4 && isChunkName(in, 0)) || (afterOddChunk && held >= 5 && isChunkName(in, 1));
    }

    private static WavHeader atData(ByteWindow in, FormatChunk format, long sizeAt, long size, boolean sizesOf32Bits)
            throws IOException {
        long available = in.length() - in.position();
        if ((size == NO_SIZE && sizesOf32Bits) || size < 0) {
            return new WavHeader(
                    format,
                    ByteWindow.UNKNOWN,
                    new WavDamage(
                            "the length of the recording was never written (byte " + sizeAt
                                    + "): read up to the end of the file",
                            sizeAt));
        }
        if (size == 0) {
            int held = in.require(4);
            boolean empty = held == 0 || (held >= 4 && KNOWN_CHUNKS.contains(in.fourCc(0)));
            return empty
                    ? new WavHeader(format, 0, null)
                    : new WavHeader(
                            format,
                            ByteWindow.UNKNOWN,
                            new WavDamage(
                                    "the header says that the recording is empty (byte " + sizeAt
                                            + "), but samples follow: read up to the end of the file",
                                    sizeAt));
        }
        if (sizesOf32Bits && available - size > NO_SIZE) {
            long lost = (available - size) / (NO_SIZE + 1) * (NO_SIZE + 1);
            return new WavHeader(
                    format,
                    size + lost,
                    new WavDamage(
                            "the recording is too long for its 32-bit size (byte " + sizeAt + "): read as "
                                    + (size + lost) + " bytes instead of " + size,
                            sizeAt));
        }
        return new WavHeader(format, size, null);
    }
}
