/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

/** What the half-band filters share: every second tap is zero but the middle one, which is a half. */
final class HalfBand {
    private HalfBand() {}

    /** Adds {@code tap (line[first + i] + line[last + i])} to every output i. */
    static void addPairs(double tap, double[] line, int first, int last, double[] out, int outOffset, int length) {
        for (int i = 0; i < length; i++) {
            out[outOffset + i] += tap * (line[first + i] + line[last + i]);
        }
    }

    /** Adds {@code tap (a[i] + b[i])} and then {@code nextTap (c[i] + d[i])} to every output i. */
    static void addTwoPairs(
            double tap, double[] a, double[] b, double nextTap, double[] c, double[] d, double[] out, int length) {
        for (int i = 0; i < length; i++) {
            out[i] = out[i] + tap * (a[i] + b[i]) + nextTap * (c[i] + d[i]);
        }
    }
}
