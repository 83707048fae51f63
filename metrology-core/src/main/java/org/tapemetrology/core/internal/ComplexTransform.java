/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

/**
 * Discrete Fourier transform {@code X[k] = sum x[n] exp(-2 pi i k n/N)} of complex series of one length N, a power of two.
 *
 * <p>Four by four (decimation in frequency), each pass from one array into another in the order that leaves the result
 * sorted (T. G. Stockham, 1966, from memory). Real and imaginary parts stand side by side: powers of two apart, as two
 * arrays would have it, the numbers of a pass push each other out of the cache. Thread-confined.
 */
public final class ComplexTransform {
    private final int points;
    /** For each pass, in the order of use: the turns by -k, -2k and -3k of a circle's parts. */
    private final double[][] turns;

    private double[] series;
    private double[] spare;

    /**
     * A transform.
     *
     * @param points length of the series, a power of two, at least 2
     */
    public ComplexTransform(int points) {
        if (points < 2 || Integer.bitCount(points) != 1) {
            throw new IllegalArgumentException("points " + points + " is not a power of two of at least 2");
        }
        this.points = points;
        this.series = new double[2 * points];
        this.spare = new double[2 * points];
        this.turns = new double[Integer.numberOfTrailingZeros(points) / 2][];
        Circle circle = new Circle(Math.max(4, points));
        for (int pass = 0; pass < turns.length; pass++) {
            turns[pass] = turns(circle, points >> (2 * pass), 1 << (2 * pass));
        }
    }

    private static double[] turns(Circle circle, int length, int partsApart) {
        double[] turns = new double[6 * (length / 4)];
        for (int k = 0; k < length / 4; k++) {
            for (int times = 1; times <= 3; times++) {
                turns[6 * k + 2 * times - 2] = circle.cos(times * k * partsApart);
                turns[6 * k + 2 * times - 1] = -circle.sin(times * k * partsApart);
            }
        }
        return turns;
    }

    /**
     * Length of the series.
     *
     * @return points
     */
    public int points() {
        return points;
    }

    /**
     * Where the series to transform is written to before each transform, and its transform is read from after it. A
     * transform may change which array this is, and what the other one holds.
     *
     * @return real part of number k at 2k, imaginary part at 2k + 1
     */
    public double[] series() {
        return series;
    }

    /** Transforms {@link #series()}. */
    public void transform() {
        int stride = 1;
        for (double[] turnsOfPass : turns) {
            if (stride == 1) {
                firstFours(turnsOfPass, series, spare);
            } else {
                fours(2 * stride, turnsOfPass, series, spare);
            }
            swap();
            stride *= 4;
        }
        if (stride < points) {
            twos(series, spare);
            swap();
        }
    }

    private void swap() {
        double[] other = series;
        series = spare;
        spare = other;
    }

    /** The first pass, in which every transform of four points has turns of its own. */
    private static void firstFours(double[] turns, double[] x, double[] y) {
        int quarter = x.length / 4;
        for (int i = 0; i < quarter; i += 2) {
            int t = 3 * i;
            four(
                    x,
                    i,
                    quarter,
                    y,
                    4 * i,
                    2,
                    turns[t],
                    turns[t + 1],
                    turns[t + 2],
                    turns[t + 3],
                    turns[t + 4],
                    turns[t + 5]);
        }
    }

    /** A later pass: so many doubles, pairs of parts, have their turns in common. */
    private static void fours(int stride, double[] turns, double[] x, double[] y) {
        int quarter = x.length / 4;
        for (int from = 0, t = 0; from < quarter; from += stride, t += 6) {
            double c1 = turns[t];
            double s1 = turns[t + 1];
            double c2 = turns[t + 2];
            double s2 = turns[t + 3];
            double c3 = turns[t + 4];
            double s3 = turns[t + 5];
            for (int i = from; i < from + stride; i += 2) {
                four(x, i, quarter, y, 3 * from + i, stride, c1, s1, c2, s2, c3, s3);
            }
        }
    }

    /** A transform of four points, a quarter of the series apart; all results but the first are turned. */
    private static void four(
            double[] x,
            int i,
            int quarter,
            double[] y,
            int k,
            int stride,
            double c1,
            double s1,
            double c2,
            double s2,
            double c3,
            double s3) {
        double aRe = x[i];
        double aIm = x[i + 1];
        double bRe = x[i + quarter];
        double bIm = x[i + quarter + 1];
        double cRe = x[i + 2 * quarter];
        double cIm = x[i + 2 * quarter + 1];
        double dRe = x[i + 3 * quarter];
        double dIm = x[i + 3 * quarter + 1];
        double evenRe = aRe + cRe;
        double evenIm = aIm + cIm;
        double unevenRe = aRe - cRe;
        double unevenIm = aIm - cIm;
        double sumRe = bRe + dRe;
        double sumIm = bIm + dIm;
        // The difference of b and d, a quarter turned back.
        double backRe = bIm - dIm;
        double backIm = dRe - bRe;
        y[k] = evenRe + sumRe;
        y[k + 1] = evenIm + sumIm;
        y[k + stride] = (unevenRe + backRe) * c1 - (unevenIm + backIm) * s1;
        y[k + stride + 1] = (unevenRe + backRe) * s1 + (unevenIm + backIm) * c1;
        y[k + 2 * stride] = (evenRe - sumRe) * c2 - (evenIm - sumIm) * s2;
        y[k + 2 * stride + 1] = (evenRe - sumRe) * s2 + (evenIm - sumIm) * c2;
        y[k + 3 * stride] = (unevenRe - backRe) * c3 - (unevenIm - backIm) * s3;
        y[k + 3 * stride + 1] = (unevenRe - backRe) * s3 + (unevenIm - backIm) * c3;
    }

    /** The last pass where the length is no power of four: nothing is turned. */
    private static void twos(double[] x, double[] y) {
        int half = x.length / 2;
        for (int i = 0; i < half; i++) {
            y[i] = x[i] + x[i + half];
            y[i + half] = x[i] - x[i + half];
        }
    }
}
