/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.params.provider.Arguments.arguments;
import static org.tapemetrology.core.wav.WavBytes.FLOAT;
import static org.tapemetrology.core.wav.WavBytes.PCM;
import static org.tapemetrology.core.wav.WavBytes.form64;
import static org.tapemetrology.core.wav.WavBytes.ints;
import static org.tapemetrology.core.wav.WavBytes.readAll;
import static org.tapemetrology.core.wav.WavBytes.reader;
import static org.tapemetrology.core.wav.WavBytes.riff;
import static org.tapemetrology.core.wav.WavBytes.shorts;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.RandomAccessFile;
import java.io.SequenceInputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import javax.sound.sampled.AudioFileFormat;
import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioInputStream;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.UnsupportedAudioFileException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.wav.WavFormat.Encoding;

class WavReaderFormatsTest {
    private static final int FRAMES = 5000;

    /** Samples that the platform's own writer stored; the independent truth is its own reader. */
    static Stream<Arguments> platformFormats() {
        return Stream.of(8, 16, 24, 32)
                .flatMap(bits ->
                        Stream.of(1, 2, 6).map(channels -> arguments(bits, channels, AudioFormat.Encoding.PCM_SIGNED)));
    }

    static Stream<Arguments> platformFloats() {
        return Stream.of(32, 64).flatMap(bits -> Stream.of(1, 2).map(channels -> arguments(bits, channels)));
    }

    @ParameterizedTest
    @MethodSource("platformFormats")
    void integersAgreeWithThePlatformsReader(int bits, int channels, AudioFormat.Encoding signed) throws Exception {
        AudioFormat.Encoding encoding = bits == 8 ? AudioFormat.Encoding.PCM_UNSIGNED : signed;
        byte[] file = platformFile(encoding, bits, channels);

        byte[] stored = platformSamples(file);
        double[] expected = new double[FRAMES * channels];
        for (int i = 0; i < expected.length; i++) {
            long value = 0;
            for (int b = bits / 8 - 1; b >= 0; b--) {
                value = value << 8 | (stored[i * bits / 8 + b] & 0xFF);
            }
            long half = 1L << (bits - 1);
            long signedValue = bits == 8 ? value - half : value >= half ? value - 2 * half : value;
            expected[i] = (double) signedValue / half;
        }
        // Exact: every integer of up to 32 bits, divided by a power of two, is a double.
        assertThat(readAll(file)).containsExactly(expected);
        assertThat(reader(file).format()).isEqualTo(new WavFormat(44100, channels, bits, bits / 8, Encoding.INTEGER));
        assertThat(reader(file).frames()).hasValue(FRAMES);
        assertReadsAsFloatToo(file, expected);
    }

    @ParameterizedTest
    @MethodSource("platformFloats")
    void floatingPointAgreesWithThePlatformsReader(int bits, int channels) throws Exception {
        byte[] file = platformFile(AudioFormat.Encoding.PCM_FLOAT, bits, channels);
        ByteBuffer stored = ByteBuffer.wrap(platformSamples(file)).order(ByteOrder.LITTLE_ENDIAN);
        double[] expected = new double[FRAMES * channels];
        for (int i = 0; i < expected.length; i++) {
            expected[i] = bits == 32 ? stored.getFloat() : stored.getDouble();
        }

        assertThat(readAll(file)).containsExactly(expected);
        assertThat(reader(file).format()).isEqualTo(new WavFormat(44100, channels, bits, bits / 8, Encoding.FLOAT));
        assertReadsAsFloatToo(file, expected);
    }

    private static void assertReadsAsFloatToo(byte[] file, double[] expected) throws IOException {
        try (WavReader reader = reader(file)) {
            int channels = reader.format().channels();
            float[] all = new float[FRAMES * channels + 3];
            assertThat(reader.read(all, 3, FRAMES)).isEqualTo(FRAMES);
            assertThat(reader.read(all, 0, 1)).isEqualTo(-1);
            for (int i = 0; i < expected.length; i++) {
                assertThat(all[i + 3]).isEqualTo((float) expected[i]);
            }
        }
    }

    private static byte[] platformFile(AudioFormat.Encoding encoding, int bits, int channels) throws IOException {
        int bytesPerFrame = bits / 8 * channels;
        ByteBuffer samples = ByteBuffer.allocate(FRAMES * bytesPerFrame).order(ByteOrder.LITTLE_ENDIAN);
        Random random = new Random(20 + bits + channels);
        if (encoding.equals(AudioFormat.Encoding.PCM_FLOAT)) {
            while (samples.hasRemaining()) {
                double value = 2 * random.nextDouble() - 1;
                if (bits == 32) {
                    samples.putFloat((float) value);
                } else {
                    samples.putDouble(value);
                }
            }
        } else {
            random.nextBytes(samples.array());
        }
        AudioFormat format = new AudioFormat(encoding, 44100, bits, channels, bytesPerFrame, 44100, false);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        AudioSystem.write(
                new AudioInputStream(new ByteArrayInputStream(samples.array()), format, FRAMES),
                AudioFileFormat.Type.WAVE,
                out);
        return out.toByteArray();
    }

    private static byte[] platformSamples(byte[] file) throws IOException, UnsupportedAudioFileException {
        try (AudioInputStream in = AudioSystem.getAudioInputStream(new ByteArrayInputStream(file))) {
            return in.readAllBytes();
        }
    }

    /** Formats that the platform's reader refuses or misreads: values worked out by hand. */
    static Stream<Arguments> assembled() {
        byte[] left24 = ints(0x40000000, 0x80000000, 0x7FFFFF00, 0x00000100);
        double[] values24 = {0.5, -1, 1 - 0x1p-23, 0x1p-23};
        byte[] right24 = ints(0x00400000, 0xFF800000, 0x007FFFFF, 0x00000001);
        return Stream.of(
                arguments(
                        "24 in 32, plain, left-justified",
                        riff().fmt(PCM, 1, 96000, 4, 24).chunk("data", left24),
                        new WavFormat(96000, 1, 24, 4, Encoding.INTEGER),
                        values24),
                arguments(
                        "24 in 32, plain, right-justified",
                        riff().fmt(PCM, 2, 96000, 8, 24).chunk("data", right24),
                        new WavFormat(96000, 2, 24, 4, Encoding.INTEGER),
                        values24),
                arguments(
                        "24 in 32, extensible",
                        riff().extensible(PCM, 2, 48000, 8, 32, 24).chunk("data", left24),
                        new WavFormat(48000, 2, 24, 4, Encoding.INTEGER),
                        values24),
                arguments(
                        "an extensible container is left-justified whatever it holds",
                        riff().extensible(PCM, 1, 48000, 4, 32, 24).chunk("data", ints(0x00400001)),
                        new WavFormat(48000, 1, 24, 4, Encoding.INTEGER),
                        new double[] {0x1p-9 + 0x1p-31}),
                arguments(
                        "20 in 24, extensible",
                        riff().extensible(PCM, 1, 48000, 3, 24, 20)
                                .chunk("data", (byte) 0, (byte) 0, (byte) 0xC0, (byte) 0x10, (byte) 0, (byte) 0),
                        new WavFormat(48000, 1, 20, 3, Encoding.INTEGER),
                        new double[] {-0.5, 0x1p-19}),
                arguments(
                        "12 in 16, plain",
                        riff().fmt(PCM, 1, 48000, 2, 12).chunk("data", shorts(0x4000, 0x0010)),
                        new WavFormat(48000, 1, 12, 2, Encoding.INTEGER),
                        new double[] {0.5, 0x1p-11}),
                arguments(
                        "extensible that leaves its valid bits at 0",
                        riff().extensible(PCM, 1, 48000, 2, 16, 0).chunk("data", shorts(-0x4000)),
                        new WavFormat(48000, 1, 16, 2, Encoding.INTEGER),
                        new double[] {-0.5}),
                arguments(
                        "float, extensible",
                        riff().extensible(FLOAT, 1, 48000, 4, 32, 32)
                                .chunk("data", ints(Float.floatToIntBits(1.5f), Float.floatToIntBits(-0.25f))),
                        new WavFormat(48000, 1, 32, 4, Encoding.FLOAT),
                        new double[] {1.5, -0.25}),
                arguments(
                        "8 bit is offset binary",
                        riff().fmt(PCM, 1, 8000, 1, 8).chunk("data", (byte) 0, (byte) 128, (byte) 255, (byte) 192),
                        new WavFormat(8000, 1, 8, 1, Encoding.INTEGER),
                        new double[] {-1, 0, 127 / 128.0, 0.5}),
                arguments(
                        "lowest rate, most channels",
                        riff().fmt(PCM, 1024, 1, 1024, 8).chunk("data", filled(1024, (byte) 192)),
                        new WavFormat(1, 1024, 8, 1, Encoding.INTEGER),
                        filledWithHalf(1024)),
                arguments(
                        "highest rate",
                        riff().fmt(PCM, 1, 4_000_000, 2, 16).chunk("data", shorts(0x4000)),
                        new WavFormat(4_000_000, 1, 16, 2, Encoding.INTEGER),
                        new double[] {0.5}));
    }

    private static byte[] filled(int count, byte value) {
        byte[] bytes = new byte[count];
        Arrays.fill(bytes, value);
        return bytes;
    }

    private static double[] filledWithHalf(int count) {
        double[] values = new double[count];
        Arrays.fill(values, 0.5);
        return values;
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("assembled")
    void assembledFormatsReadAsTheSpecificationSays(String name, WavBytes file, WavFormat format, double[] expected)
            throws IOException {
        try (WavReader reader = reader(file.bytes())) {
            assertThat(reader.format()).isEqualTo(format);
            assertThat(reader.frames()).hasValue(expected.length / format.channels());
            assertThat(readAll(reader, 3)).containsExactly(expected);
            assertThat(reader.damage()).isEmpty();
            assertThat(reader.framesRead()).isEqualTo(expected.length / format.channels());
        }
    }

    @Test
    void justificationIsFoundBehindDigitalSilenceOfMoreThanOneWindow() throws IOException {
        int[] right = new int[40_000];
        int[] left = new int[40_000];
        Random random = new Random(3);
        for (int i = 35_001; i < right.length; i++) {
            right[i] = random.nextInt() >> 12;
            left[i] = right[i] << 8;
        }
        for (int block : new int[] {1, 7, 4096, 40_000}) {
            double[] fromRight = readAll(
                    reader(riff().fmt(PCM, 1, 48000, 4, 24)
                            .chunk("data", ints(right))
                            .bytes()),
                    block);
            double[] fromLeft = readAll(
                    reader(riff().fmt(PCM, 1, 48000, 4, 24)
                            .chunk("data", ints(left))
                            .bytes()),
                    block);
            assertThat(fromRight).containsExactly(fromLeft);
            assertThat(fromRight[39_999]).isEqualTo(right[39_999] * 0x1p-23).isNotZero();
        }
    }

    /** Whole files around the same three samples. */
    static Stream<Arguments> arrangements() {
        byte[] samples = shorts(0x4000, -0x4000, 1);
        byte[] odd = {1, 2, 3};
        byte[] large = new byte[200_001];
        WavBytes many = riff();
        for (int i = 0; i < 5000; i++) {
            many.chunk("note", new byte[i % 7]);
        }
        return Stream.of(
                arguments("nothing else", riff().pcm16().chunk("data", samples)),
                arguments(
                        "odd chunks with pad bytes",
                        riff().chunk("odd1", odd).pcm16().chunk("LIST", odd).chunk("data", samples)),
                arguments(
                        "an odd chunk without pad byte before fmt",
                        riff().unpadded("odd1", odd).pcm16().chunk("data", samples)),
                arguments(
                        "an odd chunk without pad byte before data",
                        riff().pcm16().unpadded("LIST", odd).chunk("data", samples)),
                arguments(
                        "an odd chunk without pad byte before an unknown one",
                        riff().pcm16().unpadded("LIST", odd).chunk("Zzz9", odd).chunk("data", samples)),
                arguments(
                        "a pad byte that is a letter",
                        riff().pcm16().unpadded("LIST", odd).ascii("x").chunk("data", samples)),
                arguments(
                        "large chunks before fmt and data",
                        riff().chunk("bext", large).pcm16().chunk("junk", large).chunk("data", samples)),
                arguments("thousands of chunks", many.pcm16().chunk("data", samples)),
                arguments(
                        "empty chunks",
                        riff().chunk("JUNK").pcm16().chunk("JUNK").chunk("data", samples)),
                arguments(
                        "chunks behind the samples",
                        riff().pcm16().chunk("data", samples).chunk("LIST", odd).chunk("id3 ", odd)),
                arguments(
                        "a long fmt chunk",
                        riff().ascii("fmt ")
                                .int32(18)
                                .raw(Arrays.copyOfRange(riff().pcm16().bytes(), 20, 36))
                                .int16(0)
                                .chunk("data", samples)),
                arguments(
                        "RF64",
                        form64("RF64")
                                .ds64(1, 6, 3)
                                .pcm16()
                                .ascii("data")
                                .int32(-1)
                                .raw(samples)),
                arguments(
                        "BW64",
                        form64("BW64")
                                .ds64(1, 6, 3)
                                .pcm16()
                                .chunk("axml", odd)
                                .ascii("data")
                                .int32(-1)
                                .raw(samples)
                                .chunk("chna", odd)),
                arguments(
                        "RF64 with a 32-bit data size",
                        form64("RF64").ds64(1, 0, 0).pcm16().chunk("data", samples)),
                arguments(
                        "RF64 with a 64-bit size of another chunk",
                        form64("RF64")
                                .ascii("ds64")
                                .int32(40)
                                .int64(1)
                                .int64(6)
                                .int64(3)
                                .int32(1)
                                .ascii("axml")
                                .int64(4)
                                .pcm16()
                                .ascii("axml")
                                .int32(-1)
                                .int32(7)
                                .ascii("data")
                                .int32(-1)
                                .raw(samples)));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("arrangements")
    void chunksMayStandInAnyArrangement(String name, WavBytes file, @TempDir Path folder) throws IOException {
        byte[] bytes = file.bytes();
        Path path = Files.write(folder.resolve("a.wav"), bytes);
        try (WavReader fromFile = WavReader.open(path);
                WavReader fromPipe = WavReader.of(WavBytes.trickle(bytes, 3), "pipe")) {
            for (WavReader reader : List.of(fromFile, fromPipe)) {
                assertThat(reader.frames()).hasValue(3);
                assertThat(readAll(reader, 2)).containsExactly(0.5, -0.5, 0x1p-15);
                assertThat(reader.damage()).isEmpty();
            }
        }
    }

    @Test
    void anEmptyRecordingIsNoDamage() throws IOException {
        for (WavBytes file : List.of(
                riff().pcm16().chunk("data"), riff().pcm16().chunk("data").chunk("LIST", new byte[4]))) {
            try (WavReader reader = reader(file.bytes())) {
                assertThat(reader.frames()).hasValue(0);
                assertThat(readAll(reader, 8)).isEmpty();
                assertThat(reader.damage()).isEmpty();
            }
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 5, 1000, 70_000})
    void blockSizeAndDeliveryDoNotMatter(int atOnce) throws IOException {
        byte[] samples = new byte[6 * 30_000];
        new Random(7).nextBytes(samples);
        byte[] file = riff().fmt(PCM, 2, 48000, 6, 24).chunk("data", samples).bytes();
        double[] whole = readAll(reader(file), 30_000);
        assertThat(whole).hasSize(60_000);
        for (int block : new int[] {1, 7, 480, 4096}) {
            try (WavReader reader = WavReader.of(WavBytes.trickle(file, atOnce), "pipe")) {
                assertThat(Arrays.equals(readAll(reader, block), whole)).isTrue();
            }
        }
    }

    @Test
    void aReadGivesFewerFramesOnlyAtTheEnd() throws IOException {
        byte[] file = riff().pcm16().chunk("data", new byte[200]).bytes();
        try (WavReader reader = WavReader.of(WavBytes.trickle(file, 3), "pipe")) {
            double[] buffer = new double[64];
            assertThat(reader.read(buffer, 0, 0)).isZero();
            assertThat(reader.read(buffer, 0, 64)).isEqualTo(64);
            assertThat(reader.read(buffer, 0, 64)).isEqualTo(36);
            assertThat(reader.read(buffer, 0, 64)).isEqualTo(-1);
            assertThat(reader.read(buffer, 0, 64)).isEqualTo(-1);
            assertThat(reader.framesRead()).isEqualTo(100);
        }
    }

    @Test
    void wrongArgumentsAndWrongOrderAreRefused() throws IOException {
        WavReader reader = reader(
                riff().fmt(PCM, 2, 48000, 4, 16).chunk("data", new byte[400]).bytes());
        double[] buffer = new double[10];
        assertThatThrownBy(() -> reader.read(buffer, 0, 6))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("frames: 6 of 2 samples at offset 0, allowed is what fits into 10 samples");
        assertThatThrownBy(() -> reader.read(buffer, -1, 1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> reader.read(buffer, 0, -1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> reader.read(new float[10], 1, Integer.MAX_VALUE))
                .isInstanceOf(IllegalArgumentException.class);
        assertThat(reader.framesRead()).isZero();
        reader.close();
        assertThatThrownBy(() -> reader.read(buffer, 0, 1))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("closed");
    }

    /** Sparse, so that it takes no room on the disk. */
    @Test
    void rf64BeyondFourGibibytesHasItsLengthAndBegins(@TempDir Path folder) throws IOException {
        long dataBytes = 5L << 30;
        Path path = folder.resolve("long.wav");
        byte[] start = form64("RF64")
                .ds64(dataBytes + 72, dataBytes, dataBytes / 8)
                .fmt(FLOAT, 1, 192000, 8, 64)
                .ascii("data")
                .int32(-1)
                .int64(Double.doubleToLongBits(0.75))
                .bytes();
        sparse(path, start, start.length - 8 + dataBytes);
        double[] buffer = new double[1024];
        try (WavReader reader = WavReader.open(path)) {
            assertThat(reader.frames()).hasValue(dataBytes / 8);
            assertThat(reader.read(buffer, 0, 1024)).isEqualTo(1024);
            assertThat(buffer).startsWith(0.75, 0.0).endsWith(0.0);
            assertThat(reader.damage()).isEmpty();
        }
    }

    /** The bytes between header and end are whatever the buffer holds, so that producing them takes no time. */
    @Test
    @Timeout(30)
    void bw64BeyondFourGibibytesIsReadToItsLastSample() throws IOException {
        long frames = (1L << 32) / 4096 + 1000;
        byte[] start = form64("BW64")
                .ds64(0, frames * 4096, frames)
                .fmt(FLOAT, 512, 192000, 4096, 64)
                .ascii("data")
                .int32(-1)
                .bytes();
        byte[] end = new WavBytes()
                .int64(Double.doubleToLongBits(0.75))
                .chunk("axml", new byte[3])
                .bytes();
        InputStream pipe = new SequenceInputStream(Collections.enumeration(List.of(
                new ByteArrayInputStream(start), new Filler(frames * 4096 - 8), new ByteArrayInputStream(end))));
        double[] buffer = new double[512 * 1024];
        try (WavReader reader = WavReader.of(pipe, "pipe")) {
            assertThat(reader.frames()).hasValue(frames);
            for (long left = frames; left > 0; left -= 1024) {
                int expected = (int) Math.min(1024, left);
                assertThat(reader.read(buffer, 0, 1024)).isEqualTo(expected);
            }
            assertThat(buffer[(int) ((frames - 1) % 1024) * 512 + 511]).isEqualTo(0.75);
            assertThat(reader.read(buffer, 0, 1)).isEqualTo(-1);
            assertThat(reader.framesRead()).isEqualTo(frames);
            assertThat(reader.damage()).isEmpty();
        }
    }

    private static final class Filler extends InputStream {
        private long left;

        Filler(long length) {
            left = length;
        }

        @Override
        public int read() {
            return left-- > 0 ? 0 : -1;
        }

        @Override
        public int read(byte[] target, int offset, int length) {
            int count = (int) Math.min(length, left);
            left -= count;
            return count == 0 ? -1 : count;
        }
    }

    @Test
    @Timeout(10)
    void aChunkBeyondFourGibibytesBeforeTheSamplesIsPassedWithoutReadingIt(@TempDir Path folder) throws IOException {
        long chunkBytes = 6L << 30;
        Path path = folder.resolve("late.wav");
        byte[] start = form64("BW64")
                .ascii("ds64")
                .int32(40)
                .int64(0)
                .int64(2)
                .int64(1)
                .int32(1)
                .ascii("axml")
                .int64(chunkBytes)
                .ascii("axml")
                .int32(-1)
                .bytes();
        byte[] end = new WavBytes().pcm16().chunk("data", shorts(0x4000)).bytes();
        try (RandomAccessFile file = new RandomAccessFile(path.toFile(), "rw")) {
            file.write(start);
            file.seek(start.length + chunkBytes);
            file.write(end);
        }
        long before = System.nanoTime();
        try (WavReader reader = WavReader.open(path)) {
            assertThat(readAll(reader, 10)).containsExactly(0.5);
        }
        // Reading 6 GiB takes a second or more on any disk; moving past them takes less than a millisecond.
        assertThat(Duration.ofNanos(System.nanoTime() - before)).isLessThan(Duration.ofMillis(500));
    }

    @Test
    void aThirtyTwoBitSizeThatOverflowedIsMended(@TempDir Path folder) throws IOException {
        long dataBytes = (1L << 32) + 4000;
        Path path = folder.resolve("overflow.wav");
        byte[] start = riff().pcm16().ascii("data").int32(4000).bytes();
        sparse(path, start, start.length + dataBytes);
        try (WavReader reader = WavReader.open(path)) {
            assertThat(reader.frames()).hasValue(dataBytes / 2);
            assertThat(reader.damage())
                    .contains(new WavDamage(
                            "the recording is too long for its 32-bit size (byte 40): read as 4294971296 bytes instead"
                                    + " of 4000",
                            40));
        }
    }

    private static void sparse(Path path, byte[] start, long length) throws IOException {
        try (RandomAccessFile file = new RandomAccessFile(path.toFile(), "rw")) {
            file.write(start);
            file.setLength(length);
        }
    }

    @Test
    void formatsOutsideTheirRangesAreRefused() {
        assertThatThrownBy(() -> new WavFormat(0, 1, 16, 2, Encoding.INTEGER))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("sample rate: 0, allowed 1 to 4000000");
        assertThatThrownBy(() -> new WavFormat(48000, 1, 17, 2, Encoding.INTEGER))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("bits per sample: 17, allowed 1 to 16");
        assertThatThrownBy(() -> new WavFormat(48000, 1, 24, 3, Encoding.FLOAT))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("bytes per sample: 3, allowed 4 or 8");
        assertThat(new WavFormat(48000, 6, 24, 4, Encoding.INTEGER).bytesPerFrame())
                .isEqualTo(24);
    }
}
