/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/**
 * A recursive filter as a cascade of second-order sections, {@code H(z) = prod (b0 + b1/z + b2/z^2) / (1 + a1/z +
 * a2/z^2)}, in double precision.
 *
 * <p>Each section is the transposed direct form II, {@code y = b0 x + s1, s1 <- b1 x + s2 - a1 y, s2 <- b2 x - a2 y}, with
 * b0 taken out of all of them as one gain, and y put into the other two: {@code y = x + s1,
 * s1 <- (b1/b0 - a1) x + s2 - a1 s1, s2 <- (b2/b0 - a2) x - a2 s1}. So the next state waits for one product and one
 * difference of the last one instead of two sums more.
 *
 * <p>State below 1e-30 is flushed to zero every {@value #FLUSH_INTERVAL} samples of the filter's own count, so that
 * silence costs no more than sound and the result does not depend on the caller's blocks. A non-finite sample stays in
 * the state until {@link #reset()}. Thread-confined.
 */
public final class SecondOrderSections {
    private static final int FLUSH_INTERVAL = 1024;
    private static final double FLUSH_BELOW = 1e-30;
    private static final int COEFFICIENTS = 5;
    private static final int STEPS = 4;

    private final double sampleRateHz;
    /** b0, b1, b2, a1, a2 of each section. */
    private final double[] coefficients;

    private final int sections;
    /** b1/b0 - a1, b2/b0 - a2, a1, a2 of each section. */
    private final double[] steps;
    /** Product of all b0, which are never 0. */
    private final double gain;

    private final double[] state;
    private int untilFlush = FLUSH_INTERVAL;

    private SecondOrderSections(double sampleRateHz, double[] coefficients) {
        this.sampleRateHz = sampleRateHz;
        this.sections = coefficients.length / COEFFICIENTS;
        this.coefficients = coefficients;
        this.steps = new double[sections * STEPS];
        this.state = new double[sections * 2];
        double product = 1;
        for (int section = 0; section < sections; section++) {
            int c = section * COEFFICIENTS;
            int k = section * STEPS;
            double b0 = coefficients[c];
            steps[k] = coefficients[c + 1] / b0 - coefficients[c + 3];
            steps[k + 1] = coefficients[c + 2] / b0 - coefficients[c + 4];
            steps[k + 2] = coefficients[c + 3];
            steps[k + 3] = coefficients[c + 4];
            product *= b0;
        }
        this.gain = product;
    }

    /** Sections from roots in the z plane, of magnitude 1 at a reference frequency. */
    static SecondOrderSections ofRoots(List<Root> zeros, List<Root> poles, double sampleRateHz, double referenceHz) {
        List<double[]> numerators = quadratics(zeros);
        List<double[]> denominators = quadratics(poles);
        double[] coefficients = new double[denominators.size() * COEFFICIENTS];
        for (int i = 0; i < denominators.size(); i++) {
            double[] b = i < numerators.size() ? numerators.get(i) : new double[] {1, 0, 0};
            double[] a = denominators.get(i);
            coefficients[i * COEFFICIENTS] = b[0];
            coefficients[i * COEFFICIENTS + 1] = b[1];
            coefficients[i * COEFFICIENTS + 2] = b[2];
            coefficients[i * COEFFICIENTS + 3] = a[1];
            coefficients[i * COEFFICIENTS + 4] = a[2];
        }
        double gain = 1 / new SecondOrderSections(sampleRateHz, coefficients).magnitude(referenceHz);
        for (int i = 0; i < 3; i++) {
            coefficients[i] *= gain;
        }
        return new SecondOrderSections(sampleRateHz, coefficients);
    }

    /**
     * Factors of degree two: pairs first, then real roots two by two from the one nearest to z = 1, but one at 1 with one
     * at -1.
     */
    private static List<double[]> quadratics(List<Root> roots) {
        List<double[]> factors = new ArrayList<>();
        for (Root root : roots) {
            if (root.isPair()) {
                factors.add(new double[] {1, -2 * root.re(), root.re() * root.re() + root.im() * root.im()});
            }
        }
        double[] reals = roots.stream()
                .filter(root -> !root.isPair())
                .map(Root::re)
                .sorted(Comparator.reverseOrder())
                .mapToDouble(Double::doubleValue)
                .toArray();
        int from = 0;
        int to = reals.length;
        for (; from + 1 < to && reals[from] == 1 && reals[to - 1] == -1; from++, to--) {
            factors.add(new double[] {1, 0, -1}); // the zeros of a band filter
        }
        for (int i = from; i < to; i += 2) {
            double first = reals[i];
            factors.add(
                    i + 1 < to
                            ? new double[] {1, -(first + reals[i + 1]), first * reals[i + 1]}
                            : new double[] {1, -first, 0});
        }
        return factors;
    }

    /**
     * Two filters in a row as one.
     *
     * @param next the filter that follows, for the same sampling rate
     * @return a new filter at rest
     */
    public SecondOrderSections then(SecondOrderSections next) {
        if (next.sampleRateHz != sampleRateHz) {
            throw new IllegalArgumentException(
                    "sampling rates differ: " + sampleRateHz + " Hz and " + next.sampleRateHz + " Hz");
        }
        double[] first = coefficients();
        double[] second = next.coefficients();
        double[] both = Arrays.copyOf(first, first.length + second.length);
        System.arraycopy(second, 0, both, first.length, second.length);
        return new SecondOrderSections(sampleRateHz, both);
    }

    /** The same filter at rest. */
    SecondOrderSections copy() {
        return new SecondOrderSections(sampleRateHz, coefficients());
    }

    /**
     * Filters a block. The output may be the input array at the same offset.
     *
     * @param in input samples
     * @param inOffset first input sample
     * @param out output samples
     * @param outOffset first output sample
     * @param length number of samples
     */
    public void process(double[] in, int inOffset, double[] out, int outOffset, int length) {
        int done = 0;
        while (done < length) {
            int part = Math.min(length - done, untilFlush);
            run(in, inOffset + done, out, outOffset + done, part);
            done += part;
            untilFlush -= part;
            if (untilFlush == 0) {
                flush();
            }
        }
    }

    private void run(double[] in, int inOffset, double[] out, int outOffset, int length) {
        double[] source = in;
        int sourceOffset = inOffset;
        int section = 0;
        for (; section + 4 < sections; section += 4) {
            runFourSections(section, 1, source, sourceOffset, out, outOffset, length);
            source = out;
            sourceOffset = outOffset;
        }
        switch (sections - section) {
            case 1 -> runSection(section, gain, source, sourceOffset, out, outOffset, length);
            case 2 -> runTwoSections(section, gain, source, sourceOffset, out, outOffset, length);
            case 3 -> runThreeSections(section, gain, source, sourceOffset, out, outOffset, length);
            default -> runFourSections(section, gain, source, sourceOffset, out, outOffset, length);
        }
    }

    private void runSection(
            int section, double gain, double[] in, int inOffset, double[] out, int outOffset, int length) {
        double[] k = steps;
        int at = section * STEPS;
        double a1 = k[at];
        double a2 = k[at + 1];
        double a3 = k[at + 2];
        double a4 = k[at + 3];
        double s1 = state[2 * section];
        double s2 = state[2 * section + 1];
        for (int i = 0; i < length; i++) {
            double x = in[inOffset + i];
            double y = x + s1;
            double s = s1;
            s1 = a1 * x + s2 - a3 * s;
            s2 = a2 * x - a4 * s;
            out[outOffset + i] = gain * y;
        }
        state[2 * section] = s1;
        state[2 * section + 1] = s2;
    }

    /** Two sections in one loop: the second works on one sample while the first waits for its own feedback. */
    private void runTwoSections(
            int section, double gain, double[] in, int inOffset, double[] out, int outOffset, int length) {
        double[] k = steps;
        int at = section * STEPS;
        double a1 = k[at];
        double a2 = k[at + 1];
        double a3 = k[at + 2];
        double a4 = k[at + 3];
        double b1 = k[at + 4];
        double b2 = k[at + 5];
        double b3 = k[at + 6];
        double b4 = k[at + 7];
        double s1 = state[2 * section];
        double s2 = state[2 * section + 1];
        double t1 = state[2 * section + 2];
        double t2 = state[2 * section + 3];
        for (int i = 0; i < length; i++) {
            double x = in[inOffset + i];
            double y = x + s1;
            double s = s1;
            s1 = a1 * x + s2 - a3 * s;
            s2 = a2 * x - a4 * s;
            double z = y + t1;
            double t = t1;
            t1 = b1 * y + t2 - b3 * t;
            t2 = b2 * y - b4 * t;
            out[outOffset + i] = gain * z;
        }
        state[2 * section] = s1;
        state[2 * section + 1] = s2;
        state[2 * section + 2] = t1;
        state[2 * section + 3] = t2;
    }

    /** The same with three. */
    private void runThreeSections(
            int section, double gain, double[] in, int inOffset, double[] out, int outOffset, int length) {
        double[] k = steps;
        int at = section * STEPS;
        double a1 = k[at];
        double a2 = k[at + 1];
        double a3 = k[at + 2];
        double a4 = k[at + 3];
        double b1 = k[at + 4];
        double b2 = k[at + 5];
        double b3 = k[at + 6];
        double b4 = k[at + 7];
        double c1 = k[at + 8];
        double c2 = k[at + 9];
        double c3 = k[at + 10];
        double c4 = k[at + 11];
        double s1 = state[2 * section];
        double s2 = state[2 * section + 1];
        double t1 = state[2 * section + 2];
        double t2 = state[2 * section + 3];
        double u1 = state[2 * section + 4];
        double u2 = state[2 * section + 5];
        for (int i = 0; i < length; i++) {
            double x = in[inOffset + i];
            double y = x + s1;
            double s = s1;
            s1 = a1 * x + s2 - a3 * s;
            s2 = a2 * x - a4 * s;
            double z = y + t1;
            double t = t1;
            t1 = b1 * y + t2 - b3 * t;
            t2 = b2 * y - b4 * t;
            double p = z + u1;
            double u = u1;
            u1 = c1 * z + u2 - c3 * u;
            u2 = c2 * z - c4 * u;
            out[outOffset + i] = gain * p;
        }
        state[2 * section] = s1;
        state[2 * section + 1] = s2;
        state[2 * section + 2] = t1;
        state[2 * section + 3] = t2;
        state[2 * section + 4] = u1;
        state[2 * section + 5] = u2;
    }

    /**
     * Four sections in one loop: while one waits for its own feedback, the others work. What each computes, in which order,
     * is what {@link #runSection} computes.
     */
    private void runFourSections(
            int section, double gain, double[] in, int inOffset, double[] out, int outOffset, int length) {
        double[] k = steps;
        int at = section * STEPS;
        double a1 = k[at];
        double a2 = k[at + 1];
        double a3 = k[at + 2];
        double a4 = k[at + 3];
        double b1 = k[at + 4];
        double b2 = k[at + 5];
        double b3 = k[at + 6];
        double b4 = k[at + 7];
        double c1 = k[at + 8];
        double c2 = k[at + 9];
        double c3 = k[at + 10];
        double c4 = k[at + 11];
        double d1 = k[at + 12];
        double d2 = k[at + 13];
        double d3 = k[at + 14];
        double d4 = k[at + 15];
        double s1 = state[2 * section];
        double s2 = state[2 * section + 1];
        double t1 = state[2 * section + 2];
        double t2 = state[2 * section + 3];
        double u1 = state[2 * section + 4];
        double u2 = state[2 * section + 5];
        double v1 = state[2 * section + 6];
        double v2 = state[2 * section + 7];
        for (int i = 0; i < length; i++) {
            double x = in[inOffset + i];
            double y = x + s1;
            double s = s1;
            s1 = a1 * x + s2 - a3 * s;
            s2 = a2 * x - a4 * s;
            double z = y + t1;
            double t = t1;
            t1 = b1 * y + t2 - b3 * t;
            t2 = b2 * y - b4 * t;
            double p = z + u1;
            double u = u1;
            u1 = c1 * z + u2 - c3 * u;
            u2 = c2 * z - c4 * u;
            double q = p + v1;
            double v = v1;
            v1 = d1 * p + v2 - d3 * v;
            v2 = d2 * p - d4 * v;
            out[outOffset + i] = gain * q;
        }
        state[2 * section] = s1;
        state[2 * section + 1] = s2;
        state[2 * section + 2] = t1;
        state[2 * section + 3] = t2;
        state[2 * section + 4] = u1;
        state[2 * section + 5] = u2;
        state[2 * section + 6] = v1;
        state[2 * section + 7] = v2;
    }

    private void flush() {
        for (int i = 0; i < state.length; i++) {
            if (Math.abs(state[i]) < FLUSH_BELOW) {
                state[i] = 0;
            }
        }
        untilFlush = FLUSH_INTERVAL;
    }

    /** Puts the filter to rest. */
    public void reset() {
        presetTo(0);
    }

    /**
     * Puts the filter into the state that it reaches after an endless constant input, so that a start at that value
     * makes no transient.
     *
     * @param constant the constant input
     */
    public void presetTo(double constant) {
        double x = constant;
        for (int section = 0; section < sections; section++) {
            int c = section * COEFFICIENTS;
            double b1 = coefficients[c + 1] / coefficients[c];
            double b2 = coefficients[c + 2] / coefficients[c];
            double a1 = coefficients[c + 3];
            double a2 = coefficients[c + 4];
            double y = x * (1 + b1 + b2) / (1 + a1 + a2);
            state[2 * section] = y - x;
            state[2 * section + 1] = b2 * x - a2 * y;
            x = y;
        }
        untilFlush = FLUSH_INTERVAL;
    }

    /**
     * Magnitude of the response of these coefficients.
     *
     * @param frequencyHz frequency in Hz
     * @return magnitude
     */
    public double magnitude(double frequencyHz) {
        double w = 2 * StrictMath.PI * frequencyHz / sampleRateHz;
        double cosine = StrictMath.cos(w);
        double sine = StrictMath.sin(w);
        double square = 1;
        for (int c = 0; c < coefficients.length; c += COEFFICIENTS) {
            square *= squaredMagnitude(coefficients[c], coefficients[c + 1], coefficients[c + 2], cosine, sine)
                    / squaredMagnitude(1, coefficients[c + 3], coefficients[c + 4], cosine, sine);
        }
        return StrictMath.sqrt(square);
    }

    /** Of {@code c0 + c1/z + c2/z^2}; that of a quadratic does not change with a factor of 1/z, which leaves one sum each. */
    private static double squaredMagnitude(double c0, double c1, double c2, double cosine, double sine) {
        // Times z: the real part is c1 + (c0 + c2) cos w, the imaginary part (c0 - c2) sin w.
        double re = c1 + (c0 + c2) * cosine;
        double im = (c0 - c2) * sine;
        return re * re + im * im;
    }

    /**
     * The sampling rate that the coefficients are for.
     *
     * @return rate in Hz
     */
    public double sampleRateHz() {
        return sampleRateHz;
    }

    /**
     * The coefficients b0, b1, b2, a1, a2 of every section in turn.
     *
     * @return a copy
     */
    public double[] coefficients() {
        return Arrays.copyOf(coefficients, sections * COEFFICIENTS);
    }
}
