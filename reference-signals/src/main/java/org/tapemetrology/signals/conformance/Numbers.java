/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.Locale;
import java.util.OptionalDouble;

/** Figures as text. */
final class Numbers {
    private Numbers() {}

    /** A value with decimals and without a negative zero. */
    static String fixed(double value, int digits) {
        String text = String.format(Locale.ROOT, "%." + digits + "f", value);
        return text.matches("-0(\\.0*)?") ? text.substring(1) : text;
    }

    static String fixed(OptionalDouble value, int digits) {
        return value.isPresent() ? fixed(value.getAsDouble(), digits) : "-";
    }

    /** Limits, each with decimals or none. */
    static String limits(Limits limits, int digits) {
        String lower = Double.isInfinite(limits.lower()) ? "none" : fixed(limits.lower(), digits);
        String upper = Double.isInfinite(limits.upper()) ? "none" : fixed(limits.upper(), digits);
        return lower + " to " + upper;
    }

    /** A share in whole per cent. */
    static String percent(OptionalDouble share) {
        return share.isPresent() ? fixed(100 * share.getAsDouble(), 0) + " %" : "-";
    }

    /** Decimals that show limits apart from the expected value: one more than the figure has. */
    static int limitDigits(ConformanceCase about) {
        return about.digits() + 1;
    }

    /** A text of others on one line. */
    static String oneLine(String text) {
        return text.replaceAll("\\R+", " ");
    }
}
