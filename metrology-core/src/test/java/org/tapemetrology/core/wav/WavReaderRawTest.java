/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import org.junit.jupiter.api.Test;

/** Samples without a header. */
class WavReaderRawTest {
    private static final WavFormat STEREO_16 = new WavFormat(48_000, 2, 16, 2, WavFormat.Encoding.INTEGER);

    /** Closed form: x / 2^15. */
    @Test
    void readsFromTheFirstByteOn() throws IOException {
        byte[] bytes = ByteBuffer.allocate(8)
                .order(ByteOrder.LITTLE_ENDIAN)
                .putShort((short) 16384)
                .putShort((short) -32768)
                .putShort((short) 1)
                .putShort((short) 0)
                .array();
        try (WavReader reader = WavReader.ofRaw(new ByteArrayInputStream(bytes), "pipe", STEREO_16)) {
            float[] samples = new float[8];
            assertThat(reader.frames()).isEmpty();
            assertThat(reader.read(samples, 0, 4)).isEqualTo(2);
            assertThat(samples).startsWith(0.5f, -1f, 0x1p-15f, 0f);
            assertThat(reader.read(samples, 0, 4)).isEqualTo(-1);
            assertThat(reader.damage()).isEmpty();
            assertThat(reader.framesRead()).isEqualTo(2);
        }
    }

    @Test
    void bytesThatAreNoWholeFrameAreTold() throws IOException {
        try (WavReader reader = WavReader.ofRaw(new ByteArrayInputStream(new byte[4 * 5 + 3]), "pipe", STEREO_16)) {
            float[] samples = new float[20];
            assertThat(reader.read(samples, 0, 10)).isEqualTo(5);
            assertThat(reader.damage().orElseThrow().message())
                    .contains("last 3 bytes")
                    .contains("byte 20");
            assertThat(reader.damage().orElseThrow().byteOffset()).isEqualTo(20);
        }
    }
}
