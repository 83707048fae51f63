/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.live;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.jr.ob.JSON;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.lang.reflect.Proxy;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import javax.sound.sampled.TargetDataLine;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.LiveMeter;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.wav.WavFormat;

/** A sound card as an input, by a line that has no card. */
class SoundCardTest {
    private static final WavFormat FORMAT = new WavFormat(48_000, 1, 16, 2, WavFormat.Encoding.INTEGER);
    private static final int BUFFER = 2 * 4800;

    /** A line of a tone, whose buffer is found full at some of its reads, and that ends after some seconds. */
    private static TargetDataLine line(int fullFrom, int fullTo, int reads) {
        int[] state = new int[2]; // reads, frames
        return (TargetDataLine) Proxy.newProxyInstance(
                SoundCardTest.class.getClassLoader(),
                new Class<?>[] {TargetDataLine.class},
                (line, method, arguments) -> {
                    return switch (method.getName()) {
                        case "available" -> state[0] >= fullFrom && state[0] < fullTo ? BUFFER : 1920;
                        case "getBufferSize" -> BUFFER;
                        case "read" ->
                            fill((byte[]) arguments[0], (int) arguments[1], (int) arguments[2], state, reads);
                        default -> null;
                    };
                });
    }

    private static int fill(byte[] bytes, int offset, int length, int[] state, int reads) {
        if (state[0]++ == reads) {
            return 0; // a line that was stopped
        }
        assertThat(length % 2).as("whole frames are asked for").isZero();
        for (int i = 0; i < length / 2; i++) {
            int sample = (int) Math.round(10_000 * Math.sin(2 * Math.PI * 3150 * state[1]++ / 48_000));
            bytes[offset + 2 * i] = (byte) sample;
            bytes[offset + 2 * i + 1] = (byte) (sample >> 8);
        }
        return length;
    }

    @SuppressWarnings("unchecked")
    private static List<Map<String, Object>> list(Map<String, Object> object, String name) {
        return (List<Map<String, Object>>) java.util.Objects.requireNonNull(object.get(name));
    }

    private static Map<String, Object> measured(TargetDataLine line) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        PrintStream printed = new PrintStream(out, true, StandardCharsets.UTF_8);
        try (LiveInput input = SoundCard.of(line, "card", FORMAT)) {
            LiveMeter meter =
                    LiveMeter.builder(RecordingMeter.builder(48_000, 1)).build();
            LiveSession session = new LiveSession(
                    input, meter, new LiveDisplay(printed, LiveDisplay.Style.NONE, System::nanoTime), printed);
            float[] block = new float[960];
            for (int count = input.reader().read(block, 0, 960);
                    count > 0;
                    count = input.reader().read(block, 0, 960)) {
                assertThat(session.take(block, count)).isTrue();
            }
            session.end();
            session.end();
            assertThat(session.take(block, 960)).as("it has ended").isFalse();
        }
        List<String> lines = out.toString(StandardCharsets.UTF_8).lines().toList();
        assertThat(lines).as("the result is printed once").hasSize(1);
        return JSON.std.mapFrom(lines.get(0));
    }

    @Test
    void aLineIsMeasured() throws IOException {
        Map<String, Object> measured = measured(line(0, 0, 600));
        assertThat(list(measured, "warnings")).isEmpty();
        assertThat(list(measured, "readings"))
                .filteredOn(reading -> "flutter.weighted.rms".equals(reading.get("quantity")))
                .singleElement()
                .satisfies(reading -> assertThat(reading).containsEntry("status", "valid"));
    }

    @Test
    void overrunsAreCountedAndTold() throws IOException {
        Map<String, Object> measured = measured(line(200, 203, 600));
        assertThat(list(measured, "warnings"))
                .filteredOn(warning -> "input-overrun".equals(warning.get("code")))
                .singleElement()
                .satisfies(warning ->
                        assertThat(String.valueOf(warning.get("message"))).contains("3 times"));
        assertThat(list(measured, "readings"))
                .filteredOn(reading -> "flutter.weighted.rms".equals(reading.get("quantity")))
                .singleElement()
                .satisfies(reading -> assertThat(reading).containsEntry("status", "interrupted"));
    }
}
