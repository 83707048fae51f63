/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

/** The angle of a complex number, quickly where it is small, as the phase steps of a tuned demodulator are. */
final class Angle {
    private static final double SMALL = 0.25;

    private Angle() {}

    /**
     * {@code atan2(y, x)}. Where |y| is below a quarter of x, from the series of the arc tangent up to the 15th power,
     * whose remainder is below 4e-12 rad; otherwise from {@link Math#atan2}.
     */
    static double of(double y, double x) {
        if (Math.abs(y) < SMALL * x) {
            double t = y / x;
            double s = t * t;
            return t
                    * (1
                            + s
                                    * (-1.0 / 3
                                            + s
                                                    * (1.0 / 5
                                                            + s
                                                                    * (-1.0 / 7
                                                                            + s
                                                                                    * (1.0 / 9
                                                                                            + s
                                                                                                    * (-1.0 / 11
                                                                                                            + s
                                                                                                                    * (1.0
                                                                                                                                    / 13
                                                                                                                            - s
                                                                                                                                    / 15)))))));
        }
        return Math.atan2(y, x);
    }
}
