/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import org.junit.jupiter.api.Tag;
import org.tapemetrology.core.wav.WavFormatException;
import org.tapemetrology.core.wav.WavReader;

/** Any bytes are a recording that is read, or one that is refused: nothing else happens, and no more comes out than went in. */
@Tag("fuzz")
class WavReaderFuzzTest {
    private static final int FRAMES = 64;

    @FuzzTest(maxDuration = "1h")
    void anyBytesAreReadOrRefused(byte[] bytes) throws IOException {
        AllocatedBytes allocated = new AllocatedBytes();
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
        allocated.check();
    }
}
