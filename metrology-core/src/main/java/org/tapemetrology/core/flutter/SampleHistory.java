/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/** The latest samples of a recording, in one piece. */
final class SampleHistory {
    private final int capacity;
    private final float[] samples;
    private int filled;
    private long endIndex;

    SampleHistory(int capacity) {
        this.capacity = capacity;
        this.samples = new float[2 * capacity];
    }

    void append(float[] block, int length) {
        if (filled + length > samples.length) {
            System.arraycopy(samples, filled - capacity, samples, 0, capacity);
            filled = capacity;
        }
        System.arraycopy(block, 0, samples, filled, length);
        filled += length;
        endIndex += length;
    }

    float[] array() {
        return samples;
    }

    /** Where the sample with an index stands in the array. */
    int position(long index) {
        return filled - (int) (endIndex - index);
    }

    /** Index of the oldest sample that is still here. */
    long startIndex() {
        return endIndex - filled;
    }

    /** Index after the latest sample. */
    long endIndex() {
        return endIndex;
    }
}
