/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

/**
 * Cross spectrum of one frame, its derivative over time and the power of each channel, from the lowest bin that counts on;
 * and the mean squares of both channels.
 */
final class CrossFrame {
    final double[] re;
    final double[] im;
    final double[] derivativeRe;
    final double[] derivativeIm;
    final double[] firstPower;
    final double[] secondPower;
    double first;
    double second;

    CrossFrame(int bins) {
        re = new double[bins];
        im = new double[bins];
        derivativeRe = new double[bins];
        derivativeIm = new double[bins];
        firstPower = new double[bins];
        secondPower = new double[bins];
    }
}
