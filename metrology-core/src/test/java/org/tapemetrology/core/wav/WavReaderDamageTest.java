/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.params.provider.Arguments.arguments;
import static org.tapemetrology.core.wav.WavBytes.EXTENSIBLE;
import static org.tapemetrology.core.wav.WavBytes.FLOAT;
import static org.tapemetrology.core.wav.WavBytes.PCM;
import static org.tapemetrology.core.wav.WavBytes.form64;
import static org.tapemetrology.core.wav.WavBytes.readAll;
import static org.tapemetrology.core.wav.WavBytes.reader;
import static org.tapemetrology.core.wav.WavBytes.riff;
import static org.tapemetrology.core.wav.WavBytes.shorts;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.SequenceInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class WavReaderDamageTest {
    private static final byte[] THREE = shorts(0x4000, -0x4000, 1);

    private static byte[] cut(WavBytes file, int length) {
        return Arrays.copyOf(file.bytes(), length);
    }

    /** The samples of a plain file begin at byte 44. */
    static Stream<Arguments> damaged() {
        WavBytes whole = riff().pcm16().chunk("data", THREE);
        return Stream.of(
                arguments(
                        "size 0 of a recorder that never finished",
                        riff().pcm16().ascii("data").int32(0).raw(THREE).bytes(),
                        40,
                        "the header says that the recording is empty (byte 40), but samples follow: read up to the end of"
                                + " the file"),
                arguments(
                        "size FFFFFFFF of a pipe",
                        riff().pcm16().ascii("data").int32(-1).raw(THREE).bytes(),
                        40,
                        "the length of the recording was never written (byte 40): read up to the end of the file"),
                arguments(
                        "size FFFFFFFF and a frame begun",
                        riff().pcm16()
                                .ascii("data")
                                .int32(-1)
                                .raw(THREE)
                                .raw((byte) 9)
                                .bytes(),
                        40,
                        "the length of the recording was never written (byte 40): read up to the end of the file; the last"
                                + " 1 bytes (byte 50) are no whole frame of 2 bytes and are left out"),
                arguments(
                        "cut off between frames",
                        riff().pcm16().ascii("data").int32(1000).raw(THREE).bytes(),
                        50,
                        "the recording is cut off: its header promises 1000 bytes of samples from byte 44 on, but the file"
                                + " ends at byte 50, after 3 whole frames"),
                arguments(
                        "cut off within a frame",
                        riff().pcm16()
                                .ascii("data")
                                .int32(1000)
                                .raw(THREE)
                                .raw((byte) 9)
                                .bytes(),
                        51,
                        "the recording is cut off: its header promises 1000 bytes of samples from byte 44 on, but the file"
                                + " ends at byte 51, after 3 whole frames; the last 1 bytes (byte 50) are no whole frame of"
                                + " 2 bytes and are left out"),
                arguments(
                        "size that is no multiple of the frame",
                        riff().pcm16()
                                .ascii("data")
                                .int32(7)
                                .raw(THREE)
                                .raw((byte) 9, (byte) 0)
                                .chunk("LIST")
                                .bytes(),
                        50,
                        "the last 1 bytes (byte 50) are no whole frame of 2 bytes and are left out"),
                arguments(
                        "samples beyond the size",
                        riff().pcm16()
                                .chunk("data", THREE)
                                .raw(new byte[] {1, 0, 1, 0, 1, 0})
                                .bytes(),
                        50,
                        "what follows the samples (byte 50) is no chunk and is left out"),
                arguments(
                        "RF64 without its 64-bit sizes",
                        form64("RF64")
                                .pcm16()
                                .ascii("data")
                                .int32(-1)
                                .raw(THREE)
                                .bytes(),
                        40,
                        "the length of the recording was never written (byte 40): read up to the end of the file"),
                arguments(
                        "RF64 of a recorder that never finished",
                        form64("RF64")
                                .ds64(0, 0, 0)
                                .pcm16()
                                .ascii("data")
                                .int32(-1)
                                .raw(THREE)
                                .bytes(),
                        76,
                        "the header says that the recording is empty (byte 76), but samples follow: read up to the end of"
                                + " the file"),
                arguments(
                        "RF64 with a negative size",
                        form64("RF64")
                                .ds64(0, -5, 0)
                                .pcm16()
                                .ascii("data")
                                .int32(-1)
                                .raw(THREE)
                                .bytes(),
                        76,
                        "the length of the recording was never written (byte 76): read up to the end of the file"),
                arguments(
                        "RF64 that promises more than there can be",
                        form64("RF64")
                                .ds64(0, Long.MAX_VALUE, 0)
                                .pcm16()
                                .ascii("data")
                                .int32(-1)
                                .raw(THREE)
                                .bytes(),
                        86,
                        "the recording is cut off: its header promises 9223372036854775807 bytes of samples from byte 80"
                                + " on, but the file ends at byte 86, after 3 whole frames"),
                arguments(
                        "a file cut within the header of a trailing chunk",
                        new WavBytes().raw(whole.bytes()).ascii("LI").bytes(),
                        50,
                        "what follows the samples (byte 50) is no chunk and is left out"));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("damaged")
    void aDamagedRecordingIsReadAsFarAsItIsWhole(
            String name, byte[] bytes, long byteOffset, String message, @TempDir Path folder) throws IOException {
        Path path = Files.write(folder.resolve("a.wav"), bytes);
        try (WavReader fromFile = WavReader.open(path);
                WavReader fromPipe = WavReader.of(WavBytes.trickle(bytes, 1), "pipe")) {
            assertThat(fromFile.frames()).hasValue(3);
            for (WavReader reader : List.of(fromFile, fromPipe)) {
                assertThat(readAll(reader, 2)).containsExactly(0.5, -0.5, 0x1p-15);
                assertThat(reader.damage()).contains(new WavDamage(message, byteOffset));
                assertThat(reader.frames()).hasValue(3);
            }
        }
    }

    @Test
    void aPipeWithoutALengthHasNoCountUntilItEnds() throws IOException {
        WavReader reader =
                reader(riff().pcm16().ascii("data").int32(-1).raw(THREE).bytes());
        assertThat(reader.frames()).isEmpty();
        readAll(reader, 10);
        assertThat(reader.frames()).hasValue(3);
    }

    static Stream<Arguments> refused() {
        return Stream.of(
                arguments("empty", new byte[0], 0, "the file is empty"),
                arguments(
                        "RIFX",
                        ascii("RIFX0000WAVEfmt "),
                        0,
                        "this is no WAV file: it seems to be a big-endian RIFX file"),
                arguments(
                        "W64",
                        ascii("riff.\u0091\u00cf\u0011\u00a5\u00d6(\u00db"),
                        0,
                        "this is no WAV file: it seems to be a W64 file"),
                arguments("AIFF", ascii("FORM0000AIFFCOMM"), 0, "this is no WAV file: it seems to be an AIFF file"),
                arguments(
                        "AIFF, compressed",
                        ascii("FORM0000AIFCCOMM"),
                        0,
                        "this is no WAV file: it seems to be an AIFF file"),
                arguments("FLAC", ascii("fLaC\0\0\0\"0000"), 0, "this is no WAV file: it seems to be a FLAC file"),
                arguments("Ogg", ascii("OggS\0\2\0\0\0\0\0\0"), 0, "this is no WAV file: it seems to be an Ogg file"),
                arguments(
                        "MP3 with a tag",
                        ascii("ID3\3\0\0\0\0\0\0\0\0"),
                        0,
                        "this is no WAV file: it seems to be an MPEG audio file"),
                arguments(
                        "MP3 without a tag",
                        ascii("\u00ff\u00fb\u0090d\0\0\0\0\0\0\0\0"),
                        0,
                        "this is no WAV file: it seems to be an MPEG audio file"),
                arguments("AU", ascii(".snd\0\0\0\u0018"), 0, "this is no WAV file: it seems to be an AU file"),
                arguments("CAF", ascii("caff\0\1\0\0desc"), 0, "this is no WAV file: it seems to be a CAF file"),
                arguments("MPEG-4", ascii("\0\0\0 ftypM4A "), 0, "this is no WAV file: it seems to be an MPEG-4 file"),
                arguments("text", ascii("hello, world"), 0, "this is no WAV file: it begins with 68 65 6C 6C"),
                arguments("one byte", ascii("R"), 0, "this is no WAV file: it begins with 52"),
                arguments(
                        "RIFF of another kind",
                        ascii("RIFF0000AVI LIST"),
                        8,
                        "this is no WAV file: a RIFF file of another kind (41 56 49 20)"),
                arguments("header cut off", cut(riff(), 10), 10, "the file ends within its header"),
                arguments(
                        "nothing but the header",
                        riff().bytes(),
                        12,
                        "the file ends before its format description and samples"),
                arguments(
                        "cut within the format",
                        cut(riff().pcm16(), 30),
                        30,
                        "the file ends within the format description"),
                arguments(
                        "no data",
                        riff().pcm16().chunk("LIST", new byte[4]).bytes(),
                        48,
                        "the file ends before its samples"),
                arguments(
                        "cut within a chunk header",
                        riff().pcm16().ascii("da").bytes(),
                        36,
                        "the file ends before its samples"),
                arguments(
                        "data before format",
                        riff().chunk("data", THREE).pcm16().bytes(),
                        12,
                        "the samples stand before their format description"),
                arguments(
                        "two formats",
                        riff().pcm16().pcm16().chunk("data", THREE).bytes(),
                        36,
                        "a second format description"),
                arguments(
                        "a chunk beyond the end",
                        riff().pcm16().ascii("LIST").int32(5000).raw(THREE).bytes(),
                        36,
                        "the chunk 'LIST' should be 5000 bytes long, but the file ends at byte 50, before its samples"),
                arguments(
                        "a chunk with a name of control characters",
                        riff().ascii("\33[2J").int32(-2).raw(THREE).bytes(),
                        12,
                        "the chunk '?[2J' should be 4294967294 bytes long, but the file ends at byte 26, before its samples"),
                arguments(
                        "a chunk of a negative 64-bit size",
                        form64("RF64")
                                .ascii("ds64")
                                .int32(40)
                                .int64(0)
                                .int64(6)
                                .int64(3)
                                .int32(1)
                                .ascii("axml")
                                .int64(-2)
                                .ascii("axml")
                                .int32(-1)
                                .bytes(),
                        60,
                        "the chunk 'axml' should be 18446744073709551614 bytes long, but the file ends at byte 68, before its samples"),
                arguments(
                        "64-bit sizes cut off",
                        form64("RF64").chunk("ds64", new byte[20]).bytes(),
                        20,
                        "the table of 64-bit sizes is cut off after 20 bytes"),
                arguments(
                        "short format",
                        riff().chunk("fmt ", new byte[14]).bytes(),
                        20,
                        "the format description has 14 bytes, but the shortest has 16"),
                arguments(
                        "extensible without its extension",
                        riff().fmt(EXTENSIBLE, 1, 48000, 2, 16)
                                .chunk("data", THREE)
                                .bytes(),
                        20,
                        "the extensible format description has 16 bytes instead of 40"),
                format(riff().fmt(PCM, 0, 48000, 2, 16), 22, "0 channels, allowed 1 to 1024"),
                format(riff().fmt(PCM, 1025, 48000, 2050, 16), 22, "1025 channels, allowed 1 to 1024"),
                format(riff().fmt(PCM, 1, 0, 2, 16), 24, "a sample rate of 0 Hz, allowed 1 to 4000000 Hz"),
                format(
                        riff().fmt(PCM, 1, 4_000_001, 2, 16),
                        24,
                        "a sample rate of 4000001 Hz, allowed 1 to 4000000 Hz"),
                format(riff().fmt(PCM, 1, -1, 2, 16), 24, "a sample rate of 4294967295 Hz, allowed 1 to 4000000 Hz"),
                format(
                        riff().fmt(PCM, 2, 48000, 0, 16),
                        32,
                        "a frame of 0 bytes cannot hold one sample of each of 2 channels"),
                format(
                        riff().fmt(PCM, 2, 48000, 5, 16),
                        32,
                        "a frame of 5 bytes cannot hold one sample of each of 2 channels"),
                format(
                        riff().fmt(PCM, 1, 48000, 2, 24),
                        32,
                        "integers of 24 bits in containers of 2 bytes cannot be read"),
                format(
                        riff().fmt(PCM, 1, 48000, 2, 0),
                        32,
                        "integers of 0 bits in containers of 2 bytes cannot be read"),
                format(
                        riff().fmt(PCM, 1, 48000, 8, 64),
                        32,
                        "integers of 64 bits in containers of 8 bytes cannot be read"),
                format(
                        riff().fmt(FLOAT, 1, 48000, 2, 16),
                        32,
                        "floating-point numbers of 16 bits in containers of 2 bytes cannot be read"),
                format(
                        riff().fmt(FLOAT, 1, 48000, 8, 32),
                        32,
                        "floating-point numbers of 32 bits in containers of 8 bytes cannot be read"),
                format(
                        riff().extensible(PCM, 1, 48000, 2, 16, 17),
                        38,
                        "17 valid bits in samples of 16 bits are too many"),
                encoding(0x0002, "ADPCM (format tag 0x0002)"),
                encoding(0x0006, "A-law (format tag 0x0006)"),
                encoding(0x0007, "mu-law (format tag 0x0007)"),
                encoding(0x0011, "ADPCM (format tag 0x0011)"),
                encoding(0x0031, "GSM 06.10 (format tag 0x0031)"),
                encoding(0x0050, "MPEG-1 layer 1 or 2 (format tag 0x0050)"),
                encoding(0x0055, "MPEG layer 3 (format tag 0x0055)"),
                encoding(0x4321, "of an unknown encoding (format tag 0x4321)"),
                format(
                        riff().extensible(0x0055, 1, 48000, 1, 8, 0),
                        44,
                        "the samples are MPEG layer 3 (format tag 0x0055), and only linear PCM and IEEE floating point can"
                                + " be read"),
                arguments(
                        "sub-format unknown",
                        riff().raw(Arrays.copyOfRange(
                                        riff().extensible(PCM, 1, 48000, 2, 16, 16)
                                                .bytes(),
                                        12,
                                        46))
                                .raw(new byte[14])
                                .chunk("data", THREE)
                                .bytes(),
                        44,
                        "samples of the unknown sub-format 01 00 00 00 00 00 00 00 00 00 00 00 00 00 00 00 cannot be"
                                + " read"));
    }

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.ISO_8859_1);
    }

    private static Arguments format(WavBytes file, int byteOffset, String problem) {
        return arguments(problem, file.chunk("data", THREE).bytes(), byteOffset, problem);
    }

    private static Arguments encoding(int tag, String name) {
        return format(
                riff().fmt(tag, 1, 48000, 2, 16),
                20,
                "the samples are " + name + ", and only linear PCM and IEEE floating point can be read");
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("refused")
    void whatIsNoRecordingIsRefused(String name, byte[] bytes, long byteOffset, String problem, @TempDir Path folder)
            throws IOException {
        Path path = Files.write(folder.resolve("a.wav"), bytes);
        assertRefused(() -> WavReader.open(path), path.toString(), byteOffset, problem);
        assertRefused(() -> WavReader.of(WavBytes.trickle(bytes, 1), "pipe"), "pipe", byteOffset, problem);
    }

    private interface Opening {
        WavReader open() throws IOException;
    }

    private static void assertRefused(Opening opening, String file, long byteOffset, String problem) {
        assertThatThrownBy(opening::open).isInstanceOfSatisfying(WavFormatException.class, refusal -> {
            assertThat(refusal).hasMessage(file + ": " + problem + " (byte " + byteOffset + ")");
            assertThat(refusal.file()).isEqualTo(file);
            assertThat(refusal.byteOffset()).isEqualTo(byteOffset);
        });
    }

    @Test
    void whatCannotBeOpenedIsRefused(@TempDir Path folder) throws IOException {
        Path file = Files.write(folder.resolve("a.wav"), new byte[4]);
        Path absent = folder.resolve("absent.wav");
        Path within = file.resolve("b.wav");
        assertRefused(() -> WavReader.open(folder), folder.toString(), 0, "this is a directory");
        assertRefused(() -> WavReader.open(absent), absent.toString(), 0, "there is no such file");
        assertThatThrownBy(() -> WavReader.open(within))
                .isInstanceOf(WavFormatException.class)
                .hasMessageStartingWith(within + ": it cannot be opened: ");
    }

    /** A disk that fails while the file is read: the samples before are given, then the failure is named. */
    @Test
    void aFailureOfTheDiskNamesFileAndByte() throws IOException {
        InputStream failing = new InputStream() {
            @Override
            public int read() throws IOException {
                throw new IOException("disk failure");
            }

            @Override
            public int read(byte[] target, int offset, int length) throws IOException {
                throw new IOException("disk failure");
            }
        };
        byte[] start = riff().pcm16().ascii("data").int32(1000).raw(THREE).bytes();
        WavReader reader = WavReader.of(new SequenceInputStream(new ByteArrayInputStream(start), failing), "a.wav");
        double[] buffer = new double[3];
        assertThat(reader.read(buffer, 0, 3)).isEqualTo(3);
        assertThatThrownBy(() -> reader.read(buffer, 0, 1))
                .isInstanceOf(IOException.class)
                .hasMessage("a.wav: cannot be read on (byte 50): disk failure");
        assertThatThrownBy(() -> WavReader.of(failing, "b.wav"))
                .isInstanceOf(IOException.class)
                .hasMessage("b.wav: cannot be read on (byte 0): disk failure");
    }

    @Test
    void aRefusedStreamIsClosed() {
        boolean[] closed = {false};
        InputStream stream = new ByteArrayInputStream(new byte[20]) {
            @Override
            public void close() {
                closed[0] = true;
            }
        };
        assertThatThrownBy(() -> WavReader.of(stream, "a.wav")).isInstanceOf(WavFormatException.class);
        assertThat(closed[0]).isTrue();
    }

    @Test
    @Timeout(20)
    void anEndlessPipeOfEmptyChunksIsGivenUp() {
        byte[] start = riff().bytes();
        InputStream endless = new InputStream() {
            private long at;

            @Override
            public int read() {
                return at < start.length ? start[(int) at++] : 0;
            }

            @Override
            public int read(byte[] target, int offset, int length) {
                for (int i = 0; i < length; i++) {
                    target[offset + i] = (byte) read();
                }
                return length;
            }
        };
        assertRefused(() -> WavReader.of(endless, "pipe"), "pipe", 8_000_012, "no samples within 1000000 chunks");
    }
}
