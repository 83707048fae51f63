/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

/**
 * Power spectrum of real series of one length N, a power of two, by a {@link ComplexTransform} of half the length: even
 * samples are its real part, uneven ones its imaginary part. With Z the transform of these, E and U those of even and uneven
 * samples, {@code X[k] = E[k] + exp(-2 pi i k/N) U[k]}, {@code 2 E[k] = Z[k] + Z*[N/2 - k]},
 * {@code 2 i U[k] = Z[k] - Z*[N/2 - k]}. Thread-confined.
 */
public final class RealTransform {
    private final ComplexTransform half;
    private final double[] cos;
    private final double[] sin;

    /**
     * A transform.
     *
     * @param points length of the series, a power of two, at least 4
     */
    public RealTransform(int points) {
        half = new ComplexTransform(points / 2);
        cos = new double[points / 4 + 1];
        sin = new double[cos.length];
        Circle circle = new Circle(points);
        for (int k = 0; k < cos.length; k++) {
            cos[k] = circle.cos(k);
            sin[k] = circle.sin(k);
        }
    }

    /**
     * Where the series is written to before each transform, which may change the array and what it holds.
     *
     * @return the samples
     */
    public double[] series() {
        return half.series();
    }

    /**
     * Transforms {@link #series()}.
     *
     * @param scale what each power is multiplied by
     * @param power where {@code |X[k]|^2} goes, for k from 0 to N/2
     */
    public void power(double scale, double[] power) {
        half.transform();
        double[] z = half.series();
        int points = half.points();
        power[0] = scale * (z[0] + z[1]) * (z[0] + z[1]);
        power[points] = scale * (z[0] - z[1]) * (z[0] - z[1]);
        for (int k = 1; k < cos.length; k++) {
            int here = 2 * k;
            int mirror = 2 * (points - k);
            double evenRe = z[here] + z[mirror];
            double evenIm = z[here + 1] - z[mirror + 1];
            double unevenRe = z[here + 1] + z[mirror + 1];
            double unevenIm = z[mirror] - z[here];
            double turnedRe = unevenRe * cos[k] + unevenIm * sin[k];
            double turnedIm = unevenIm * cos[k] - unevenRe * sin[k];
            power[k] = 0.25 * scale * square(evenRe + turnedRe, evenIm + turnedIm);
            // At N/2 - k even and uneven parts are the conjugates of these, and their turn is that of half a circle
            // less k.
            power[points - k] = 0.25 * scale * square(evenRe - turnedRe, evenIm - turnedIm);
        }
    }

    private static double square(double re, double im) {
        return re * re + im * im;
    }
}
