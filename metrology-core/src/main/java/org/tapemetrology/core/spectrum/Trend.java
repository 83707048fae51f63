/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

/**
 * The slow trend of a record: its least-squares cubic. Without it the ends of a drifting record do not meet, and the jump
 * would spread as 1/f over the whole spectrum.
 */
final class Trend {
    private Trend() {}

    /** Takes the trend out of the first {@code length} values. The polynomials are orthogonal on the samples themselves. */
    static void remove(double[] x, int length) {
        double middle = (length - 1) / 2.0;
        double[] moment = new double[3];
        for (int i = 0; i < length; i++) {
            double t = (i - middle) / middle;
            double square = t * t;
            moment[0] += square;
            moment[1] += square * square;
            moment[2] += square * square * square;
        }
        double evenShift = moment[0] / length;
        double oddShift = moment[1] / moment[0];
        double quadraticNorm = moment[1] - evenShift * moment[0];
        double cubicNorm = moment[2] - oddShift * moment[1];
        double constant = 0;
        double linear = 0;
        double quadratic = 0;
        double cubic = 0;
        for (int i = 0; i < length; i++) {
            double t = (i - middle) / middle;
            constant += x[i];
            linear += x[i] * t;
            quadratic += x[i] * (t * t - evenShift);
            cubic += x[i] * t * (t * t - oddShift);
        }
        constant /= length;
        linear /= moment[0];
        quadratic /= quadraticNorm;
        cubic /= cubicNorm;
        for (int i = 0; i < length; i++) {
            double t = (i - middle) / middle;
            x[i] -= constant + linear * t + quadratic * (t * t - evenShift) + cubic * t * (t * t - oddShift);
        }
    }
}
