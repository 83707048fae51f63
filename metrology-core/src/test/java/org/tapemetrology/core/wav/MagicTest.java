/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What files that are no WAV files are called, and the window over a file. */
class MagicTest {
    private static ByteWindow window(byte[] bytes, long length) {
        return new ByteWindow("file", new ByteArrayInputStream(bytes), length);
    }

    private static String described(byte[] bytes) throws IOException {
        ByteWindow window = window(bytes, bytes.length);
        return Magic.describe(window, window.require(12));
    }

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.ISO_8859_1);
    }

    private static byte[] bytes(int... values) {
        byte[] all = new byte[values.length];
        for (int i = 0; i < values.length; i++) {
            all[i] = (byte) values[i];
        }
        return all;
    }

    @ParameterizedTest
    @CsvSource({
        "....ftyp...., an MPEG-4 file",
        "FORM....AIFF, an AIFF file",
        "RIFX, a big-endian RIFX file",
        "riff, a W64 file",
        "fLaC, a FLAC file",
        "OggS, an Ogg file",
        ".snd, an AU file",
        "caff, a CAF file",
        "ID3, an MPEG audio file"
    })
    void otherFilesAreCalledByTheirNames(String start, String name) throws IOException {
        assertThat(described(ascii(start))).isEqualTo("it seems to be " + name);
    }

    @Test
    void whatIsTooShortIsToldByItsBytes() throws IOException {
        assertThat(described(ascii("....ftyp..."))).isEqualTo("it begins with 2E 2E 2E 2E");
        assertThat(described(ascii("FORM....AIF"))).isEqualTo("it begins with 46 4F 52 4D");
        assertThat(described(ascii("fLa"))).isEqualTo("it begins with 66 4C 61");
        assertThat(described(ascii("ID"))).isEqualTo("it begins with 49 44");
        assertThat(described(bytes(0xFF))).isEqualTo("it begins with FF");
    }

    /** ISO/IEC 11172-3, 2.4.1.3: eleven bits of ones, a version that is not 01, a layer that is not 00. */
    @Test
    void framesOfMpegAreToldByTheirHeader() throws IOException {
        for (int second = 0; second < 256; second++) {
            boolean frame = second >> 5 == 7 && (second >> 3 & 3) != 1 && (second >> 1 & 3) != 0;
            assertThat(described(bytes(0xFF, second)).contains("MPEG audio"))
                    .as("FF %02X", second)
                    .isEqualTo(frame);
            assertThat(described(bytes(0xFE, second))).startsWith("it begins");
        }
    }

    /** Little-endian numbers of every size, wherever the window stands. */
    @Test
    void theWindowReadsNumbers() throws IOException {
        byte[] file = bytes(9, 0x80, 0x91, 0xA2, 0xB3, 0xC4, 0xD5, 0xE6, 0xF7, 1, 2, 3);
        ByteWindow window = window(file, file.length);
        assertThat(window.require(4)).isGreaterThanOrEqualTo(4);
        window.consume(1);
        assertThat(window.position()).isEqualTo(1);
        assertThat(window.require(11)).isEqualTo(11);
        assertThat(window.uint8(0)).isEqualTo(0x80);
        assertThat(window.uint16(0)).isEqualTo(0x9180);
        assertThat(window.int32(0)).isEqualTo(0xB3A2_9180);
        assertThat(window.uint32(0)).isEqualTo(0xB3A2_9180L);
        assertThat(window.int64(0)).isEqualTo(0xF7E6_D5C4_B3A2_9180L);
        assertThat(window.hex(0, 3)).isEqualTo("80 91 A2");
        assertThat(window.hex(2, 0)).isEmpty();
        assertThat(window.fourCc(7)).isEqualTo("\u00f7\u0001\u0002\u0003");
        assertThat(window.length()).isEqualTo(12);
        assertThat(window.name()).isEqualTo("file");
        assertThat(window.array()[window.start()]).isEqualTo((byte) 0x80);
    }

    /** A file is moved by its stream, a pipe is read on; both end where they end. */
    @Test
    void theWindowSkips() throws IOException {
        byte[] file = new byte[200_000];
        for (int i = 0; i < file.length; i++) {
            file[i] = (byte) (i % 251);
        }
        for (long length : new long[] {file.length, ByteWindow.UNKNOWN}) {
            ByteWindow window = window(file, length);
            window.require(10);
            assertThat(window.skip(150_003)).isEqualTo(150_003);
            assertThat(window.position()).isEqualTo(150_003);
            assertThat(window.require(2)).isGreaterThanOrEqualTo(2);
            assertThat(window.uint8(0)).isEqualTo(150_003 % 251);
            assertThat(window.skip(1)).isEqualTo(1);
            assertThat(window.uint8(0)).isEqualTo(150_004 % 251);
            assertThat(window.skip(100_000)).isEqualTo(file.length - 150_004);
            assertThat(window.position()).isEqualTo(file.length);
            assertThat(window.skip(1)).isZero();
            assertThat(window.require(1)).isZero();
        }
    }

    @Test
    void aStreamThatGivesNothingAtOnceIsAskedForOneByte() throws IOException {
        InputStream slow = new InputStream() {
            private int given;

            @Override
            public int read() {
                return given < 3 ? 10 + given++ : -1;
            }

            @Override
            public int read(byte[] into, int at, int count) {
                return 0;
            }
        };
        ByteWindow window = new ByteWindow("slow", slow, ByteWindow.UNKNOWN);
        assertThat(window.require(2)).isEqualTo(2);
        assertThat(window.uint8(1)).isEqualTo(11);
        assertThat(window.require(9)).isEqualTo(3);
        assertThat(window.uint8(2)).isEqualTo(12);
    }

    @Test
    void aDiskThatFailsIsToldWithTheByte() throws IOException {
        InputStream failing = new InputStream() {
            private int left = 5;

            @Override
            public int read() throws IOException {
                throw new IOException("worn out");
            }

            @Override
            public int read(byte[] into, int at, int count) throws IOException {
                if (left == 0) {
                    throw new IOException("worn out");
                }
                Arrays.fill(into, at, at + left, (byte) 1);
                int given = left;
                left = 0;
                return given;
            }

            @Override
            public long skip(long count) throws IOException {
                throw new IOException("stuck");
            }
        };
        ByteWindow window = new ByteWindow("disk", failing, 100);
        window.require(3);
        window.consume(2);
        assertThatThrownBy(() -> window.require(9))
                .isInstanceOf(IOException.class)
                .hasMessage("disk: cannot be read on (byte 5): worn out");
        assertThatThrownBy(() -> window.skip(50)).hasMessage("disk: cannot be read on (byte 5): stuck");
    }

    /** Names by RFC 2361 of what is no PCM. */
    @ParameterizedTest
    @CsvSource({
        "0x02, ADPCM",
        "0x10, ADPCM",
        "0x11, ADPCM",
        "0x17, ADPCM",
        "0x20, ADPCM",
        "0x200, ADPCM",
        "0x06, A-law",
        "0x07, mu-law",
        "0x14, G.723 ADPCM",
        "0x31, GSM 06.10",
        "0x40, G.721 ADPCM",
        "0x45, G.726 ADPCM",
        "0x64, G.726 ADPCM",
        "0x50, MPEG-1 layer 1 or 2",
        "0x55, MPEG layer 3",
        "0x65, G.722 ADPCM",
        "0x92, IEC 61937 (not PCM)",
        "0xFF, AAC",
        "0x1234, of an unknown encoding"
    })
    void otherEncodingsAreCalledByTheirNames(String tag, String name) throws IOException {
        int number = Integer.decode(tag);
        byte[] body = new byte[16];
        body[0] = (byte) number;
        body[1] = (byte) (number >> 8);
        ByteWindow window = window(body, body.length);
        assertThatThrownBy(() -> FormatChunk.read(window, 16))
                .isInstanceOf(WavFormatException.class)
                .hasMessageContaining("the samples are " + name + String.format(" (format tag 0x%04X)", number))
                .hasMessageContaining("only linear PCM and IEEE floating point");
    }
}
