/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

/** Decibels of ratios of amplitudes. */
final class Decibels {
    private Decibels() {}

    static double ofRatio(double ratio) {
        return 20 * StrictMath.log10(ratio);
    }

    static double toRatio(double decibels) {
        return StrictMath.pow(10, decibels / 20);
    }

    static double requirePositive(String name, double value) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(name + " " + value + " is not in (0, infinity)");
        }
        return value;
    }

    static double requireFinite(String name, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(name + " " + value + " is not finite");
        }
        return value;
    }
}
