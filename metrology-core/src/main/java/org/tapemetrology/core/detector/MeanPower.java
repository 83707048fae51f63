/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** True RMS of everything added. Thread-confined. */
public final class MeanPower implements BlockStatistic {
    private double squares;
    private long count;
    private final BlockMeans blocks;

    /**
     * Nothing added yet.
     *
     * @param rateHz rate of the values in Hz, above 0
     */
    public MeanPower(double rateHz) {
        this.blocks = new BlockMeans(rateHz);
    }

    @Override
    public void add(double[] values, int offset, int length) {
        // Two sums side by side, so that one addition need not wait for the other.
        double even = 0;
        double odd = 0;
        int end = offset + length;
        int i = offset;
        for (; i + 1 < end; i += 2) {
            even += values[i] * values[i];
            odd += values[i + 1] * values[i + 1];
        }
        if (i < end) {
            even += values[i] * values[i];
        }
        squares += even + odd;
        count += length;
        blocks.add(even + odd, length);
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
     * @return its standard uncertainty, empty for less than 0.8 s or where nothing but zero was added
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
