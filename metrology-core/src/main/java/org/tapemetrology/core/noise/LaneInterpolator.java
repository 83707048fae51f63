/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.Arrays;

/**
 * Doubles the rate of a frame with the half-band filter of {@link org.tapemetrology.core.filter.HalfBandInterpolator}:
 * the rows of the input, delayed, and between them what the taps give.
 */
final class LaneInterpolator {
    private final LaneFrame in;
    private final double[] sides;
    private final LaneFrame out;

    /**
     * An interpolator of a frame.
     *
     * @param in the frame, with the history that {@link #historyFor} names
     * @param sides weight of the input samples j + 1/2 steps before and after an output between two inputs
     * @param history rows before 0 of the output
     */
    LaneInterpolator(LaneFrame in, double[] sides, int history) {
        this.in = in;
        this.sides = sides;
        this.out = new LaneFrame(in.lanes(), 2 * in.length(), history);
        for (int t = 0; t < in.length(); t++) {
            out.share(2 * t, in.row(t - sides.length));
        }
    }

    static int historyFor(double[] sides) {
        return 2 * sides.length - 1;
    }

    /** Makes the output of what the frame holds. */
    void process() {
        int n = sides.length;
        for (int t = 0; t < in.length(); t++) {
            double[] y = out.row(2 * t + 1);
            Arrays.fill(y, 0);
            int j = n - 1;
            for (; j >= 1; j -= 2) {
                Lanes.addTwoPairs(
                        y,
                        in.row(t - n - j),
                        in.row(t - n + 1 + j),
                        in.row(t - n - j + 1),
                        in.row(t - n + j),
                        sides[j],
                        sides[j - 1]);
            }
            if (j == 0) {
                Lanes.addPair(y, in.row(t - n), in.row(t - n + 1), sides[0]);
            }
        }
        out.carry();
    }

    LaneFrame out() {
        return out;
    }
}
