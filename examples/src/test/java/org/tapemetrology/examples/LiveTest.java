/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.tapemetrology.examples.Outcome.run;

import com.fasterxml.jackson.jr.ob.JSON;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.io.SequenceInputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.atomic.AtomicLong;
import org.jspecify.annotations.NullUnmarked;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.LiveMeter;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.flutter.FlutterIndicator;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.examples.live.LiveDisplay;

/** Measuring while the tape runs gives what measuring the file gives, and tells what is wrong with its input. */
@NullUnmarked // what a JSON object lacks is null, and fails the test that asks for it
class LiveTest {
    @TempDir
    private static Path folder;

    private static Path stereo;
    private static Path mono;

    @BeforeAll
    static void generate() {
        stereo = generated("stereo.wav", "2", "pcm16");
        mono = generated("mono.wav", "1", "pcm24");
    }

    private static Path generated(String name, String channels, String samples) {
        Path file = folder.resolve(name);
        Outcome made = run(
                "generate",
                "--out",
                file.toString(),
                "--seconds",
                "12.34",
                "--speed-error",
                "0.5",
                "--flutter",
                "4:0.1",
                "--channels",
                channels,
                "--rate",
                "44100",
                "--samples",
                samples);
        assertThat(made.status()).as(made.err()).isZero();
        return file;
    }

    /** What stands after the header of the data chunk. */
    private static byte[] samples(Path wav) throws IOException {
        byte[] bytes = Files.readAllBytes(wav);
        String text = new String(bytes, StandardCharsets.ISO_8859_1);
        int data = text.indexOf("data");
        int length = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN).getInt(data + 4);
        return Arrays.copyOfRange(bytes, data + 8, data + 8 + length);
    }

    /** A pipe, which hands on what it has at the moment. */
    private static InputStream pipe(byte[] bytes) {
        Random random = new Random(5);
        return new ByteArrayInputStream(bytes) {
            @Override
            public synchronized int read(byte[] into, int offset, int length) {
                return super.read(into, offset, Math.min(length, 1 + random.nextInt(5000)));
            }
        };
    }

    private static String measured(Path file) {
        Outcome outcome = run("measure", "--format", "json", file.toString());
        assertThat(outcome.status()).isZero();
        return outcome.out().replace("\"file\":\"" + file + "\"", "\"file\":\"-\"");
    }

    private static Map<String, Object> json(Outcome outcome) throws IOException {
        assertThat(outcome.lines()).hasSize(1);
        return JSON.std.mapFrom(outcome.lines().get(0));
    }

    @SuppressWarnings("unchecked")
    private static List<Map<String, Object>> list(Map<String, Object> object, String name) {
        return (List<Map<String, Object>>) object.get(name);
    }

    @SuppressWarnings("unchecked")
    private static Map<String, Object> object(Map<String, Object> object, String name) {
        return (Map<String, Object>) object.get(name);
    }

    private static void assertFailed(Outcome outcome, String... said) throws IOException {
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.err()).startsWith("live: ").contains(said).doesNotContain("Exception");
        Map<String, Object> line = json(outcome);
        assertThat(line).containsEntry("readings", List.of());
        assertThat((String) object(line, "error").get("message")).contains(said);
    }

    @Test
    void rawSamplesReadAsTheFile() throws IOException {
        Outcome two = run(pipe(samples(stereo)), "live", "--rate", "44100", "--display", "none");
        assertThat(two.status()).isZero();
        assertThat(two.err()).isEmpty();
        assertThat(two.out()).isEqualTo(measured(stereo));
        Outcome one = run(
                pipe(samples(mono)), "live", "--rate", "44100", "--channels", "1", "--pcm", "s24", "--display", "none");
        assertThat(one.out()).isEqualTo(measured(mono));
    }

    @ParameterizedTest
    @ValueSource(strings = {"flutter.weighted.two-sigma", "wow.rms"})
    void aStreamWithAHeaderReadsAsTheFile(String figure) throws IOException {
        Outcome outcome = run(
                pipe(Files.readAllBytes(stereo)),
                "live",
                "--flutter",
                figure,
                "--meter",
                "programme-peak-2",
                "--display",
                "lines");
        assertThat(outcome.status()).isZero();
        assertThat(outcome.out()).isEqualTo(measured(stereo));
        // Lines come each second of the clock; the last one holds everything.
        String last = outcome.err().lines().reduce((a, b) -> b).orElseThrow();
        assertThat(last)
                .startsWith("12.3 s; channel 1; tone.frequency Hz 3165.7")
                // What waits in the filters leaves the last 3 s a part of a period of the flutter.
                .containsPattern("now \\+0\\.(500|501|499); level dBFS")
                .contains(figure + " %", "level.programme-peak dBFS", "channel.balance dB +0.00")
                .contains("azimuth.delay us", "level dBFS");
    }

    @Test
    void theSetupIsThatOfMeasure() throws IOException {
        Path setup =
                Files.writeString(folder.resolve("setup.json"), "{\"referenceLevelDbfs\":-14,\"fullScaleVolts\":2}");
        Outcome file =
                run("measure", "--format", "json", "--setup", setup.toString(), "--nominal", "3150", mono.toString());
        Outcome live = run(
                pipe(Files.readAllBytes(mono)),
                "live",
                "--setup",
                setup.toString(),
                "--nominal",
                "3150",
                "--display",
                "table");
        assertThat(live.out()).isEqualTo(file.out().replace(mono.toString(), "-"));
        assertThat(live.err()).contains("level.re-reference dB", "level.voltage dBu", "\u001b[");
    }

    @Test
    void endsAfterTheSecondsAskedFor() throws IOException {
        InputStream endless = new SequenceInputStream(pipe(samples(stereo)), new InputStream() {
            @Override
            public int read() {
                throw new AssertionError("it goes on after its end");
            }

            @Override
            public int read(byte[] bytes, int offset, int length) {
                return read();
            }
        });
        Outcome outcome = run(endless, "live", "--rate", "44100", "--seconds", "3.01", "--display", "none");
        assertThat(outcome.status()).isZero();
        assertThat((Number) object(json(outcome), "source").get("durationSeconds"))
                .isEqualTo(132_741 / 44_100.0); // no whole number of blocks
    }

    @Test
    void bytesThatAreNoFrameAreTold() throws IOException {
        byte[] samples = samples(stereo);
        Outcome outcome =
                run(pipe(Arrays.copyOf(samples, samples.length - 1)), "live", "--rate", "44100", "--display", "none");
        assertThat(outcome.status()).isZero();
        assertThat(list(json(outcome), "warnings"))
                .filteredOn(warning -> warning.get("code").equals("damaged-file"))
                .singleElement()
                .satisfies(warning ->
                        assertThat((String) warning.get("message")).contains("the last 3 bytes", "no whole frame"));
    }

    @Test
    void aSampleThatIsNoNumberIsTold() throws IOException {
        ByteBuffer bytes = ByteBuffer.allocate(4 * 5 * 44_100).order(ByteOrder.LITTLE_ENDIAN);
        for (int i = 0; i < 5 * 44_100; i++) {
            bytes.putFloat(i == 100_000 ? Float.NaN : (float) (0.3 * Math.sin(2 * Math.PI * 3150 * i / 44_100)));
        }
        Outcome outcome = run(
                pipe(bytes.array()),
                "live",
                "--rate",
                "44100",
                "--channels",
                "1",
                "--pcm",
                "f32",
                "--display",
                "lines");
        assertThat(outcome.status()).isZero();
        assertThat(list(json(outcome), "warnings"))
                .anyMatch(warning -> warning.get("code").equals("invalid-sample"));
        assertThat(list(json(outcome), "readings"))
                .noneMatch(reading -> reading.get("status").equals("valid"));
        assertThat(outcome.err()).contains("level dBFS invalid-input");
    }

    @Test
    void anInputThatCannotBeReadIsTold() throws IOException {
        assertFailed(run(pipe(new byte[0]), "live", "--rate", "48000"), "standard input: no sample came");
        assertFailed(run(pipe(new byte[3]), "live", "--rate", "48000"), "no whole sample came");
        assertFailed(run(pipe(samples(stereo)), "live"), "no WAV header", "--rate");
        assertFailed(
                run(pipe(Files.readAllBytes(stereo)), "live", "--rate", "48000"), "header says 44100", "--rate 48000");
        assertFailed(run(pipe(Files.readAllBytes(stereo)), "live", "--channels", "1"), "header says 2", "--channels 1");
        assertFailed(run(pipe(Arrays.copyOf(Files.readAllBytes(stereo), 30)), "live"), "standard input");
        assertFailed(run(pipe(samples(stereo)), "live", "--rate", "44100", "--nominal", "20000"), "nominalHz 20000");
    }

    @Test
    void aSoundCardThatIsNotThereIsTold() throws IOException {
        assertFailed(run("live", "--card", "no such card"), "there is no sound card \"no such card\"", "inputs:");
        assertFailed(run("live", "--card", "no such card", "--pcm", "f32"), "s16, s24 or s32", "f32");
    }

    @ParameterizedTest
    @CsvSource({
        "--rate, 100, --rate 100 is not in 8000 to 192000",
        "--channels, 65, --channels 65 is not in 1 to 64",
        "--pcm, mp3, --pcm",
        "--flutter, level, flutter.weighted.quasi-peak",
        "--meter, needle, programme-peak-1",
        "--nominal, 3, --nominal 3.0 is not in",
        "--seconds, 0, --seconds 0.0 is not above 0",
        "--display, loud, --display"
    })
    void wrongUsageIsTold(String option, String value, String said) {
        Outcome outcome = run("live", option, value);
        assertThat(outcome.status()).isEqualTo(64);
        assertThat(outcome.err()).contains(said).contains("--help");
        assertThat(outcome.out()).isEmpty();
    }

    @Test
    void helpNamesTheFiguresAndTheCautions() {
        Outcome help = run("live", "--help");
        assertThat(help.status()).isZero();
        assertThat(help.out())
                .contains(FlutterIndicator.FIGURES.stream().map(Quantity::id).toList());
        assertThat(help.out()).contains("programme-peak-2", "mains");
    }

    /** In real time blocks of 20 ms come every 20 ms; the table has to be drawn ten times a second at least. */
    @Test
    void theTableIsDrawnTenTimesASecond() {
        AtomicLong nanos = new AtomicLong();
        ByteArrayOutputStream drawn = new ByteArrayOutputStream();
        LiveDisplay display = new LiveDisplay(
                new PrintStream(drawn, true, StandardCharsets.UTF_8), LiveDisplay.Style.TABLE, nanos::get);
        LiveMeter meter = LiveMeter.builder(RecordingMeter.builder(48_000, 3)).build();
        int seconds = 5;
        for (int block = 0; block < seconds * 50; block++) {
            meter.accept(new float[3 * 960], 0, 960);
            display.show(meter::reading);
            nanos.addAndGet(20_000_000);
        }
        String text = drawn.toString(StandardCharsets.UTF_8);
        assertThat(text.split("\u001b\\[J", -1).length - 1).isGreaterThanOrEqualTo(10 * seconds);
        assertThat(text).contains("channels 1 and 2 of 3", "no-carrier");
    }
}
