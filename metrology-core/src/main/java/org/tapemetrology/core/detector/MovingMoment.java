/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

/**
 * Reads a sampled signal once per sample at moments that never lock to it.
 *
 * <p>A sine whose period is a whole number of samples shows the same few values for ever, and neither their mean magnitude
 * nor a percentile is that of the sine. So the moment within the interval moves on by the golden section from sample to
 * sample, and the value there is that of the cubic through four samples: its error is below 0.03 % at twenty samples a
 * period.
 */
final class MovingMoment {
    private static final double GOLDEN_SECTION = 0.6180339887498949;

    private double moment;
    private double before;
    private double left;
    private double right;

    /** Takes a sample and gives the value at the next moment between the two middle ones of the last four. */
    double next(double after) {
        moment += GOLDEN_SECTION;
        if (moment >= 1) {
            moment -= 1;
        }
        double u = moment;
        double cubic = -u * (u - 1) * (u - 2) / 6 * before
                + (u + 1) * (u - 1) * (u - 2) / 2 * left
                - (u + 1) * u * (u - 2) / 2 * right
                + (u + 1) * u * (u - 1) / 6 * after;
        before = left;
        left = right;
        right = after;
        return cubic;
    }
}
