/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

/** A polynomial of a place from -1 to 1, lowest power first. Immutable. */
final class PowerSeries {
    /** Odd. Of a sine whose phase moves by less than 0.8 rad from the middle, 0.8^17/17! = 6e-17. */
    static final int DEGREE = 17;

    private final double[] factors;

    /** Keeps the array. */
    PowerSeries(double[] factors) {
        this.factors = factors;
    }

    static PowerSeries zero() {
        return new PowerSeries(new double[DEGREE + 1]);
    }

    PowerSeries plus(PowerSeries other) {
        double[] sum = factors.clone();
        for (int power = 0; power <= DEGREE; power++) {
            sum[power] += other.factors[power];
        }
        return new PowerSeries(sum);
    }

    /** The same polynomial on a part of the way, of which -1 and 1 are the ends again. */
    PowerSeries part(double middle, double half) {
        if (half == 1) {
            return this;
        }
        double[] part = factors.clone();
        // Horner's scheme, again and again: the factors about another middle.
        for (int lowest = 0; lowest < DEGREE; lowest++) {
            for (int power = DEGREE - 1; power >= lowest; power--) {
                part[power] += middle * part[power + 1];
            }
        }
        double scale = 1;
        for (int power = 1; power <= DEGREE; power++) {
            scale *= half;
            part[power] *= scale;
        }
        return new PowerSeries(part);
    }

    double at(double x) {
        double square = x * x;
        double even = 0;
        double odd = 0;
        // Two sums, so that neither waits for the other.
        for (int power = DEGREE; power > 0; power -= 2) {
            odd = odd * square + factors[power];
            even = even * square + factors[power - 1];
        }
        return even + x * odd;
    }

    double slopeAt(double x) {
        double sum = 0;
        for (int power = DEGREE; power >= 1; power--) {
            sum = sum * x + power * factors[power];
        }
        return sum;
    }
}
