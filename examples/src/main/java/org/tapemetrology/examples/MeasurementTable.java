/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.PrintStream;
import java.util.Locale;
import java.util.OptionalInt;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Unit;
import org.tapemetrology.core.quantity.Warning;

/** A measurement as a table for people. */
final class MeasurementTable {
    private MeasurementTable() {}

    static void print(Recording.Result result, PrintStream out) {
        out.printf(
                Locale.ROOT,
                "%s: %d Hz, %d channel%s, %.2f s%n",
                result.file(),
                result.sampleRateHz(),
                result.channels(),
                result.channels() == 1 ? "" : "s",
                result.durationSeconds());
        OptionalInt channel = OptionalInt.of(0);
        for (Reading reading : result.measurement().readings()) {
            if (!reading.channel().equals(channel)) {
                channel = reading.channel();
                out.println(channel.isPresent() ? "channel " + channel.getAsInt() : "between the channels");
            }
            out.println("  " + row(reading));
        }
        for (Warning warning : result.measurement().warnings()) {
            out.println("! " + text(warning));
        }
        out.println();
    }

    /** Identifier, value or status, method. */
    static String row(Reading reading) {
        String place = "";
        if (reading.atSeconds().isPresent()) {
            place = String.format(Locale.ROOT, " at %.2f s", reading.atSeconds().getAsDouble());
        } else if (reading.atFrequencyHz().isPresent()) {
            place = String.format(
                    Locale.ROOT, " at %.4g Hz", reading.atFrequencyHz().getAsDouble());
        }
        return String.format(
                Locale.ROOT, "%-36s %-26s %s", reading.quantity().id(), value(reading) + place, reading.method());
    }

    private static String value(Reading reading) {
        if (reading.value().isEmpty()) {
            return reading.status().id();
        }
        Unit unit = reading.unit();
        String number = String.format(Locale.ROOT, format(unit), reading.value().getAsDouble());
        // What rounds to zero has no sign.
        boolean zero = number.chars().noneMatch(c -> c >= '1' && c <= '9');
        return (zero ? number.replace('-', ' ') : number) + " " + unit.symbol();
    }

    private static String format(Unit unit) {
        return switch (unit) {
            case PERCENT, PERCENT_PER_MINUTE -> "%10.4f";
            case HERTZ -> "%10.3f";
            default -> "%10.2f";
        };
    }

    static String text(Warning warning) {
        StringBuilder text = new StringBuilder(warning.code().id());
        if (warning.channel().isPresent()) {
            text.append(", channel ").append(warning.channel().getAsInt());
        }
        if (warning.fromSeconds().isPresent() && warning.toSeconds().isPresent()) {
            text.append(String.format(
                    Locale.ROOT,
                    ", %.3f s to %.3f s",
                    warning.fromSeconds().getAsDouble(),
                    warning.toSeconds().getAsDouble()));
        }
        return text.append(": ").append(warning.message()).toString();
    }
}
