/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.Arrays;
import java.util.Objects;

/**
 * Discrete prolate spheroidal sequences: the orthonormal windows of a given length that hold the most of their energy
 * within {@code +-NW/length} cycles per sample (D. Slepian, Bell System Technical Journal 57 (1978) p. 1371).
 *
 * <p>They are the eigenvectors of a tridiagonal matrix, whose entries grow as the square of the length while the
 * eigenvalues wanted differ by less than ten. Less a multiple of the identity that matrix is the Laplacian of a chain,
 * with links {@code i (n - i) / 2}, and a potential {@code 2 sin^2(pi W) (i - (n-1)/2)^2}, of which the least eigenvalues
 * are wanted. Its triangular factors are carried in differences, from which nothing cancels, so the tapers are as good
 * for a million samples as for a hundred: eigenvalues are isolated by bisection with Sturm counts, eigenvectors follow by
 * a factorisation from both ends and Rayleigh quotients. Cost: work and memory are proportional to the length.
 * Immutable.
 *
 * <p>A taper is a plain number a sample. A bandwidth that is NaN is refused.
 *
 * <p>Not for more than about 2 NW - 1 windows: the last ones leak.
 */
public final class DpssTapers {
    /** Last step of a Rayleigh quotient re the eigenvalue; the vector is off by as much over the relative gap, 0.1. */
    private static final double CONVERGED = 1e-12;

    private static final int PASSES = 30;

    private final double timeHalfBandwidth;
    private final double[][] tapers;

    private DpssTapers(double timeHalfBandwidth, double[][] tapers) {
        this.timeHalfBandwidth = timeHalfBandwidth;
        this.tapers = tapers;
    }

    /**
     * The first tapers of a family.
     *
     * @param length samples of each, at least 8
     * @param timeHalfBandwidth half bandwidth times length, NW, from 1 to a quarter of the length
     * @param count how many, at least 1 and at most 2 NW
     * @return the tapers
     */
    public static DpssTapers of(int length, double timeHalfBandwidth, int count) {
        if (length < 8) {
            throw new IllegalArgumentException("length " + length + " is below 8");
        }
        if (!(timeHalfBandwidth >= 1 && timeHalfBandwidth <= length / 4.0)) {
            throw new IllegalArgumentException(
                    "timeHalfBandwidth " + timeHalfBandwidth + " is not in [1, " + length / 4.0 + "]");
        }
        if (!(count >= 1 && count <= 2 * timeHalfBandwidth)) {
            throw new IllegalArgumentException("count " + count + " is not in 1 to " + (int) (2 * timeHalfBandwidth));
        }
        return new DpssTapers(timeHalfBandwidth, new Chain(length, timeHalfBandwidth / length).tapers(count));
    }

    /**
     * Length of the tapers.
     *
     * @return samples
     */
    public int length() {
        return tapers[0].length;
    }

    /**
     * How many tapers there are.
     *
     * @return the number
     */
    public int count() {
        return tapers.length;
    }

    /**
     * Half bandwidth times length.
     *
     * @return NW
     */
    public double timeHalfBandwidth() {
        return timeHalfBandwidth;
    }

    /**
     * A taper, its squares adding up to 1. Even ones have a positive sum, odd ones begin with a positive lobe.
     *
     * @param index which one, from 0
     * @return a copy
     */
    public double[] taper(int index) {
        return tapers[Objects.checkIndex(index, tapers.length)].clone();
    }

    /** A taper itself, not to be written to. */
    double[] shared(int index) {
        return tapers[index];
    }

    /**
     * Share of a taper's energy within its half bandwidth.
     *
     * @param index which one, from 0
     * @return the share, 0 to 1
     */
    public double concentration(int index) {
        double[] taper = tapers[Objects.checkIndex(index, tapers.length)];
        // Autocorrelation by the power spectrum, against the transform of the band, sin(2 pi W m) / (pi m).
        Fourier fourier = new Fourier(Fourier.pointsFor(2L * taper.length));
        System.arraycopy(taper, 0, fourier.first(), 0, taper.length);
        fourier.transform();
        double[] power = new double[fourier.points()];
        for (int k = 0; k <= power.length / 2; k++) {
            power[k] = fourier.firstPower(k);
            power[(power.length - k) % power.length] = power[k];
        }
        System.arraycopy(power, 0, fourier.first(), 0, power.length);
        Arrays.fill(fourier.second(), 0);
        fourier.transform();
        double w = timeHalfBandwidth / taper.length;
        double sum = 2 * w * fourier.firstRe(0) / power.length;
        for (int m = 1; m < taper.length; m++) {
            sum += 2 * StrictMath.sin(2 * Math.PI * w * m) / (Math.PI * m) * fourier.firstRe(m) / power.length;
        }
        return sum;
    }

    /** The matrix: diagonal {@code link(i) + link(i+1) + potential(i)}, beside it {@code -link}. */
    private static final class Chain {
        private final int n;
        private final double curvature;
        /** Pivots less the link that follows (from the front), or the link before (from the back). */
        private final double[] front;

        private final double[] back;

        Chain(int n, double w) {
            this.n = n;
            double s = StrictMath.sin(Math.PI * w);
            this.curvature = 2 * s * s;
            this.front = new double[n];
            this.back = new double[n];
        }

        private double link(int i) {
            return 0.5 * i * (n - i);
        }

        private double potential(int i) {
            double off = i - (n - 1) / 2.0;
            return curvature * off * off;
        }

        /** How many eigenvalues are below a number: how many pivots are negative. */
        private int below(double lambda) {
            int count = 0;
            double s = potential(0) - lambda;
            for (int i = 0; ; i++) {
                double next = link(i + 1);
                double pivot = next + s;
                if (pivot < 0) {
                    count++;
                }
                if (i == n - 1) {
                    return count;
                }
                s = potential(i + 1) - lambda + quotient(next, s, pivot);
            }
        }

        private static double quotient(double link, double s, double pivot) {
            return link * s / notZero(pivot);
        }

        /** A pivot of exactly 0, as where an odd taper passes through 0 on a sample, moved by next to nothing. */
        private static double notZero(double pivot) {
            return pivot == 0 ? 1e-20 : pivot;
        }

        double[][] tapers(int count) {
            double[][] tapers = new double[count][];
            double least = 0;
            for (int k = 0; k < count; k++) {
                double low = least;
                double high = Math.max(2 * least, 1);
                int belowLow = k;
                int belowHigh = below(high);
                while (belowHigh <= k) {
                    low = high;
                    high *= 2;
                    belowHigh = below(high);
                }
                // One eigenvalue alone, nearer than the next, which is farther up by about a k-th: Rayleigh quotients
                // then
                // converge to it.
                while (belowHigh != k + 1 || belowLow != k || high - low > 0.05 / (k + 1) * high) {
                    double middle = (low + high) / 2;
                    int belowMiddle = below(middle);
                    if (belowMiddle > k) {
                        high = middle;
                        belowHigh = belowMiddle;
                    } else {
                        low = middle;
                        belowLow = belowMiddle;
                    }
                }
                least = low;
                tapers[k] = vector((low + high) / 2, k);
            }
            return tapers;
        }

        private double[] vector(double start, int order) {
            double lambda = start;
            double[] z = new double[n];
            for (int pass = 0; pass < PASSES; pass++) {
                double step = solve(lambda, z);
                if (Math.abs(step) <= CONVERGED * lambda) {
                    normalise(z, order);
                    return z;
                }
                lambda += step;
            }
            throw new ArithmeticException("taper " + order + " of " + n + " samples does not converge");
        }

        /** The vector that solves all equations but the one where it is largest; returns the step to its quotient. */
        private double solve(double lambda, double[] z) {
            front[0] = potential(0) - lambda;
            for (int i = 1; i < n; i++) {
                double link = link(i);
                front[i] = potential(i) - lambda + quotient(link, front[i - 1], link + front[i - 1]);
            }
            back[n - 1] = potential(n - 1) - lambda;
            for (int i = n - 2; i >= 0; i--) {
                double link = link(i + 1);
                back[i] = potential(i) - lambda + quotient(link, back[i + 1], link + back[i + 1]);
            }
            int twist = 0;
            double rest = Double.POSITIVE_INFINITY;
            for (int i = 0; i < n; i++) {
                double r = front[i] + back[i] - (potential(i) - lambda);
                if (Math.abs(r) < Math.abs(rest)) {
                    rest = r;
                    twist = i;
                }
            }
            z[twist] = 1;
            double squares = 1;
            for (int i = twist - 1; i >= 0; i--) {
                double link = link(i + 1);
                z[i] = link / notZero(link + front[i]) * z[i + 1];
                squares += z[i] * z[i];
            }
            for (int i = twist + 1; i < n; i++) {
                double link = link(i);
                z[i] = link / notZero(link + back[i]) * z[i - 1];
                squares += z[i] * z[i];
            }
            return rest / squares;
        }

        private static void normalise(double[] z, int order) {
            double squares = 0;
            double sum = 0;
            for (double value : z) {
                squares += value * value;
                sum += value;
            }
            double rms = Math.sqrt(squares / z.length);
            double sign = sum;
            if (order % 2 == 1) {
                int i = 0;
                while (Math.abs(z[i]) <= rms) {
                    i++;
                }
                sign = z[i];
            }
            double scale = (sign < 0 ? -1 : 1) / Math.sqrt(squares);
            for (int i = 0; i < z.length; i++) {
                z[i] *= scale;
            }
        }
    }
}
