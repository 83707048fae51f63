/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

/**
 * The NAB way of reading flutter (NAB standard for reel-to-reel magnetic tape, April 1965): average-responding, scaled
 * to the RMS of a sine. No text could be had: everything here is from memory.
 *
 * <p>Not for a claim of conformity before the text was read.
 */
public final class NabEdition1965 {
    /** Name of the weighted figure; the weighting is that of IEC 60386. */
    public static final String WEIGHTED_METHOD = "NAB 1965, weighted, average-responding";

    /** Name of the unweighted figure. */
    public static final String UNWEIGHTED_METHOD = "NAB 1965, 0.5 Hz to 200 Hz, average-responding";

    /** Nominal carrier in Hz. */
    public static final double CARRIER_HZ = 3000;

    /** Lower edge of the unweighted band in Hz. */
    public static final double FROM_HZ = 0.5;

    /** Upper edge of the unweighted band in Hz. */
    public static final double TO_HZ = 200;

    /** What turns the average magnitude of a sine into its RMS value. */
    public static final double AVERAGE_TO_RMS = Math.PI / (2 * Math.sqrt(2));

    private NabEdition1965() {}
}
