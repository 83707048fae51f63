/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.Optional;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** Cuts a growing sum into the means of blocks of some 0.1 s, which tell how well its mean in the long run is known. */
final class BlockMeans {
    /** A piece or block of what detectors look at holds a value at least. */
    static final double LOWEST_RATE_HZ = 10;

    static final double HIGHEST_RATE_HZ = 1e9;

    private static final double SECONDS = 0.1;

    private final long least;
    private final LongRunMean means = new LongRunMean();
    private double sum;
    private long count;

    BlockMeans(double rateHz) {
        this.least = Math.round(SECONDS * Require.inRange("rateHz", rateHz, LOWEST_RATE_HZ, HIGHEST_RATE_HZ));
    }

    /** Adds the sum of some more values. */
    void add(double partSum, long partCount) {
        sum += partSum;
        count += partCount;
        if (count >= least) {
            means.add(sum / count);
            sum = 0;
            count = 0;
        }
    }

    /** Uncertainty of the mean; empty for less than 0.2 s. */
    Optional<StandardUncertainty> uncertainty() {
        return means.uncertainty();
    }
}
