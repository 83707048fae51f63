/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.OptionalDouble;

/**
 * Mean magnitude of everything added, the reading of an average-responding meter; a sine of RMS 1 has 0.9003. Magnitudes
 * are taken at moments that never lock to the signal ({@link MovingMoment}). Thread-confined.
 */
public final class AverageMagnitude implements BlockStatistic {
    private final MovingMoment moment = new MovingMoment();
    private double sum;
    private long count;

    /** Nothing added yet. */
    public AverageMagnitude() {}

    @Override
    public void add(double[] values, int offset, int length) {
        double s = 0;
        for (int i = offset; i < offset + length; i++) {
            s += Math.abs(moment.next(values[i]));
        }
        sum += s;
        count += length;
    }

    /**
     * The mean magnitude.
     *
     * @return the mean, empty where nothing was added
     */
    public OptionalDouble value() {
        return count == 0 ? OptionalDouble.empty() : OptionalDouble.of(sum / count);
    }

    @Override
    public long count() {
        return count;
    }
}
