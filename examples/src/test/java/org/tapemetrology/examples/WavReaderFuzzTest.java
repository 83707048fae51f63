/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static java.nio.charset.StandardCharsets.US_ASCII;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.tapemetrology.core.wav.WavFormatException;
import org.tapemetrology.core.wav.WavReader;

/** Any bytes are a recording that is read, or one that is refused: nothing else happens, and no more comes out than went in. */
@Tag("fuzz")
class WavReaderFuzzTest {
    private static final int FRAMES = 64;

    /** Loading and instrumenting classes takes memory once, which is no input's: one recording is read, and one refused, before. */
    @BeforeAll
    static void classesAreLoaded() throws IOException {
        byte[] oneFrame = ByteBuffer.allocate(48)
                .order(ByteOrder.LITTLE_ENDIAN)
                .put("RIFF".getBytes(US_ASCII))
                .putInt(40)
                .put("WAVEfmt ".getBytes(US_ASCII))
                .putInt(16)
                .putShort((short) 1)
                .putShort((short) 2)
                .putInt(48_000)
                .putInt(192_000)
                .putShort((short) 4)
                .putShort((short) 16)
                .put("data".getBytes(US_ASCII))
                .putInt(4)
                .array();
        read(oneFrame);
        read(new byte[4]);
    }

    @FuzzTest(maxDuration = "1h")
    void anyBytesAreReadOrRefused(byte[] bytes) throws IOException {
        AllocatedBytes allocated = new AllocatedBytes();
        read(bytes);
        allocated.check();
    }

    private static void read(byte[] bytes) throws IOException {
        try (WavReader reader = WavReader.of(new ByteArrayInputStream(bytes), "fuzz.wav")) {
            float[] block = new float[FRAMES * reader.format().channels()];
            long frames = 0;
            for (int read = reader.read(block, 0, FRAMES); read > 0; read = reader.read(block, 0, FRAMES)) {
                frames += read;
            }
            if (frames * reader.format().bytesPerFrame() > bytes.length) {
                throw new IllegalStateException(frames + " frames of " + reader.format() + " out of " + bytes.length);
            }
        } catch (WavFormatException refused) {
            if (refused.getMessage() == null || !refused.getMessage().contains("fuzz.wav")) {
                throw new IllegalStateException("the message does not name the file", refused);
            }
        }
    }
}
