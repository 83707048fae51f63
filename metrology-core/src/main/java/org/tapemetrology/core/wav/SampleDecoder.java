/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;

/**
 * From stored samples to full scale 1.0: one plain loop for each way of storing and each target. A container that is
 * larger than its sample holds it left-justified (Multimedia Programming Interface and Data Specifications 1.0, "Data
 * Format of the Samples"), so that the scale depends on the container alone.
 */
enum SampleDecoder {
    UNSIGNED_8 {
        @Override
        void decode(byte[] in, int at, double[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = ((in[at + i] & 0xFF) - 128) * 0x1p-7;
            }
        }

        @Override
        void decode(byte[] in, int at, float[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = ((in[at + i] & 0xFF) - 128) * 0x1p-7f;
            }
        }
    },
    SIGNED_16 {
        @Override
        void decode(byte[] in, int at, double[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = (short) SHORT.get(in, at + 2 * i) * 0x1p-15;
            }
        }

        @Override
        void decode(byte[] in, int at, float[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = (short) SHORT.get(in, at + 2 * i) * 0x1p-15f;
            }
        }
    },
    SIGNED_24 {
        @Override
        void decode(byte[] in, int at, double[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = signed24(in, at + 3 * i) * 0x1p-23;
            }
        }

        @Override
        void decode(byte[] in, int at, float[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = signed24(in, at + 3 * i) * 0x1p-23f;
            }
        }
    },
    SIGNED_32 {
        @Override
        void decode(byte[] in, int at, double[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = (int) INT.get(in, at + 4 * i) * 0x1p-31;
            }
        }

        @Override
        void decode(byte[] in, int at, float[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = (int) INT.get(in, at + 4 * i) * 0x1p-31f;
            }
        }
    },
    /** 24 bits in the lower three bytes of four, against the specification but common in sound-card drivers. */
    SIGNED_24_RIGHT_JUSTIFIED_IN_32 {
        @Override
        void decode(byte[] in, int at, double[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = signed24(in, at + 4 * i) * 0x1p-23;
            }
        }

        @Override
        void decode(byte[] in, int at, float[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = signed24(in, at + 4 * i) * 0x1p-23f;
            }
        }
    },
    FLOAT_32 {
        @Override
        void decode(byte[] in, int at, double[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = (float) FLOAT.get(in, at + 4 * i);
            }
        }

        @Override
        void decode(byte[] in, int at, float[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = (float) FLOAT.get(in, at + 4 * i);
            }
        }
    },
    FLOAT_64 {
        @Override
        void decode(byte[] in, int at, double[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = (double) DOUBLE.get(in, at + 8 * i);
            }
        }

        @Override
        void decode(byte[] in, int at, float[] out, int offset, int samples) {
            for (int i = 0; i < samples; i++) {
                out[offset + i] = (float) (double) DOUBLE.get(in, at + 8 * i);
            }
        }
    };

    private static final VarHandle SHORT = littleEndian(short[].class);
    private static final VarHandle INT = littleEndian(int[].class);
    private static final VarHandle FLOAT = littleEndian(float[].class);
    private static final VarHandle DOUBLE = littleEndian(double[].class);

    private static VarHandle littleEndian(Class<?> array) {
        return MethodHandles.byteArrayViewVarHandle(array, ByteOrder.LITTLE_ENDIAN);
    }

    private static int signed24(byte[] in, int at) {
        return (in[at] & 0xFF) | ((in[at + 1] & 0xFF) << 8) | (in[at + 2] << 16);
    }

    static SampleDecoder of(WavFormat format) {
        if (format.encoding() == WavFormat.Encoding.FLOAT) {
            return format.bytesPerSample() == 4 ? FLOAT_32 : FLOAT_64;
        }
        return switch (format.bytesPerSample()) {
            case 1 -> UNSIGNED_8;
            case 2 -> SIGNED_16;
            case 3 -> SIGNED_24;
            default -> SIGNED_32;
        };
    }

    abstract void decode(byte[] in, int at, double[] out, int offset, int samples);

    abstract void decode(byte[] in, int at, float[] out, int offset, int samples);
}
