/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * The mean of the highest values of consecutive parts of equal length, the highest of all, and the mean. The last part
 * counts where at least half of it is there, and a single part always. Thread-confined.
 *
 * <p>All are in the unit of the values, which are magnitudes: what is below 0 counts as 0 among the highest (by
 * definition). Cost: a comparison and an addition a value; memory does not grow. NaN is passed over by the highest
 * values, makes the mean NaN for good, and then its uncertainty is refused with an {@link IllegalArgumentException}.
 *
 * <p>Not for a percentile: one click is the highest value.
 */
public final class HighestPerPart {
    private final long partLength;
    private double sumOfHighest;
    private long wholeParts;
    private double partHighest;
    private long partCount;
    private double highest;
    private long highestIndex;
    private static final double PIECE_SECONDS = 1.5;
    private double sum;
    private long count;

    private final long pieceLength;
    private final HighestScatter pieces = new HighestScatter();
    private final BlockMeans blocks;
    private final double[] single = new double[1];
    private double pieceHighest;
    private double pieceSum;
    private long pieceCount;

    /**
     * Nothing added yet.
     *
     * @param partLength number of values in a part, at least 1
     * @param rateHz rate of the values in Hz, 10 to 1e9
     */
    public HighestPerPart(long partLength, double rateHz) {
        if (partLength < 1) {
            throw new IllegalArgumentException("partLength " + partLength + " is below 1");
        }
        this.partLength = partLength;
        this.pieceLength = Math.round(PIECE_SECONDS
                * Require.inRange("rateHz", rateHz, BlockMeans.LOWEST_RATE_HZ, BlockMeans.HIGHEST_RATE_HZ));
        this.blocks = new BlockMeans(rateHz);
    }

    /**
     * Adds a value.
     *
     * @param value a value of 0 or more
     * @param index where it stands, for {@link #highestIndex()}
     */
    public void add(double value, long index) {
        single[0] = value;
        add(single, 0, 1, index);
    }

    /**
     * Adds values.
     *
     * @param values values of 0 or more
     * @param offset first of them
     * @param length number of them
     * @param index where the first one stands, for {@link #highestIndex()}
     */
    public void add(double[] values, int offset, int length, long index) {
        for (int done = 0; done < length; ) {
            long left = Math.min(pieceLength - pieceCount, partLength - partCount);
            int part = (int) Math.min(left, length - done);
            addWithinPart(values, offset + done, part, index + done);
            done += part;
        }
    }

    private void addWithinPart(double[] values, int offset, int length, long index) {
        double total = 0;
        double most = 0;
        int at = -1;
        for (int i = 0; i < length; i++) {
            double value = values[offset + i];
            total += value;
            if (value > most) {
                most = value;
                at = i;
            }
        }
        sum += total;
        count += length;
        pieceSum += total;
        pieceCount += length;
        partCount += length;
        pieceHighest = Math.max(pieceHighest, most);
        partHighest = Math.max(partHighest, most);
        if (most > highest) {
            highest = most;
            highestIndex = index + at;
        }
        if (pieceCount == pieceLength) {
            pieces.add(pieceHighest);
            blocks.add(pieceSum, pieceCount);
            pieceHighest = 0;
            pieceSum = 0;
            pieceCount = 0;
        }
        if (partCount == partLength) {
            sumOfHighest += partHighest;
            wholeParts++;
            partHighest = 0;
            partCount = 0;
        }
    }

    /**
     * Mean of the highest values of the parts.
     *
     * @return that mean, empty where nothing was added
     */
    public OptionalDouble meanOfHighest() {
        if (count == 0) {
            return OptionalDouble.empty();
        }
        boolean lastCounts = wholeParts == 0 || 2 * partCount >= partLength;
        double total = sumOfHighest + (lastCounts ? partHighest : 0);
        return OptionalDouble.of(total / (wholeParts + (lastCounts ? 1 : 0)));
    }

    /**
     * The highest value of all.
     *
     * @return that value, empty where nothing was added
     */
    public OptionalDouble highest() {
        return count == 0 ? OptionalDouble.empty() : OptionalDouble.of(highest);
    }

    /**
     * Where the highest value stands.
     *
     * @return the index that was given with it
     */
    public long highestIndex() {
        return highestIndex;
    }

    /**
     * Mean of all values.
     *
     * @return that mean, empty where nothing was added
     */
    public OptionalDouble mean() {
        return count == 0 ? OptionalDouble.empty() : OptionalDouble.of(sum / count);
    }

    /**
     * How well the expected highest value of a part is known by {@link #meanOfHighest()}. A single part that is shorter than
     * it should be reads low; what it lacks is counted in.
     *
     * @return its standard uncertainty, empty below 3 s
     */
    public Optional<StandardUncertainty> meanOfHighestUncertainty() {
        double parts = (double) count / partLength;
        return pieces.of(meanOfHighest().orElse(0), Math.max(1, parts), Math.max(1, 1 / parts));
    }

    /**
     * How much the highest value of as long a time would differ from {@link #highest()}.
     *
     * @return its standard deviation, empty below 3 s
     */
    public Optional<StandardUncertainty> highestUncertainty() {
        return pieces.of(highest, 1, 1);
    }

    /**
     * How well the mean in the long run is known.
     *
     * @return its standard uncertainty, empty below 3 s
     */
    public Optional<StandardUncertainty> meanUncertainty() {
        return blocks.uncertainty();
    }
}
