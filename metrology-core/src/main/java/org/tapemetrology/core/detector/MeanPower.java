/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.internal.Sums;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * True RMS of everything added. Thread-confined.
 *
 * <p>The value is {@code sqrt(sum x^2 / n)} in the unit of the values (by definition). Cost: a multiplication and an
 * addition a value; memory does not grow. A value that is NaN makes it NaN for good, without an uncertainty.
 *
 * <p>Not for a window that moves: it never forgets, but the differences of two {@link #sum()}s do.
 */
public final class MeanPower implements BlockStatistic {
    private double squares;
    private long count;
    private final BlockMeans blocks;

    /**
     * Nothing added yet.
     *
     * @param rateHz rate of the values in Hz, 10 to 1e9
     */
    public MeanPower(double rateHz) {
        this.blocks = new BlockMeans(rateHz);
    }

    @Override
    public void add(double[] values, int offset, int length) {
        double sum = Sums.ofSquares(values, offset, length);
        squares += sum;
        count += length;
        blocks.add(sum, length);
    }

    /**
     * Root of the mean square.
     *
     * @return RMS value, empty where nothing was added
     */
    public OptionalDouble rms() {
        return count == 0 ? OptionalDouble.empty() : OptionalDouble.of(Math.sqrt(squares / count));
    }

    /**
     * How well the RMS value in the long run is known, by the scatter of the power.
     *
     * @return its standard uncertainty, empty for less than 0.2 s or where nothing but zero was added
     */
    public Optional<StandardUncertainty> rmsUncertainty() {
        double rms = rms().orElse(0);
        return rms > 0 ? blocks.uncertainty().map(power -> power.times(1 / (2 * rms))) : Optional.empty();
    }

    @Override
    public long count() {
        return count;
    }

    @Override
    public double sum() {
        return squares;
    }

    @Override
    public double ofSome(double someSum, long someCount) {
        return Math.sqrt(Math.max(0, someSum) / someCount);
    }
}
