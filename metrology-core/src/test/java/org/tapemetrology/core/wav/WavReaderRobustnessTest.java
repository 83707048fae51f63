/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import static org.assertj.core.api.Assertions.assertThat;
import static org.tapemetrology.core.wav.WavBytes.PCM;
import static org.tapemetrology.core.wav.WavBytes.form64;
import static org.tapemetrology.core.wav.WavBytes.riff;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.tapemetrology.core.AllocatedBytes;

class WavReaderRobustnessTest {
    private static final int MUTATIONS = 2000;

    /** Anything but a refusal or a reading, such as an index out of bounds, fails the test by being thrown. */
    @Test
    @Timeout(20)
    void flippedBytesGiveARefusalOrAReadingAndNothingElse(@TempDir Path folder) throws IOException {
        List<byte[]> files = List.of(
                riff().chunk("LIST", new byte[5])
                        .pcm16()
                        .chunk("data", new byte[301])
                        .chunk("id3 ", new byte[9])
                        .bytes(),
                riff().extensible(PCM, 2, 48000, 8, 32, 24)
                        .chunk("data", new byte[400])
                        .bytes(),
                riff().fmt(PCM, 2, 48000, 8, 24).chunk("data", new byte[400]).bytes(),
                form64("RF64")
                        .ds64(500, 300, 150)
                        .pcm16()
                        .ascii("data")
                        .int32(-1)
                        .raw(new byte[300])
                        .bytes());
        Random random = new Random(20261125);
        Path path = folder.resolve("a.wav");
        int refused = 0;
        int damaged = 0;
        for (int i = 0; i < MUTATIONS; i++) {
            byte[] bytes = files.get(i % files.size()).clone();
            // Half of the flips hit the first 100 bytes, where the header is.
            for (int flips = 1 + random.nextInt(4); flips > 0; flips--) {
                int at = random.nextInt(random.nextBoolean() ? 100 : bytes.length);
                bytes[at] =
                        random.nextBoolean() ? (byte) random.nextInt() : (byte) (bytes[at] ^ 1 << random.nextInt(8));
            }
            boolean asFile = i % 2 == 0;
            if (asFile) {
                Files.write(path, bytes);
            }
            try (WavReader reader = asFile ? WavReader.open(path) : WavBytes.reader(bytes)) {
                int bytesPerFrame = reader.format().bytesPerFrame();
                int samples = WavBytes.readAll(reader, 1 + i % 50).length;
                assertThat(samples / reader.format().channels()).isEqualTo((int) reader.framesRead());
                assertThat(reader.framesRead() * bytesPerFrame).isLessThan(bytes.length);
                damaged += reader.damage().isPresent() ? 1 : 0;
            } catch (WavFormatException e) {
                assertThat(e.byteOffset()).isBetween(0L, (long) bytes.length);
                refused++;
            }
        }
        // The test is void if the mutations reach neither outcome.
        assertThat(refused).isGreaterThan(MUTATIONS / 10);
        assertThat(damaged).isGreaterThan(MUTATIONS / 100);
    }

    @Test
    void readingAllocatesNothing(@TempDir Path folder) throws IOException {
        Path path = Files.write(
                folder.resolve("a.wav"),
                riff().fmt(PCM, 2, 48000, 6, 24)
                        .chunk("data", new byte[6_000_000])
                        .bytes());
        double[] doubles = new double[2 * 480];
        float[] floats = new float[2 * 480];
        byte[][] kept = new byte[1][];
        try (WavReader reader = WavReader.open(path)) {
            read(reader, doubles, floats, 400);
            assertThat(AllocatedBytes.leastOf(3, round -> read(reader, doubles, floats, 200)))
                    .isZero();
            // The same way of counting sees a single small array.
            assertThat(AllocatedBytes.leastOf(3, round -> kept[0] = new byte[16]))
                    .isGreaterThanOrEqualTo(16);
        }
        assertThat(kept[0]).hasSize(16);
    }

    private static void read(WavReader reader, double[] doubles, float[] floats, int times) throws IOException {
        int frames = 0;
        for (int i = 0; i < times; i++) {
            frames += reader.read(doubles, 0, 480) + reader.read(floats, 0, 480);
        }
        if (frames != times * 960) {
            throw new AssertionError("the file is too short: " + frames);
        }
    }
}
