/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import java.util.Arrays;
import org.tapemetrology.core.tone.FrameSpectrum;

/**
 * Mean power of some neighbouring bins in consecutive batches of frames of equal size. There are never more batches than
 * fit: when the last is full, each two become one, and those to come are twice as long. So their scatter tells how well
 * the mean of any band is known, which may be picked at the end, in memory that does not grow.
 */
final class SpectrumBatches {
    private static final int CAPACITY = 64;

    private final int firstBin;
    private final double[][] batches;
    private final double[] current;
    private int full;
    private int perBatch = 1;
    private int inCurrent;

    SpectrumBatches(int firstBin, int bins) {
        this.firstBin = firstBin;
        this.batches = new double[CAPACITY][bins];
        this.current = new double[bins];
    }

    void add(FrameSpectrum spectrum) {
        for (int i = 0; i < current.length; i++) {
            current[i] += spectrum.power(firstBin + i);
        }
        inCurrent++;
        if (inCurrent < perBatch) {
            return;
        }
        for (int i = 0; i < current.length; i++) {
            batches[full][i] = current[i] / perBatch;
        }
        Arrays.fill(current, 0);
        inCurrent = 0;
        full++;
        if (full == CAPACITY) {
            mergePairs();
        }
    }

    private void mergePairs() {
        full = CAPACITY / 2;
        for (int b = 0; b < full; b++) {
            for (int i = 0; i < current.length; i++) {
                batches[b][i] = (batches[2 * b][i] + batches[2 * b + 1][i]) / 2;
            }
        }
        perBatch *= 2;
    }

    /** Batches that are full. */
    int count() {
        return full;
    }

    /** Mean power of each bin in a batch; not a copy. */
    double[] batch(int index) {
        return batches[index];
    }

    /** Mean power of each bin. */
    double[] mean() {
        double[] mean = new double[current.length];
        for (int b = 0; b < full; b++) {
            for (int i = 0; i < mean.length; i++) {
                mean[i] += batches[b][i] / full;
            }
        }
        return mean;
    }

    void reset() {
        Arrays.fill(current, 0);
        full = 0;
        perBatch = 1;
        inCurrent = 0;
    }
}
