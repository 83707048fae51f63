/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import java.util.Arrays;

/**
 * A series of any length in constant memory: beyond 1024 values it is kept as means of 2, 4, 8 ... neighbours. Thread-confined.
 */
final class BatchedSeries {
    private static final int CAPACITY = 1024;

    private final RunningMoments moments = new RunningMoments();
    /** Means of consecutive values, the same number for each. */
    private final double[] batches = new double[CAPACITY];

    private final RunningMoments open = new RunningMoments();
    private int filled;
    private long batchLength = 1;

    void reset() {
        moments.reset();
        open.reset();
        filled = 0;
        batchLength = 1;
    }

    void add(double value) {
        moments.add(value);
        open.add(value);
        if (open.count() == batchLength) {
            batches[filled++] = open.mean();
            open.reset();
            if (filled == CAPACITY) {
                filled = CAPACITY / 2;
                batchLength *= 2;
                for (int i = 0; i < filled; i++) {
                    batches[i] = (batches[2 * i] + batches[2 * i + 1]) / 2;
                }
            }
        }
    }

    /** Mean and scatter of all values. */
    RunningMoments moments() {
        return moments;
    }

    /** How many means are kept. */
    int size() {
        return filled;
    }

    /** How many values stand in each. */
    long batchLength() {
        return batchLength;
    }

    /** One of the means. */
    double get(int index) {
        return batches[index];
    }

    /** The mean of the means, which an unfinished one has no share in. */
    double meanOfBatches() {
        return Arrays.stream(batches, 0, filled).average().orElseThrow();
    }
}
