/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

/** Halves the rate of a frame with the filter of {@link org.tapemetrology.core.filter.HalfBandDecimator}. */
final class LaneDecimator {
    private final LaneFrame in;
    private final double[] sides;
    private final LaneFrame out;

    /**
     * A decimator of a frame.
     *
     * @param in the frame, with the history that {@link #historyFor} names
     * @param sides weight of the input samples 2j + 1 steps before and after an output, over one side 1/2 in sum
     * @param history rows before 0 of the output
     */
    LaneDecimator(LaneFrame in, double[] sides, int history) {
        this.in = in;
        this.sides = sides;
        this.out = new LaneFrame(in.lanes(), in.length() / 2, history);
    }

    static int historyFor(double[] sides) {
        return 4 * sides.length - 2;
    }

    /** Makes the output of what the frame holds. */
    void process() {
        for (int t = 0; t < out.length(); t++) {
            double[] y = out.row(t);
            int middle = 2 * t + 1 - 2 * sides.length;
            Lanes.scale(y, in.row(middle), 0.5);
            int j = sides.length - 1;
            for (; j >= 1; j -= 2) {
                int k = 2 * j + 1;
                Lanes.addTwoPairs(
                        y,
                        in.row(middle - k),
                        in.row(middle + k),
                        in.row(middle - k + 2),
                        in.row(middle + k - 2),
                        sides[j] / 2,
                        sides[j - 1] / 2);
            }
            if (j == 0) {
                Lanes.addPair(y, in.row(middle - 1), in.row(middle + 1), sides[0] / 2);
            }
        }
        out.carry();
    }

    LaneFrame out() {
        return out;
    }
}
