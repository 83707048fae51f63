/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.tapemetrology.core.wav.WavFormat.Encoding;

/** Every way of storing a sample by its definition, from the middle of the bytes to the middle of an array. */
class SampleDecoderTest {
    /** Of full scale, exact in eight bits. */
    private static final double[] SAMPLES = {-1, -0.5, 0, 0.25, 0.9921875};

    private static byte[] stored(SampleDecoder decoder) {
        ByteBuffer bytes = ByteBuffer.allocate(3 + 8 * SAMPLES.length).order(ByteOrder.LITTLE_ENDIAN);
        bytes.put(new byte[] {99, 99, 99}); // what stands before
        for (double x : SAMPLES) {
            int of24 = (int) (x * 0x1p23);
            switch (decoder) {
                case UNSIGNED_8 -> bytes.put((byte) (128 + x * 128));
                case SIGNED_16 -> bytes.putShort((short) (x * 0x1p15));
                case SIGNED_24 -> bytes.put((byte) of24).putShort((short) (of24 >> 8));
                case SIGNED_24_RIGHT_JUSTIFIED_IN_32 -> bytes.putInt(of24);
                case SIGNED_32 -> bytes.putInt((int) (x * 0x1p31));
                case FLOAT_32 -> bytes.putFloat((float) x);
                case FLOAT_64 -> bytes.putDouble(x);
            }
        }
        return bytes.array();
    }

    @ParameterizedTest
    @EnumSource
    void samplesAreThoseStored(SampleDecoder decoder) {
        byte[] bytes = stored(decoder);
        double[] wide = new double[SAMPLES.length + 2];
        float[] narrow = new float[wide.length];
        decoder.decode(bytes, 3, wide, 1, SAMPLES.length);
        decoder.decode(bytes, 3, narrow, 1, SAMPLES.length);
        assertThat(wide).containsExactly(0, -1, -0.5, 0, 0.25, 0.9921875, 0);
        assertThat(narrow).containsExactly(0, -1, -0.5f, 0, 0.25f, 0.9921875f, 0);
    }

    @Test
    void aFormatHasBounds() {
        assertThat(new WavFormat(1, 1, 1, 1, Encoding.INTEGER).bytesPerFrame()).isEqualTo(1);
        assertThat(new WavFormat(48_000, 3, 32, 4, Encoding.INTEGER).bytesPerFrame())
                .isEqualTo(12);
        assertThat(new WavFormat(48_000, 2, 64, 8, Encoding.FLOAT).bytesPerFrame())
                .isEqualTo(16);
        assertThatThrownBy(() -> new WavFormat(0, 1, 8, 1, Encoding.INTEGER))
                .hasMessageContaining("sample rate: 0, allowed 1 to");
        assertThatThrownBy(() -> new WavFormat(48_000, 0, 8, 1, Encoding.INTEGER))
                .hasMessageContaining("channels: 0");
        assertThatThrownBy(() -> new WavFormat(48_000, 1, 17, 2, Encoding.INTEGER))
                .hasMessage("bits per sample: 17, allowed 1 to 16");
        assertThatThrownBy(() -> new WavFormat(48_000, 1, 8, 5, Encoding.INTEGER))
                .hasMessage("bytes per sample: 5, allowed 1 to 4");
        assertThatThrownBy(() -> new WavFormat(48_000, 1, 32, 3, Encoding.FLOAT))
                .hasMessage("bytes per sample: 3, allowed 4 or 8");
        assertThatThrownBy(() -> new WavFormat(48_000, 1, 24, 4, Encoding.FLOAT))
                .hasMessage("bits per sample: 24, allowed 32 to 32");
    }

    /** What a terminal could take for a command does not get there: 0x20 to 0x7E alone does. */
    @Test
    void namesFromFilesAreMadePrintable() {
        assertThat(Magic.printable("a~ \u001f\u007f\u00e9\n")).isEqualTo("'a~ ????'");
    }

    @Test
    void aReaderClosesItsStream() throws IOException {
        boolean[] closed = new boolean[1];
        ByteArrayInputStream stream = new ByteArrayInputStream(new byte[8]) {
            @Override
            public void close() {
                closed[0] = true;
            }
        };
        WavReader reader = WavReader.ofRaw(stream, "raw", new WavFormat(48_000, 1, 16, 2, Encoding.INTEGER));
        assertThat(reader.read(new double[4], 0, 4)).isEqualTo(4);
        assertThat(closed[0]).isFalse();
        reader.close();
        assertThat(closed[0]).isTrue();
    }
}
