/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

/**
 * Cosines and sines of the whole parts of a circle: those of a quarter are computed, the others are the same numbers with
 * either sign. Immutable.
 */
public final class Circle {
    private final int parts;
    private final int quarter;
    /** Cosines of the parts 0 to a quarter. */
    private final double[] cosines;

    /**
     * A circle.
     *
     * @param parts number of parts, a power of two of at least 4
     */
    public Circle(int parts) {
        if (parts < 4 || Integer.bitCount(parts) != 1) {
            throw new IllegalArgumentException("parts " + parts + " is not a power of two of at least 4");
        }
        this.parts = parts;
        this.quarter = parts / 4;
        this.cosines = new double[quarter + 1];
        for (int i = 0; i < quarter; i++) {
            cosines[i] = StrictMath.cos(2 * StrictMath.PI * i / parts);
        }
        cosines[quarter] = 0;
    }

    /**
     * Cosine of so many parts.
     *
     * @param i number of parts, of either sign
     * @return {@code cos(2 pi i/parts)}
     */
    public double cos(int i) {
        int within = i & (parts - 1);
        int half = within <= 2 * quarter ? within : parts - within;
        return half <= quarter ? cosines[half] : -cosines[2 * quarter - half];
    }

    /**
     * Sine of so many parts.
     *
     * @param i number of parts, of either sign
     * @return {@code sin(2 pi i/parts)}
     */
    public double sin(int i) {
        return cos(i - quarter);
    }
}
