/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.Optional;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * How well a percentile of magnitudes is known whose neighbours depend on each other.
 *
 * <p>The share of values beyond the percentile q has a long-run variance as any mean has; divided by the density of the
 * magnitudes at q its deviation is that of q (Bahadur, Annals of Mathematical Statistics 37 (1966) p. 577, from memory).
 * Since q is known at the end alone, each block of 0.25 s counts what exceeds the percentile of all values before it, t. To
 * first order the share beyond q is the counted share plus the density times (t - q), so shares and thresholds are kept side
 * by side.
 */
final class ExceedanceScatter {
    private static final double BLOCK_SECONDS = 0.25;
    /** The density is the share between two percentiles this far from that which is looked for, over their distance. */
    private static final double HALF_SHARE = 0.02;
    /** The threshold is renewed when a quarter more blocks have passed: looking it up takes time. */
    private static final double RENEWED = 1.25;

    private final MagnitudeHistogram all;
    private final double exceeded;
    private final long blockLength;
    private final LongRunMean shares = new LongRunMean();
    private final LongRunMean thresholds = new LongRunMean();

    private double threshold = Double.NaN;
    private long beyond;
    private long count;
    private long blocks;
    private double renewAt = 1;

    ExceedanceScatter(MagnitudeHistogram all, double exceeded, double rateHz) {
        this.all = all;
        this.exceeded = exceeded;
        this.blockLength = Math.round(BLOCK_SECONDS
                * Require.inRange("rateHz", rateHz, BlockMeans.LOWEST_RATE_HZ, BlockMeans.HIGHEST_RATE_HZ));
    }

    /** How many more values make a block. */
    long untilBlock() {
        return blockLength - count;
    }

    /** Adds values, no more than {@link #untilBlock()}, that have been added to the histogram. */
    void add(double[] values, int offset, int length) {
        int more = 0;
        double limit = threshold;
        for (int i = offset; i < offset + length; i++) {
            more += Math.abs(values[i]) > limit ? 1 : 0;
        }
        beyond += more;
        count += length;
        if (count == blockLength) {
            close();
        }
    }

    private void close() {
        if (blocks > 0) {
            shares.add((double) beyond / blockLength);
            thresholds.add(threshold);
        }
        blocks++;
        if (blocks >= renewAt) {
            threshold = all.quantileOfSome(1 - exceeded);
            renewAt = blocks * RENEWED;
        }
        beyond = 0;
        count = 0;
    }

    Optional<StandardUncertainty> uncertainty() {
        if (all.total() == 0) {
            return Optional.empty();
        }
        double half = Math.min(HALF_SHARE, exceeded / 2);
        double width = all.quantileOfSome(1 - exceeded + half) - all.quantileOfSome(1 - exceeded - half);
        double density = 2 * half / width;
        return shares.uncertaintyWith(density, thresholds).map(share -> share.times(1 / density));
    }
}
