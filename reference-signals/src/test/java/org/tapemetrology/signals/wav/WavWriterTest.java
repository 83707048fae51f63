/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.wav;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioInputStream;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.UnsupportedAudioFileException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.signals.Constant;
import org.tapemetrology.signals.Quantiser;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Sine;

/** The platform's own sound package is the independent reader. */
class WavWriterTest {
    private static final int FRAMES = 5001;
    private static final SampledSignal LEFT = SampledSignal.of(new Sine(1000, 0.9), 44_100);
    private static final SampledSignal RIGHT = SampledSignal.of(new Sine(315, 0.5, 1), 44_100);

    @TempDir
    Path directory;

    @ParameterizedTest
    @CsvSource({
        "PCM_8,false",
        "PCM_8,true",
        "PCM_16,false",
        "PCM_16,true",
        "PCM_24,false",
        "PCM_24,true",
        "PCM_32,false",
        "PCM_32,true",
        "FLOAT_32,false",
        "FLOAT_64,false",
        "FLOAT_32,true",
        "FLOAT_64,true"
    })
    void independentReaderFindsTheSamples(WavEncoding encoding, boolean extensible) throws Exception {
        Path file = directory.resolve("a.wav");
        WavWriter.Builder builder =
                WavWriter.to(file).sampleRateHz(44_100).channels(2).encoding(encoding);
        try (WavWriter writer = (extensible ? builder.extensible() : builder).create()) {
            writer.write(new SampledSignal[] {LEFT, RIGHT}, FRAMES);
            assertThat(writer.saturatedSamples()).isZero();
        }

        double[][] read = read(file, encoding.isFloatingPoint());

        // Half a step of the integers; the rounding of the 32-bit float; none of the 64-bit one.
        double half = encoding == WavEncoding.FLOAT_64
                ? 0
                : encoding.isFloatingPoint() ? 0x1p-25 : Math.scalb(1.0, -encoding.validBits());
        for (int i = 0; i < FRAMES; i++) {
            assertThat(read[0][i]).isCloseTo(LEFT.sample(i), within(half));
            assertThat(read[1][i]).isCloseTo(RIGHT.sample(i), within(half));
        }
        assertThat(read[0]).hasSize(FRAMES);
    }

    /** The sound package knows the container by its size, not that the lower byte carries nothing. */
    @Test
    void twentyFourBitsLieInTheUpperBytesOfThirtyTwo() throws IOException {
        Path file = directory.resolve("a.wav");
        try (WavWriter writer = WavWriter.to(file)
                .encoding(WavEncoding.PCM_24_IN_32)
                .rf64(Rf64Mode.NEVER)
                .create()) {
            writer.write(new double[] {0.5, -0x1p-23});
        }
        ByteBuffer bytes = bytes(file);

        assertThat(bytes.getShort(20)).isEqualTo((short) 0xFFFE);
        assertThat(bytes.getShort(34)).isEqualTo((short) 32);
        assertThat(bytes.getShort(38)).isEqualTo((short) 24);
        assertThat(bytes.getShort(44)).isEqualTo((short) 1);
        assertThat(bytes.getInt(68)).isEqualTo(0x40000000);
        assertThat(bytes.getInt(72)).isEqualTo(0xFFFFFF00);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 480, 4096})
    void anyDivisionIntoBlocksGivesTheSameFile(int block) throws IOException {
        Path whole = directory.resolve("whole.wav");
        Path parts = directory.resolve("parts.wav");
        try (WavWriter writer =
                WavWriter.to(whole).sampleRateHz(44_100).dither(5).create()) {
            writer.write(LEFT, FRAMES);
        }
        try (WavWriter writer =
                WavWriter.to(parts).sampleRateHz(44_100).dither(5).create()) {
            for (int start = 0; start < FRAMES; start += block) {
                writer.write(LEFT.samples(start, Math.min(block, FRAMES - start)));
            }
        }

        assertThat(Files.mismatch(whole, parts)).isEqualTo(-1);
    }

    @Test
    void ditherIsThatOfTheQuantiserAndIndependentInEachChannel() throws Exception {
        Path file = directory.resolve("a.wav");
        try (WavWriter writer =
                WavWriter.to(file).sampleRateHz(44_100).channels(2).dither(5).create()) {
            writer.write(new SampledSignal[] {LEFT, LEFT}, FRAMES);
        }
        double[][] read = read(file, false);

        assertThat(read[0]).isEqualTo(LEFT.quantised(Quantiser.dithered(16, 5)).samples(0, FRAMES));
        assertThat(read[1]).isNotEqualTo(read[0]);
    }

    @Test
    void oddDataIsPaddedAndNotCounted() throws IOException {
        Path file = directory.resolve("a.wav");
        try (WavWriter writer = WavWriter.to(file)
                .encoding(WavEncoding.PCM_8)
                .rf64(Rf64Mode.NEVER)
                .create()) {
            writer.write(new double[] {0, 0.5, -1});
        }
        ByteBuffer bytes = bytes(file);

        assertThat(bytes.capacity()).isEqualTo(48);
        assertThat(bytes.getInt(4)).isEqualTo(40);
        assertThat(bytes.getInt(40)).isEqualTo(3);
        assertThat(new int[] {bytes.get(44) & 0xFF, bytes.get(45) & 0xFF, bytes.get(46) & 0xFF})
                .containsExactly(128, 192, 0);
    }

    /** Layout of EBU Tech 3306: RF64, sizes of 32 bits all ones, ds64 first with riff size, data size, sample count. */
    @Test
    void rf64CarriesItsSizesInDs64() throws IOException {
        Path file = directory.resolve("a.wav");
        try (WavWriter writer = WavWriter.to(file).rf64(Rf64Mode.ALWAYS).create()) {
            writer.write(new double[1000]);
        }

        assertRf64(bytes(file), 1000, 2000);
    }

    @Test
    void fileThatOutgrowsThePlainSizesBecomesRf64() throws Exception {
        Path small = directory.resolve("small.wav");
        Path large = directory.resolve("large.wav");
        for (Path file : new Path[] {small, large}) {
            // The header of 80 bytes and 1000 samples of 2 bytes fill the limit; one more sample exceeds it.
            try (WavWriter writer = WavWriter.to(file).create(2080)) {
                writer.write(new double[file.equals(small) ? 1000 : 1001]);
            }
        }

        assertThat(tag(bytes(small), 0)).isEqualTo("RIFF");
        assertThat(tag(bytes(small), 12)).isEqualTo("JUNK");
        assertThat(read(small, false)[0]).hasSize(1000);
        assertRf64(bytes(large), 1001, 2002);
    }

    @Test
    void plainFileRefusesToOutgrowItsSizes() throws IOException {
        Path file = directory.resolve("a.wav");
        try (WavWriter writer = WavWriter.to(file).rf64(Rf64Mode.NEVER).create(2044)) {
            writer.write(new double[1000]);
            assertThatThrownBy(() -> writer.write(new double[1]))
                    .isInstanceOf(IOException.class)
                    .hasMessageContaining("at frame 1000");
        }
        assertThat(bytes(file).getInt(40)).isEqualTo(2000);
    }

    @Test
    void existingFileIsKeptUnlessToldOtherwise() throws IOException {
        Path file = Files.writeString(directory.resolve("a.wav"), "precious");

        assertThatThrownBy(() -> WavWriter.to(file).create()).isInstanceOf(FileAlreadyExistsException.class);
        assertThat(file).hasContent("precious");
        WavWriter.to(file).overwrite().create().close();
        assertThat(bytes(file).capacity()).isEqualTo(80);
    }

    @Test
    void saturatedSamplesAreCounted() throws Exception {
        Path file = directory.resolve("a.wav");
        try (WavWriter writer = WavWriter.to(file).create()) {
            writer.write(new double[] {0.5, 1.5, -1.5, -1, 1});
            assertThat(writer.saturatedSamples()).isEqualTo(3);
            assertThat(writer.frames()).isEqualTo(5);
        }
        assertThat(read(file, false)[0]).containsExactly(0.5, 32767 / 32768.0, -1, -1, 32767 / 32768.0);
    }

    @ParameterizedTest
    @EnumSource(
            value = WavEncoding.class,
            names = {"FLOAT_32", "FLOAT_64"})
    void floatingPointKeepsWhatIsBeyondFullScale(WavEncoding encoding) throws Exception {
        Path file = directory.resolve("a.wav");
        try (WavWriter writer = WavWriter.to(file).encoding(encoding).create()) {
            writer.write(new double[] {1.5, -2, Double.NaN});
        }
        assertThat(read(file, true)[0]).containsExactly(1.5, -2, Double.NaN);
    }

    @Test
    void wrongUseIsNamed() throws IOException {
        WavWriter writer = WavWriter.to(directory.resolve("a.wav")).channels(2).create();
        try (writer) {
            assertThatThrownBy(() -> writer.write(new double[3]))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("number of channels is 1, allowed: that of the file, 2");
            assertThatThrownBy(() -> writer.write(new double[3], new double[2]))
                    .hasMessageContaining("a channel holds 2 samples, allowed: as many as the first, 3");
            SampledSignal other = SampledSignal.of(Constant.SILENCE, 44_100);
            assertThatThrownBy(() -> writer.write(new SampledSignal[] {other, other}, 1))
                    .hasMessageContaining("sample rate of the signal is 44100.0 Hz");
            assertThatThrownBy(() -> writer.write(new double[2], new double[] {0, Double.NaN}))
                    .hasMessage("sample of channel 2 at frame 1 is NaN, allowed in an integer file: finite");
            assertThat(writer.frames()).isZero();
        }
        writer.close();
        assertThatThrownBy(() -> writer.write(new double[1], new double[1]))
                .isInstanceOf(IllegalStateException.class)
                .hasMessage("the file is closed");
        assertThatThrownBy(() -> WavWriter.to(directory).sampleRateHz(0)).hasMessageContaining("sample rate");
    }

    private static void assertRf64(ByteBuffer bytes, long frames, long dataBytes) {
        assertThat(tag(bytes, 0)).isEqualTo("RF64");
        assertThat(bytes.getInt(4)).isEqualTo(-1);
        assertThat(tag(bytes, 8)).isEqualTo("WAVE");
        assertThat(tag(bytes, 12)).isEqualTo("ds64");
        assertThat(bytes.getInt(16)).isEqualTo(28);
        assertThat(bytes.getLong(20)).isEqualTo(bytes.capacity() - 8L);
        assertThat(bytes.getLong(28)).isEqualTo(dataBytes);
        assertThat(bytes.getLong(36)).isEqualTo(frames);
        assertThat(bytes.getInt(44)).isZero();
        assertThat(tag(bytes, 48)).isEqualTo("fmt ");
        assertThat(tag(bytes, 72)).isEqualTo("data");
        assertThat(bytes.getInt(76)).isEqualTo(-1);
        assertThat(bytes.capacity()).isEqualTo((int) (80 + dataBytes));
    }

    private static String tag(ByteBuffer bytes, int offset) {
        byte[] letters = new byte[4];
        bytes.get(offset, letters);
        return new String(letters, StandardCharsets.US_ASCII);
    }

    private static ByteBuffer bytes(Path file) throws IOException {
        return ByteBuffer.wrap(Files.readAllBytes(file)).order(ByteOrder.LITTLE_ENDIAN);
    }

    private static double[][] read(Path file, boolean floatingPoint) throws IOException, UnsupportedAudioFileException {
        try (AudioInputStream stream = AudioSystem.getAudioInputStream(file.toFile())) {
            AudioFormat format = stream.getFormat();
            assertThat(format.getEncoding())
                    .isEqualTo(
                            floatingPoint
                                    ? AudioFormat.Encoding.PCM_FLOAT
                                    : format.getSampleSizeInBits() == 8
                                            ? AudioFormat.Encoding.PCM_UNSIGNED
                                            : AudioFormat.Encoding.PCM_SIGNED);
            assertThat(format.isBigEndian()).isFalse();
            int size = format.getSampleSizeInBits() / 8;
            byte[] data = stream.readAllBytes();
            ByteBuffer bytes = ByteBuffer.wrap(data).order(ByteOrder.LITTLE_ENDIAN);
            int frames = data.length / format.getFrameSize();
            assertThat(stream.getFrameLength()).isEqualTo(frames);
            double[][] samples = new double[format.getChannels()][frames];
            for (int frame = 0; frame < frames; frame++) {
                for (double[] channel : samples) {
                    channel[frame] = sample(bytes, size, floatingPoint);
                }
            }
            return samples;
        }
    }

    private static double sample(ByteBuffer bytes, int size, boolean floatingPoint) {
        return switch (size) {
            case 1 -> ((bytes.get() & 0xFF) - 128) / 128.0;
            case 2 -> bytes.getShort() / 32768.0;
            case 3 -> ((bytes.getShort() & 0xFFFF) + (bytes.get() << 16)) / 8388608.0;
            case 4 -> floatingPoint ? bytes.getFloat() : bytes.getInt() / 2147483648.0;
            default -> bytes.getDouble();
        };
    }
}
