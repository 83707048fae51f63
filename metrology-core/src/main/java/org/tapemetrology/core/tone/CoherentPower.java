/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import org.tapemetrology.core.fit.RunningMoments;

/**
 * Power of a component by the products of its complex amplitudes in frames that share no sample: {@code Re(c[n]
 * conj(c[n-2]))} for frames that overlap by half. A component locked to the tracked phase adds up; noise, independent
 * from frame to frame, averages to zero, so the estimate has no noise bias.
 */
final class CoherentPower {
    private final double[] re = new double[2];
    private final double[] im = new double[2];
    private int run;
    private final RunningMoments products = new RunningMoments();

    /** Adds the amplitude in the next frame. */
    void add(double real, double imaginary) {
        int slot = run & 1;
        if (run >= 2) {
            products.add(real * re[slot] + imaginary * im[slot]);
        }
        re[slot] = real;
        im[slot] = imaginary;
        run++;
    }

    /** The next frame does not follow the last one. */
    void interrupt() {
        run = 0;
    }

    void reset() {
        run = 0;
        products.reset();
    }

    long pairs() {
        return products.count();
    }

    double mean() {
        return products.mean();
    }

    /** Standard error of the mean; successive products share frames, which costs a factor of two in variance. */
    double standardError() {
        return products.count() < 2
                ? Double.POSITIVE_INFINITY
                : products.standardDeviation() * Math.sqrt(2.0 / products.count());
    }
}
