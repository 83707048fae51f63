/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.wav;

/** How a sample lies in the file; all are little-endian. */
public enum WavEncoding {
    /** 8-bit integer, offset by 128. */
    PCM_8(8, 1, false),
    /** 16-bit signed integer. */
    PCM_16(16, 2, false),
    /** 24-bit signed integer in three bytes. */
    PCM_24(24, 3, false),
    /** 24-bit signed integer in the upper three of four bytes; needs the extensible format. */
    PCM_24_IN_32(24, 4, false),
    /** 32-bit signed integer. */
    PCM_32(32, 4, false),
    /** 32-bit IEC 60559 floating point. */
    FLOAT_32(32, 4, true),
    /** 64-bit IEC 60559 floating point. */
    FLOAT_64(64, 8, true);

    private final int validBits;
    private final int bytes;
    private final boolean floatingPoint;

    WavEncoding(int validBits, int bytes, boolean floatingPoint) {
        this.validBits = validBits;
        this.bytes = bytes;
        this.floatingPoint = floatingPoint;
    }

    /**
     * Bits of a sample that carry information.
     *
     * @return the number of bits
     */
    public int validBits() {
        return validBits;
    }

    /**
     * Bytes that a sample takes.
     *
     * @return the number of bytes
     */
    public int bytes() {
        return bytes;
    }

    /**
     * Whether samples are floating-point numbers.
     *
     * @return false for integers
     */
    public boolean isFloatingPoint() {
        return floatingPoint;
    }
}
