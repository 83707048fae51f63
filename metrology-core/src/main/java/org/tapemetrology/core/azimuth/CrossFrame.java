/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

/** Cross spectrum of one frame, and its derivative over time, from the lowest bin that counts on. */
final class CrossFrame {
    final double[] re;
    final double[] im;
    final double[] derivativeRe;
    final double[] derivativeIm;

    CrossFrame(int bins) {
        re = new double[bins];
        im = new double[bins];
        derivativeRe = new double[bins];
        derivativeIm = new double[bins];
    }
}
