/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

/** The cubic of Lagrange through four samples in a row. */
public final class Cubic {
    private Cubic() {}

    /**
     * Its value between the second and the third sample, in powers of u.
     *
     * @param x0 first sample
     * @param x1 second sample
     * @param x2 third sample
     * @param x3 fourth sample
     * @param u share of the way from the second to the third, 0 to 1
     * @return the value there
     */
    public static double at(double x0, double x1, double x2, double x3, double u) {
        double linear = x2 - (1.0 / 3) * x0 - 0.5 * x1 - (1.0 / 6) * x3;
        double square = 0.5 * (x0 + x2) - x1;
        double cube = (1.0 / 6) * (x3 - x0) + 0.5 * (x1 - x2);
        return x1 + u * (linear + u * (square + u * cube));
    }
}
