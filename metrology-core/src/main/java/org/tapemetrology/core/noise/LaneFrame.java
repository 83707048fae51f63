/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.Arrays;

/**
 * A frame of consecutive samples, cut into equally long lanes that are worked on side by side: row t holds sample t of
 * every lane. Rows before 0 hold the last samples of the lane before; {@link #carry()} fills them.
 */
final class LaneFrame {
    private final int lanes;
    private final int length;
    private final int history;
    private final double[][] rows;
    /** The last samples of the frame before. */
    private final double[] tail;

    /**
     * A frame of zeros.
     *
     * @param lanes number of lanes
     * @param length samples of a lane
     * @param history rows before 0
     */
    LaneFrame(int lanes, int length, int history) {
        if (history > (lanes - 1) * length) {
            throw new IllegalArgumentException(
                    "history " + history + " is longer than the frame of " + lanes * length + " samples");
        }
        this.lanes = lanes;
        this.length = length;
        this.history = history;
        this.rows = new double[history + length][lanes];
        this.tail = new double[history];
    }

    int lanes() {
        return lanes;
    }

    int length() {
        return length;
    }

    double[] row(int t) {
        return rows[history + t];
    }

    /** Lets row t be the array of another frame, which is then not copied. */
    void share(int t, double[] row) {
        rows[history + t] = row;
    }

    /** Fills the rows from samples in the order of time. */
    void take(double[] samples) {
        for (int p = 0; p < lanes; p++) {
            for (int t = 0; t < length; t++) {
                rows[history + t][p] = samples[p * length + t];
            }
        }
    }

    /** Gives the samples in the order of time. */
    void give(double[] samples) {
        for (int p = 0; p < lanes; p++) {
            for (int t = 0; t < length; t++) {
                samples[p * length + t] = rows[history + t][p];
            }
        }
    }

    /** Fills the rows before 0, and keeps what the next frame will need; to be called once a frame. */
    void carry() {
        for (int k = 1; k <= history; k++) {
            int back = (k + length - 1) / length;
            double[] to = row(-k);
            System.arraycopy(row(back * length - k), 0, to, back, lanes - back);
            for (int p = 0; p < back; p++) {
                to[p] = tail[history + p * length - k];
            }
        }
        for (int k = 1; k <= history; k++) {
            int back = (k + length - 1) / length;
            tail[history - k] = row(back * length - k)[lanes - back];
        }
    }

    void reset() {
        for (double[] row : rows) {
            Arrays.fill(row, 0);
        }
        Arrays.fill(tail, 0);
    }
}
