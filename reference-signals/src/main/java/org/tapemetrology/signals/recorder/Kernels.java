/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

/** Functions that windows are made of. */
final class Kernels {
    private Kernels() {}

    /** Modified Bessel function of order 0 by its power series, for arguments of windows. */
    static double besselI0(double x) {
        double quarter = x * x / 4;
        double term = 1;
        double sum = 1;
        for (int k = 1; term > sum * 1e-17; k++) {
            term *= quarter / ((double) k * k);
            sum += term;
        }
        return sum;
    }
}
