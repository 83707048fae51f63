/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

/** Third octaves by their nominal frequencies (ISO 266, second-hand): those of the bands -16 to 13 of IEC 61260. */
final class ThirdOctaves {
    static final int LOWEST_BAND = -16;

    /** Natural logarithm of the width of a third octave of base ten. */
    static final double WIDTH = StrictMath.log(10) / 10;

    private static final double[] NOMINAL = {
        25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150,
        4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000
    };

    private ThirdOctaves() {}

    /** Nominal frequencies, rising; a copy. */
    static double[] nominalHz() {
        return NOMINAL.clone();
    }
}
