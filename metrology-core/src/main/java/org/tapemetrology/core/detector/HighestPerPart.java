/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.OptionalDouble;

/**
 * The mean of the highest values of consecutive parts of equal length, the highest of all, and the mean. The last part
 * counts where at least half of it is there, and a single part always. Thread-confined.
 */
public final class HighestPerPart {
    private final long partLength;
    private double sumOfHighest;
    private long wholeParts;
    private double partHighest;
    private long partCount;
    private double highest;
    private long highestIndex;
    private double sum;
    private long count;

    /**
     * Nothing added yet.
     *
     * @param partLength number of values in a part, at least 1
     */
    public HighestPerPart(long partLength) {
        if (partLength < 1) {
            throw new IllegalArgumentException("partLength " + partLength + " is below 1");
        }
        this.partLength = partLength;
    }

    /**
     * Adds a value.
     *
     * @param value a value of 0 or more
     * @param index where it stands, for {@link #highestIndex()}
     */
    public void add(double value, long index) {
        sum += value;
        count++;
        if (value > partHighest) {
            partHighest = value;
            if (value > highest) {
                highest = value;
                highestIndex = index;
            }
        }
        if (++partCount == partLength) {
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
        boolean lastCounts = partCount > 0 && (wholeParts == 0 || 2 * partCount >= partLength);
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
}
