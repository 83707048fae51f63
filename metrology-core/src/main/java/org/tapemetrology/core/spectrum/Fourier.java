/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;

/** Discrete Fourier transforms of real series padded with zeros to a power of two. Thread-confined. */
final class Fourier {
    private final double[][] buffer;

    /** A transform of so many points, a power of two. */
    Fourier(int points) {
        this.buffer = new double[2][points];
    }

    /** The least power of two that is not below a number. */
    static int pointsFor(long least) {
        int points = 2;
        while (points < least) {
            points *= 2;
        }
        return points;
    }

    int points() {
        return buffer[0].length;
    }

    /** Where the first of two series goes. Both have to be filled anew for each transform. */
    double[] first() {
        return buffer[0];
    }

    /** Where the second goes. */
    double[] second() {
        return buffer[1];
    }

    /** Transforms the two series in one go, each to be read by its own methods. */
    void transform() {
        FastFourierTransformer.transformInPlace(buffer, DftNormalization.STANDARD, TransformType.FORWARD);
    }

    private int mirror(int k) {
        return k == 0 ? 0 : points() - k;
    }

    /** Real part of the transform of the first series. */
    double firstRe(int k) {
        return (buffer[0][k] + buffer[0][mirror(k)]) / 2;
    }

    /** Imaginary part of the transform of the first series. */
    double firstIm(int k) {
        return (buffer[1][k] - buffer[1][mirror(k)]) / 2;
    }

    /** Power of the first series at a point. */
    double firstPower(int k) {
        double re = firstRe(k);
        double im = firstIm(k);
        return re * re + im * im;
    }

    /** Power of the second series at a point. */
    double secondPower(int k) {
        double re = (buffer[1][k] + buffer[1][mirror(k)]) / 2;
        double im = (buffer[0][mirror(k)] - buffer[0][k]) / 2;
        return re * re + im * im;
    }
}
