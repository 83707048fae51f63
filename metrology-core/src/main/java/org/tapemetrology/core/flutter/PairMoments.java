/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.Arrays;
import org.tapemetrology.core.internal.Cubic;

/**
 * Reads a signal that is sampled far above its band once for every two samples, at moments that never lock to it: as {@link
 * org.tapemetrology.core.detector.MovingMoment}, but by the golden section of two intervals.
 */
final class PairMoments {
    /** The golden section of 2^64. */
    private static final long STEP = 0x9E3779B97F4A7C15L;
    /** Samples that a reading may need: four from either of two on. */
    private static final int REACH = 5;

    private long moment;
    private double[] line = new double[REACH];
    private int held;

    /**
     * Reads a block; the output may be the input array.
     *
     * @return number of readings, half of the number of samples
     */
    int process(double[] in, int offset, int length, double[] out) {
        if (line.length < REACH + length) {
            line = Arrays.copyOf(line, REACH + length);
        }
        System.arraycopy(in, offset, line, held, length);
        int filled = held + length;
        int readings = filled < REACH ? 0 : (filled - REACH) / 2 + 1;
        read(line, out, readings);
        held = filled - 2 * readings;
        System.arraycopy(line, 2 * readings, line, 0, held);
        return readings;
    }

    private void read(double[] x, double[] out, int readings) {
        long now = moment;
        for (int k = 0; k < readings; k++) {
            now += STEP;
            double u = (now >>> 11) * 0x1p-52;
            int whole = (int) u;
            int i = 2 * k + whole;
            out[k] = Cubic.at(x[i], x[i + 1], x[i + 2], x[i + 3], u - whole);
        }
        moment = now;
    }
}
