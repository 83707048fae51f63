/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

/**
 * How the samples of a recording are stored.
 *
 * @param sampleRateHz frames per second, 1 to {@value #MAX_SAMPLE_RATE_HZ}
 * @param channels samples per frame, 1 to {@value #MAX_CHANNELS}
 * @param bitsPerSample bits that carry the signal, at most those of the container
 * @param bytesPerSample size of the container of one sample: 1 to 4 for integers, 4 or 8 for floating point
 * @param encoding what the bits stand for
 */
public record WavFormat(int sampleRateHz, int channels, int bitsPerSample, int bytesPerSample, Encoding encoding) {
    /** Highest sample rate that is taken for one. */
    public static final int MAX_SAMPLE_RATE_HZ = 4_000_000;
    /** Highest number of channels that is taken for one. */
    public static final int MAX_CHANNELS = 1024;

    /** What the bits of a sample stand for. */
    public enum Encoding {
        /** Linear PCM: unsigned offset binary in one byte, two's complement in more. */
        INTEGER,
        /** IEEE 754 binary floating point. */
        FLOAT
    }

    /**
     * Checks the parts.
     *
     * @param sampleRateHz frames per second, 1 to {@value #MAX_SAMPLE_RATE_HZ}
     * @param channels samples per frame, 1 to {@value #MAX_CHANNELS}
     * @param bitsPerSample bits that carry the signal, at most those of the container
     * @param bytesPerSample size of the container of one sample: 1 to 4 for integers, 4 or 8 for floating point
     * @param encoding what the bits stand for
     * @throws IllegalArgumentException if a number is outside its range
     */
    public WavFormat {
        require("sample rate", sampleRateHz, 1, MAX_SAMPLE_RATE_HZ);
        require("channels", channels, 1, MAX_CHANNELS);
        switch (encoding) {
            case INTEGER -> {
                require("bytes per sample", bytesPerSample, 1, 4);
                require("bits per sample", bitsPerSample, 1, 8 * bytesPerSample);
            }
            case FLOAT -> {
                if (bytesPerSample != 4 && bytesPerSample != 8) {
                    throw new IllegalArgumentException("bytes per sample: " + bytesPerSample + ", allowed 4 or 8");
                }
                require("bits per sample", bitsPerSample, 8 * bytesPerSample, 8 * bytesPerSample);
            }
        }
    }

    private static void require(String what, int value, int least, int most) {
        if (value < least || value > most) {
            throw new IllegalArgumentException(what + ": " + value + ", allowed " + least + " to " + most);
        }
    }

    /**
     * Size of one sample of every channel.
     *
     * @return bytes
     */
    public int bytesPerFrame() {
        return channels * bytesPerSample;
    }
}
