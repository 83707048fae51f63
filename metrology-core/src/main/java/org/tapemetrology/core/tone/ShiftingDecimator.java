/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

/**
 * Shifts real samples down by a frequency, filters them by a symmetric filter h and keeps every n-th output, in one go: with
 * the middle c of an output's samples and w the frequency in rad a sample, {@code y = exp(-i w c) (h[0] x[c] + sum over d
 * of h[d] (cos(w d) (x[c + d] + x[c - d]) - i sin(w d) (x[c + d] - x[c - d])))}. Thread-confined.
 */
final class ShiftingDecimator {
    /** Outputs from one exact value of a phasor that runs on to the next: rounding grows to 1e-14 at most. */
    private static final int RENEWED_EVERY = 64;

    private final double[] half;
    private final int factor;
    private final double[] cosTaps;
    private final double[] sinTaps;

    /** A decimator by a factor with an odd number of symmetric taps. */
    ShiftingDecimator(double[] taps, int factor) {
        this.factor = factor;
        this.half = new double[taps.length / 2 + 1];
        System.arraycopy(taps, taps.length / 2, half, 0, half.length);
        this.cosTaps = new double[half.length];
        this.sinTaps = new double[half.length];
    }

    /**
     * Decimates a stretch, nothing padded: the first output is centred half the taps after its first sample.
     *
     * @param x samples
     * @param from the first of the stretch
     * @param length samples of the stretch
     * @param w frequency in rad a sample
     * @param zero the sample at which the shifting phasor is 1
     * @param re where real parts go
     * @param im where imaginary parts go
     * @return number of outputs
     */
    int process(double[] x, int from, int length, double w, int zero, double[] re, double[] im) {
        for (int d = 0; d < half.length; d++) {
            cosTaps[d] = half[d] * Math.cos(w * d);
            sinTaps[d] = half[d] * Math.sin(w * d);
        }
        int side = half.length - 1;
        int count = (length - 2 * side - 1) / factor + 1;
        int m = 0;
        for (; m + 3 < count; m += 4) {
            four(x, from + side + m * factor, m, re, im);
        }
        for (; m < count; m++) {
            one(x, from + side + m * factor, m, re, im);
        }
        turn(w, from + side - zero, count, re, im);
        return count;
    }

    private void one(double[] x, int c, int m, double[] re, double[] im) {
        double even = cosTaps[0] * x[c];
        double uneven = 0;
        for (int d = 1; d < half.length; d++) {
            even += cosTaps[d] * (x[c + d] + x[c - d]);
            uneven -= sinTaps[d] * (x[c + d] - x[c - d]);
        }
        re[m] = even;
        im[m] = uneven;
    }

    /** Four outputs side by side, each as {@link #one} forms it, so that eight sums grow at once. */
    private void four(double[] x, int c0, int m, double[] re, double[] im) {
        double[] cos = cosTaps;
        double[] sin = sinTaps;
        int c1 = c0 + factor;
        int c2 = c1 + factor;
        int c3 = c2 + factor;
        double even0 = cos[0] * x[c0];
        double even1 = cos[0] * x[c1];
        double even2 = cos[0] * x[c2];
        double even3 = cos[0] * x[c3];
        double uneven0 = 0;
        double uneven1 = 0;
        double uneven2 = 0;
        double uneven3 = 0;
        for (int d = 1; d < cos.length; d++) {
            double c = cos[d];
            double s = sin[d];
            even0 += c * (x[c0 + d] + x[c0 - d]);
            uneven0 -= s * (x[c0 + d] - x[c0 - d]);
            even1 += c * (x[c1 + d] + x[c1 - d]);
            uneven1 -= s * (x[c1 + d] - x[c1 - d]);
            even2 += c * (x[c2 + d] + x[c2 - d]);
            uneven2 -= s * (x[c2 + d] - x[c2 - d]);
            even3 += c * (x[c3 + d] + x[c3 - d]);
            uneven3 -= s * (x[c3 + d] - x[c3 - d]);
        }
        re[m] = even0;
        re[m + 1] = even1;
        re[m + 2] = even2;
        re[m + 3] = even3;
        im[m] = uneven0;
        im[m + 1] = uneven1;
        im[m + 2] = uneven2;
        im[m + 3] = uneven3;
    }

    /** Turns each output back by the phase that the frequency has at its middle. */
    private void turn(double w, int first, int count, double[] re, double[] im) {
        double stepCos = Math.cos(w * factor);
        double stepSin = Math.sin(w * factor);
        double c = 1;
        double s = 0;
        for (int m = 0; m < count; m++) {
            if (m % RENEWED_EVERY == 0) {
                double angle = w * (first + m * factor);
                c = Math.cos(angle);
                s = Math.sin(angle);
            }
            double real = re[m] * c + im[m] * s;
            im[m] = im[m] * c - re[m] * s;
            re[m] = real;
            double next = c * stepCos - s * stepSin;
            s = s * stepCos + c * stepSin;
            c = next;
        }
    }
}
