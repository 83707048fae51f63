/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * Mean magnitude of everything added, the reading of an average-responding meter; a sine of RMS 1 has 0.9003. Magnitudes
 * are taken at moments that never lock to the signal ({@link MovingMoment}). Thread-confined.
 *
 * <p>The mean is {@code sum |x| / n} in the unit of the values (by definition). Cost: an addition a value; memory
 * does not grow. A value that is not finite makes the mean so for good, and then the uncertainty is refused with an
 * {@link IllegalArgumentException}.
 *
 * <p>Not for power: that is {@link MeanPower}.
 */
public final class AverageMagnitude implements BlockStatistic {
    private final MovingMoment moment = new MovingMoment();
    private double[] moved = new double[0];
    private double sum;
    private long count;
    private final BlockMeans blocks;

    /**
     * Nothing added yet.
     *
     * @param rateHz rate of the values in Hz, 10 to 1e9
     */
    public AverageMagnitude(double rateHz) {
        this.blocks = new BlockMeans(rateHz);
    }

    @Override
    public void add(double[] values, int offset, int length) {
        if (moved.length < length) {
            moved = new double[length];
        }
        moment.process(values, offset, moved, 0, length);
        addMoved(moved, 0, length);
    }

    /**
     * Adds values that a {@link MovingMoment} has read already.
     *
     * @param values the values
     * @param offset first of them
     * @param length number of them
     */
    public void addMoved(double[] values, int offset, int length) {
        double even = 0;
        double odd = 0;
        int end = offset + length;
        int i = offset;
        for (; i + 1 < end; i += 2) {
            even += Math.abs(values[i]);
            odd += Math.abs(values[i + 1]);
        }
        if (i < end) {
            even += Math.abs(values[i]);
        }
        double s = even + odd;
        sum += s;
        count += length;
        blocks.add(s, length);
    }

    /**
     * The mean magnitude.
     *
     * @return the mean, empty where nothing was added
     */
    public OptionalDouble value() {
        return count == 0 ? OptionalDouble.empty() : OptionalDouble.of(sum / count);
    }

    /**
     * How well the mean magnitude in the long run is known.
     *
     * @return its standard uncertainty, empty for less than 0.2 s
     */
    public Optional<StandardUncertainty> uncertainty() {
        return blocks.uncertainty();
    }

    @Override
    public long count() {
        return count;
    }

    @Override
    public double sum() {
        return sum;
    }

    @Override
    public double ofSome(double someSum, long someCount) {
        return someSum / someCount;
    }
}
