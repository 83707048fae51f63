/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

/**
 * The JIS way of reading flutter (JIS C 5551): true RMS of the weighted deviation, on a 3000 Hz carrier. No text could
 * be had: everything here is from memory.
 *
 * <p>Not for a claim of conformity before the text was read.
 */
public final class JisC5551 {
    /** Name of the figure; the weighting is that of IEC 60386. */
    public static final String METHOD = "JIS C 5551, weighted RMS";

    /** Nominal carrier in Hz. */
    public static final double CARRIER_HZ = 3000;

    private JisC5551() {}
}
