/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.Locale;
import java.util.OptionalDouble;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Unit;
import org.tapemetrology.core.quantity.Warning;

/** Figures as a person reads them: as many digits as the uncertainty bears (two digits of it, JCGM 100:2008, 7.2.6). */
public final class Words {
    private static final int UNCERTAINTY_DIGITS = 2;
    private static final int FIGURE_DIGITS = 4;
    private static final int ROUGH_DIGITS = 3;
    private static final int MOST_DECIMALS = 6;

    private Words() {}

    /**
     * Value, expanded uncertainty and unit, or the status where there is no value.
     *
     * @param reading the reading
     * @return for example {@code +2.003 ± 0.056 %}
     */
    public static String value(Reading reading) {
        if (reading.value().isEmpty()) {
            return reading.status().id();
        }
        double value = reading.value().getAsDouble();
        double halfWidth = reading.uncertainty().map(u -> u.halfWidth()).orElse(0.0);
        String unit = unit(reading.unit());
        if (!(halfWidth > 0)) {
            return join(signed(value, figure(value), reading), unit);
        }
        int decimals = decimals(halfWidth, UNCERTAINTY_DIGITS);
        return join(signed(value, fixed(value, decimals), reading) + " \u00b1 " + fixed(halfWidth, decimals), unit);
    }

    /** What may lie to either side of zero carries its sign. */
    private static String signed(double value, String number, Reading reading) {
        boolean zero = number.chars().noneMatch(c -> c >= '1' && c <= '9');
        String plain = zero ? number.replace("-", "").replace("\u2212", "") : number;
        boolean sided = switch (reading.quantity()) {
            case SPEED_ERROR,
                    SPEED_DRIFT,
                    CHANNEL_BALANCE,
                    AZIMUTH_DELAY,
                    AZIMUTH_ANGLE,
                    RESPONSE,
                    LEVEL_RE_REFERENCE -> true;
            default -> false;
        };
        return sided && value > 0 && !zero ? "+" + plain : plain;
    }

    /**
     * A figure without an uncertainty.
     *
     * @param value the value
     * @return four digits of it, at most four of them decimals
     */
    public static String figure(double value) {
        return fixed(value, Math.min(FIGURE_DIGITS, decimals(value, FIGURE_DIGITS)));
    }

    /**
     * A figure that a person entered, with the digits that it has.
     *
     * @param value the value
     * @return all of it
     */
    public static String entered(double value) {
        return value == Math.rint(value) && Math.abs(value) < 1e9
                ? minus(String.format(Locale.ROOT, "%.0f", value))
                : minus(Double.toString(value));
    }

    private static int decimals(double value, int digits) {
        if (value == 0) {
            return 0;
        }
        int before = (int) Math.floor(Math.log10(Math.abs(value))) + 1;
        return Math.max(0, Math.min(MOST_DECIMALS, digits - before));
    }

    static String fixed(double value, int decimals) {
        return minus(String.format(Locale.ROOT, "%." + decimals + "f", value));
    }

    private static String trimmed(String number) {
        return number.contains(".") ? number.replaceAll("0+$", "").replaceAll("\\.$", "") : number;
    }

    private static String minus(String number) {
        return number.replace('-', '\u2212');
    }

    private static String join(String number, String unit) {
        return unit.isEmpty() ? number : number + "\u00a0" + unit;
    }

    /**
     * The symbol of a unit in text.
     *
     * @param unit the unit
     * @return the symbol, empty for a plain number
     */
    public static String unit(Unit unit) {
        return switch (unit) {
            case ONE -> "";
            case MICROSECOND -> "\u00b5s";
            default -> unit.symbol();
        };
    }

    /** Quantity, frequency and channel of a reading. */
    public static String name(Reading reading) {
        StringBuilder name = new StringBuilder(reading.quantity().id());
        reading.atFrequencyHz().ifPresent(hz -> name.append(" at ").append(hertz(hz)));
        reading.channel().ifPresent(channel -> name.append(", channel ").append(channel));
        return name.toString();
    }

    /** A frequency, in Hz or kHz. */
    static String hertz(double hz) {
        return hz < 1000 ? join(shortest(hz), "Hz") : join(shortest(hz / 1000), "kHz");
    }

    /**
     * A figure without closing zeros.
     *
     * @param value the value
     * @return up to four digits of it
     */
    public static String shortest(double value) {
        return trimmed(figure(value));
    }

    /** Three digits without closing zeros, where a table has the rest. */
    static String rough(double value) {
        return trimmed(fixed(value, decimals(value, ROUGH_DIGITS)));
    }

    /** What a limit allows. */
    public static String limit(Limit limit) {
        return bounds(limit.lower(), limit.upper(), unit(limit.unit()));
    }

    /**
     * What a limit is for.
     *
     * @param limit the limit
     * @return the quantity, with its frequency or range of frequencies
     */
    public static String subject(Limit limit) {
        StringBuilder subject = new StringBuilder(limit.quantity().id());
        limit.atFrequencyHz().ifPresent(hz -> subject.append(" at ").append(hertz(hz)));
        limit.range()
                .ifPresent(range -> subject.append(", ")
                        .append(hertz(range.fromHz()))
                        .append(" to ")
                        .append(hertz(range.toHz())));
        return subject.toString();
    }

    static String bounds(OptionalDouble lower, OptionalDouble upper, String unit) {
        if (lower.isPresent() && upper.isPresent()) {
            return join(entered(lower.getAsDouble()) + " to " + entered(upper.getAsDouble()), unit);
        }
        if (lower.isPresent()) {
            return "at least " + join(entered(lower.getAsDouble()), unit);
        }
        return upper.isPresent() ? "at most " + join(entered(upper.getAsDouble()), unit) : "no limit";
    }

    /**
     * A reading with the limit that it is held to.
     *
     * @param decision the decision
     * @return name, value and limit
     */
    public static String deciding(Decision decision) {
        return name(decision.reading()) + ": " + value(decision.reading()) + "; limit " + limit(decision.limit());
    }

    /** A warning with its place. */
    static String warning(Warning warning) {
        StringBuilder text = new StringBuilder(warning.code().id());
        warning.channel().ifPresent(channel -> text.append(", channel ").append(channel));
        if (warning.fromSeconds().isPresent() && warning.toSeconds().isPresent()) {
            text.append(", ")
                    .append(fixed(warning.fromSeconds().getAsDouble(), 2))
                    .append(" s to ")
                    .append(fixed(warning.toSeconds().getAsDouble(), 2))
                    .append(" s");
        }
        return text.append(": ").append(warning.message()).toString();
    }

    /** A share, in per cent; never a round 0 or 100, since nothing measured is certain. */
    static String percent(double probability) {
        double percent = 100 * probability;
        if (percent > 99.9) {
            return "> 99.9\u00a0%";
        }
        if (percent < 0.1) {
            return "< 0.1\u00a0%";
        }
        return fixed(percent, percent > 99 || percent < 1 ? 1 : 0) + "\u00a0%";
    }

    static String verdict(Verdict verdict) {
        return verdict.id().replace('-', ' ');
    }

    /** One thing, several things. */
    static String count(int number, String one, String several) {
        return number + " " + (number == 1 ? one : several);
    }
}
