/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.Arrays;
import java.util.OptionalDouble;

/**
 * Percentiles of magnitudes in constant memory: a histogram whose bins are at most 0.1 % wide.
 *
 * <p>A bin holds the magnitudes that share their binary exponent and the first {@value #MANTISSA_BITS} bits of their
 * mantissa, so the index is a shift of the number's own bits. Magnitudes from 2^-40 to 2^24 are told apart; smaller and
 * larger ones fall into the outermost bins. Within a bin a percentile is interpolated. NaN is not to be added: it
 * counts among the largest. Thread-confined.
 *
 * <p>Magnitudes keep their unit (by definition). Cost: an increment a value, 65 536 counters in all, of which a
 * percentile looks at those in use.
 *
 * <p>Not for signs: a value and its negative are the same.
 */
public final class MagnitudeHistogram {
    private static final int MANTISSA_BITS = 10;
    private static final int SHIFT = 52 - MANTISSA_BITS;
    private static final long FIRST = Double.doubleToRawLongBits(0x1p-40) >>> SHIFT;
    private static final long LAST = (Double.doubleToRawLongBits(0x1p24) >>> SHIFT) - 1;

    private final long[] counts = new long[(int) (LAST - FIRST + 1)];
    /** Which octaves hold anything: the others, most of them, need not be looked at. */
    private final boolean[] used = new boolean[counts.length >> MANTISSA_BITS];

    private long total;

    /** An empty histogram. */
    public MagnitudeHistogram() {}

    /**
     * Adds the magnitude of a value.
     *
     * @param value any number but NaN
     */
    public void add(double value) {
        addTo(binOf(value));
    }

    /** The bin of a value, from 0 to {@code Character.MAX_VALUE}. */
    static char binOf(double value) {
        int bin = (int) ((Double.doubleToRawLongBits(value) << 1) >>> (SHIFT + 1));
        return (char) Math.min(Math.max(bin - (int) FIRST, 0), (int) (LAST - FIRST));
    }

    /** Adds a value of which the bin is known. */
    void addTo(char bin) {
        counts[bin]++;
        used[bin >> MANTISSA_BITS] = true;
        total++;
    }

    /** Takes a value out again that was added before. */
    void removeFrom(char bin) {
        counts[bin]--;
        total--;
    }

    /**
     * The magnitude that a share of all values does not exceed.
     *
     * @param share share of the values, above 0 and below 1
     * @return the magnitude, empty where nothing was added
     */
    public OptionalDouble quantile(double share) {
        if (!(share > 0 && share < 1)) {
            throw new IllegalArgumentException("share " + share + " is not in (0, 1)");
        }
        return total == 0 ? OptionalDouble.empty() : OptionalDouble.of(quantileOfSome(share));
    }

    /** The quantile where something was added, without an object for it. */
    double quantileOfSome(double share) {
        double wanted = share * total;
        double below = 0;
        int octave = 1 << MANTISSA_BITS;
        for (int from = 0; from < counts.length; from += octave) {
            double within = used[from / octave] ? sum(from, octave) : 0;
            if (below + within < wanted || within == 0) {
                below += within;
                continue;
            }
            for (int i = from; i < from + octave; i++) {
                if (below + counts[i] >= wanted) {
                    double lower = edge(i);
                    return lower + (edge(i + 1) - lower) * (wanted - below) / counts[i];
                }
                below += counts[i];
            }
        }
        return edge(counts.length);
    }

    private long sum(int from, int length) {
        long sum = 0;
        for (int i = from; i < from + length; i++) {
            sum += counts[i];
        }
        return sum;
    }

    private static double edge(int bin) {
        return Double.longBitsToDouble((FIRST + bin) << SHIFT);
    }

    /**
     * How many values were added.
     *
     * @return their number
     */
    public long total() {
        return total;
    }

    /** Empties the histogram. */
    public void reset() {
        for (int octave = 0; octave < used.length; octave++) {
            if (used[octave]) {
                Arrays.fill(counts, octave << MANTISSA_BITS, (octave + 1) << MANTISSA_BITS, 0);
                used[octave] = false;
            }
        }
        total = 0;
    }
}
