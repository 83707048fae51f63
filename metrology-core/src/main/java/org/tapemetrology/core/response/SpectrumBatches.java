/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Sums of successive power spectra in few batches of equal length, whose scatter tells how well their mean is known: where
 * there are {@link #MOST} of them, neighbours are put together, so memory does not grow. Thread-confined.
 */
final class SpectrumBatches {
    /** Batches that are kept, at most. */
    static final int MOST = 8;

    private final List<double[]> whole = new ArrayList<>();
    private final List<double[]> spare = new ArrayList<>();
    private double[] open;
    private int frames;
    private int framesOfBatch = 1;

    SpectrumBatches(int lines) {
        open = new double[lines];
        for (int i = 0; i < MOST; i++) {
            spare.add(new double[lines]);
        }
    }

    void add(double[] power) {
        for (int k = 0; k < open.length; k++) {
            open[k] += power[k];
        }
        frames++;
        if (frames < framesOfBatch) {
            return;
        }
        whole.add(open);
        open = fresh();
        frames = 0;
        if (whole.size() == MOST) {
            for (int i = 0; i < MOST / 2; i++) {
                double[] second = whole.remove(i + 1);
                double[] both = whole.get(i);
                for (int k = 0; k < both.length; k++) {
                    both[k] += second[k];
                }
                spare.add(second);
            }
            framesOfBatch *= 2;
        }
    }

    private double[] fresh() {
        double[] next = spare.remove(spare.size() - 1);
        Arrays.fill(next, 0);
        return next;
    }

    /** The batches that are complete. */
    List<double[]> whole() {
        return whole;
    }

    void clear() {
        spare.addAll(whole);
        whole.clear();
        Arrays.fill(open, 0);
        frames = 0;
        framesOfBatch = 1;
    }
}
