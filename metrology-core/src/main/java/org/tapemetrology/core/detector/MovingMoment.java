/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import org.tapemetrology.core.internal.Cubic;

/**
 * Reads a sampled signal once per sample at moments that never lock to it.
 *
 * <p>A sine whose period is a whole number of samples shows the same few values for ever, and neither their mean magnitude
 * nor a percentile is that of the sine. So the moment within the interval moves on by the golden section from sample to
 * sample, and the value there is that of the cubic through four samples: its error is below 0.03 % at twenty samples a
 * period. Thread-confined.
 *
 * <p>A value that is not finite makes the four that are read about it so.
 */
public final class MovingMoment {
    /** The golden section of 2^64. */
    private static final long STEP = 0x9E3779B97F4A7C15L;

    private long moment;
    private double before;
    private double left;
    private double right;

    /** A reader of a signal that was 0 so far. */
    public MovingMoment() {}

    /**
     * Reads a block. Each value is that at the next moment between the second and the third of the last four samples.
     *
     * @param in the samples
     * @param inOffset first of them
     * @param out where the values go; it may be the input at the same offset
     * @param outOffset first of them
     * @param length number of samples
     */
    public void process(double[] in, int inOffset, double[] out, int outOffset, int length) {
        long now = moment;
        double x0 = before;
        double x1 = left;
        double x2 = right;
        for (int i = 0; i < length; i++) {
            double x3 = in[inOffset + i];
            now += STEP;
            double u = (now >>> 11) * 0x1p-53;
            out[outOffset + i] = Cubic.at(x0, x1, x2, x3, u);
            x0 = x1;
            x1 = x2;
            x2 = x3;
        }
        moment = now;
        before = x0;
        left = x1;
        right = x2;
    }
}
