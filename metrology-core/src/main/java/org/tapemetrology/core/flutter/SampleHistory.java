/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/** The latest samples of a recording, in one piece. */
final class SampleHistory {
    private final int capacity;
    private final float[] samples;
    private int filled;
    private long endIndex;

    /**
     * A history of nothing.
     *
     * @param capacity how many samples it keeps at least
     */
    SampleHistory(int capacity) {
        this.capacity = capacity;
        this.samples = new float[2 * capacity];
    }

    /** Appends samples, fewer than it keeps. */
    void append(float[] source, int offset, int length) {
        System.arraycopy(source, offset, samples, grow(length), length);
    }

    /** Appends samples rounded to single precision. */
    void append(double[] source, int offset, int length) {
        int to = grow(length);
        for (int i = 0; i < length; i++) {
            samples[to + i] = (float) source[offset + i];
        }
    }

    /** Appends every so many of samples that stand interleaved. */
    void append(float[] source, int offset, int stride, int length) {
        int to = grow(length);
        int from = offset;
        for (int i = to; i < to + length; i++) {
            samples[i] = source[from];
            from += stride;
        }
    }

    /** Makes room for samples; returns where they are to stand. */
    private int grow(int length) {
        if (filled + length > samples.length) {
            System.arraycopy(samples, filled - capacity, samples, 0, capacity);
            filled = capacity;
        }
        int to = filled;
        filled += length;
        endIndex += length;
        return to;
    }

    float[] array() {
        return samples;
    }

    /** Where the sample with an index stands in the array. */
    int position(long index) {
        return filled - (int) (endIndex - index);
    }

    /** Index after the latest sample. */
    long endIndex() {
        return endIndex;
    }
}
