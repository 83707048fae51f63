/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

/**
 * Decibels of amplitude ratios. A sine of amplitude 1 is 0 dBFS (AES17).
 *
 * <p>The level is {@code 20 lg r} dB for a ratio r: minus infinity for 0, NaN for a negative one and for NaN. It has
 * no state: any number of threads may use it.
 */
public final class Decibels {
    private Decibels() {}

    /**
     * The amplitude ratio of a level difference.
     *
     * @param decibels level difference in dB
     * @return 10^(dB/20)
     */
    public static double toRatio(double decibels) {
        return StrictMath.pow(10, decibels / 20);
    }

    /**
     * The level difference of an amplitude ratio.
     *
     * @param ratio amplitude ratio, above 0
     * @return 20 lg(ratio) in dB; minus infinity for 0
     */
    public static double ofRatio(double ratio) {
        return 20 * StrictMath.log10(ratio);
    }
}
