/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowable;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.tapemetrology.core.wav.WavFormat.Encoding;

/**
 * Files of two general-purpose programs, sox and ffmpeg, against the same signal as headerless samples from the same
 * program. Both must be installed: without them these tests fail.
 */
@Timeout(60)
class WavReaderToolFilesTest {
    private static final int FRAMES = 24_000;
    private static final String TWO_TONES = "aevalsrc=0.5*sin(2*PI*997*t)|0.9*sin(2*PI*3150*t):s=48000:d=0.5";

    @TempDir
    private Path folder;

    static Stream<Arguments> soxFormats() {
        return Stream.of(
                arguments("unsigned-integer", 8, Encoding.INTEGER),
                arguments("signed-integer", 16, Encoding.INTEGER),
                arguments("signed-integer", 24, Encoding.INTEGER),
                arguments("signed-integer", 32, Encoding.INTEGER),
                arguments("floating-point", 32, Encoding.FLOAT),
                arguments("floating-point", 64, Encoding.FLOAT));
    }

    @ParameterizedTest
    @MethodSource("soxFormats")
    void filesOfSoxReadAsItsRawSamples(String encoding, int bits, Encoding expected) throws Exception {
        Path wav = folder.resolve("a.wav");
        Path raw = folder.resolve("a.raw");
        run(sox(wav, "wav", encoding, bits));
        run(sox(raw, "raw", encoding, bits));
        try (WavReader reader = WavReader.open(wav)) {
            assertThat(reader.format()).isEqualTo(new WavFormat(48000, 2, bits, bits / 8, expected));
            assertReads(reader, decode(Files.readAllBytes(raw), bits, expected));
            assertThat(reader.damage()).isEmpty();
        }
    }

    /** Without going back to its header, sox leaves a size there that is nearly 2 GiB. */
    @Test
    void thePipeOfSoxIsReadToItsEnd() throws Exception {
        Path raw = folder.resolve("a.raw");
        run(sox(raw, "raw", "signed-integer", 16));
        byte[] piped = run(sox(Path.of("-"), "wav", "signed-integer", 16));
        try (WavReader reader = WavReader.of(new ByteArrayInputStream(piped), "pipe")) {
            assertReads(reader, decode(Files.readAllBytes(raw), 16, Encoding.INTEGER));
            assertThat(reader.damage()).hasValueSatisfying(damage -> {
                assertThat(damage.byteOffset()).isEqualTo(44 + 4 * FRAMES);
                assertThat(damage.message())
                        .startsWith("the recording is cut off")
                        .endsWith("the file ends at byte 96044, after 24000 whole frames");
            });
        }
    }

    private static List<String> sox(Path target, String type, String encoding, int bits) {
        List<String> command = new ArrayList<>(List.of("sox", "-D", "-n", "-r", "48000", "-c", "2"));
        command.addAll(List.of("-e", encoding, "-b", "" + bits, "-t", type, target.toString()));
        command.addAll(List.of("synth", "0.5", "sine", "997", "sine", "3150", "vol", "0.9"));
        return command;
    }

    static Stream<Arguments> ffmpegFormats() {
        return Stream.of(
                arguments("u8", 8, Encoding.INTEGER),
                arguments("s16le", 16, Encoding.INTEGER),
                arguments("s24le", 24, Encoding.INTEGER),
                arguments("s32le", 32, Encoding.INTEGER),
                arguments("f32le", 32, Encoding.FLOAT),
                arguments("f64le", 64, Encoding.FLOAT));
    }

    /** One run for four outputs of the same samples: both forms of file, a pipe, and the samples alone. */
    @ParameterizedTest
    @MethodSource("ffmpegFormats")
    void filesAndPipesOfFfmpegReadAsItsRawSamples(String sample, int bits, Encoding encoding) throws Exception {
        String codec = "pcm_" + sample;
        Path riff = folder.resolve("a.wav");
        Path rf64 = folder.resolve("b.wav");
        Path raw = folder.resolve("a.raw");
        List<String> outputs = new ArrayList<>();
        outputs.addAll(List.of("-c:a", codec, riff.toString()));
        outputs.addAll(List.of("-c:a", codec, "-rf64", "always", rf64.toString()));
        outputs.addAll(List.of("-c:a", codec, "-f", sample, raw.toString()));
        outputs.addAll(List.of("-c:a", codec, "-f", "wav", "-"));
        byte[] piped = run(ffmpeg(outputs));
        double[] expected = decode(Files.readAllBytes(raw), bits, encoding);
        WavFormat format = new WavFormat(48000, 2, bits, bits / 8, encoding);

        assertThat(Files.readAllBytes(riff)).startsWith("RIFF".getBytes(US_ASCII));
        assertThat(Files.readAllBytes(rf64)).startsWith("RF64".getBytes(US_ASCII));
        for (Path wav : List.of(riff, rf64)) {
            try (WavReader reader = WavReader.open(wav)) {
                assertThat(reader.format()).isEqualTo(format);
                assertThat(reader.frames()).hasValue(FRAMES);
                assertReads(reader, expected);
                assertThat(reader.damage()).isEmpty();
            }
        }
        try (WavReader reader = WavReader.of(WavBytes.trickle(piped, 1000), "pipe")) {
            assertThat(reader.format()).isEqualTo(format);
            assertThat(reader.frames()).isEmpty();
            assertReads(reader, expected);
            assertThat(reader.damage())
                    .hasValueSatisfying(damage ->
                            assertThat(damage.message()).startsWith("the length of the recording was never written"));
        }
    }

    /** Any encoding of the program that is no PCM is refused by its name. */
    @ParameterizedTest
    @MethodSource("otherEncodings")
    void otherEncodingsOfFfmpegAreNamed(String codec, String name) throws Exception {
        Path wav = folder.resolve("a.wav");
        run(ffmpeg(List.of("-c:a", codec, wav.toString())));
        assertThat(catchThrowable(() -> WavReader.open(wav)))
                .isInstanceOf(WavFormatException.class)
                .hasMessageContaining("the samples are " + name);
    }

    static Stream<Arguments> otherEncodings() {
        return Stream.of(
                arguments("pcm_alaw", "A-law (format tag 0x0006)"),
                arguments("pcm_mulaw", "mu-law (format tag 0x0007)"),
                arguments("adpcm_ima_wav", "ADPCM (format tag 0x0011)"),
                arguments("mp2", "MPEG-1 layer 1 or 2 (format tag 0x0050)"));
    }

    private static List<String> ffmpeg(List<String> outputs) {
        List<String> command = new ArrayList<>(List.of("ffmpeg", "-nostdin", "-loglevel", "error", "-y"));
        command.addAll(List.of("-f", "lavfi", "-i", TWO_TONES));
        command.addAll(outputs);
        return command;
    }

    /** What the program writes to its standard output, which is a pipe. */
    private byte[] run(List<String> command) throws IOException, InterruptedException {
        Path errors = folder.resolve("standard-error");
        Process process =
                new ProcessBuilder(command).redirectError(errors.toFile()).start();
        byte[] output = process.getInputStream().readAllBytes();
        assertThat(process.waitFor())
                .as("%s: %s", command, Files.readString(errors))
                .isZero();
        return output;
    }

    /** Exact, since both programs store the same numbers both times. */
    private static void assertReads(WavReader reader, double[] expected) throws IOException {
        assertThat(expected).hasSize(2 * FRAMES);
        assertThat(WavBytes.readAll(reader, 4096)).containsExactly(expected);
        // The tones of 0.45 or more stand there: a signal of zeros would agree with anything.
        double largest = 0;
        for (double sample : expected) {
            largest = Math.max(largest, Math.abs(sample));
        }
        assertThat(largest).isBetween(0.85, 1.0);
    }

    private static double[] decode(byte[] raw, int bits, Encoding encoding) {
        ByteBuffer in = ByteBuffer.wrap(raw).order(ByteOrder.LITTLE_ENDIAN);
        double[] samples = new double[raw.length / (bits / 8)];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = switch (bits) {
                case 8 -> (Byte.toUnsignedInt(in.get()) - 128) / 128.0;
                case 16 -> in.getShort() / 32768.0;
                case 24 -> (Short.toUnsignedInt(in.getShort()) + 65536 * in.get()) / 8388608.0;
                case 32 -> encoding == Encoding.FLOAT ? in.getFloat() : in.getInt() / 2147483648.0;
                default -> in.getDouble();
            };
        }
        return samples;
    }
}
