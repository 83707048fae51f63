/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

/**
 * A zero or pole: a real one, or a complex one that stands for itself and its conjugate.
 *
 * <p>It is not checked; {@link AnalogFilter} refuses what gives no stable filter.
 *
 * @param re real part, in the unit of the plane: Hz, rad/s, or none
 * @param im imaginary part in the same unit; where it is not 0 the root stands for the conjugate pair
 */
public record Root(double re, double im) {
    /**
     * A real root.
     *
     * @param re its place
     * @return the root
     */
    public static Root real(double re) {
        return new Root(re, 0);
    }

    /**
     * A conjugate pair.
     *
     * @param re real part of both
     * @param im imaginary part of the upper one, not 0
     * @return the pair
     */
    public static Root pair(double re, double im) {
        if (im == 0) {
            throw new IllegalArgumentException("im 0 makes a double real root, not a conjugate pair");
        }
        return new Root(re, Math.abs(im));
    }

    boolean isPair() {
        return im != 0;
    }

    /** How many roots this stands for. */
    int count() {
        return isPair() ? 2 : 1;
    }

    /** Magnitude of (j w - root), or of the product of both factors of a pair. */
    double distanceFromImaginaryAxisPoint(double w) {
        double upper = StrictMath.hypot(re, w - im);
        return isPair() ? upper * StrictMath.hypot(re, w + im) : upper;
    }

    /** This root, given in rad/s, moved to the z plane by the bilinear transform at a sampling rate. */
    Root bilinear(double sampleRateHz) {
        double c = 2 * sampleRateHz;
        double nr = c + re;
        double dr = c - re;
        double norm = dr * dr + im * im;
        return new Root((nr * dr - im * im) / norm, im == 0 ? 0 : (im * dr + nr * im) / norm);
    }

    /** This root, given in Hz, moved to the z plane by {@code exp(2 pi p / fs)}. */
    Root matched(double sampleRateHz) {
        double radius = StrictMath.exp(2 * StrictMath.PI * re / sampleRateHz);
        if (im == 0) {
            return new Root(radius, 0);
        }
        double angle = 2 * StrictMath.PI * im / sampleRateHz;
        return new Root(radius * StrictMath.cos(angle), radius * StrictMath.sin(angle));
    }
}
