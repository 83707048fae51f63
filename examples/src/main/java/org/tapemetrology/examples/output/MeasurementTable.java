/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.output;

import java.io.PrintStream;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import org.tapemetrology.core.programme.ProgrammeMeasurement;
import org.tapemetrology.core.programme.RecognisedStep;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Unit;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.examples.recording.Recording;

/** A measurement as a table for people: a row for each figure, a column for each of two channels. */
public final class MeasurementTable {
    private static final int NAME = 36;
    private static final int CELL = 34;
    private static final int COLUMNS = 2;

    private MeasurementTable() {}

    /** What a row stands for: the figure, and the frequency for a table over frequency. */
    private record Row(Quantity quantity, OptionalDouble atFrequencyHz) {
        static Row of(Reading reading) {
            return new Row(reading.quantity(), reading.atFrequencyHz());
        }

        String name() {
            return quantity.id()
                    + (atFrequencyHz.isPresent() ? " " + frequency(atFrequencyHz.getAsDouble()) + " Hz" : "");
        }
    }

    public static void print(Recording.Result result, PrintStream out) {
        int channels = result.channels();
        out.printf(
                Locale.ROOT,
                "%s: %d Hz, %d channel%s, %.2f s%n",
                result.file(),
                result.sampleRateHz(),
                channels,
                channels == 1 ? "" : "s",
                result.durationSeconds());
        print(result.measurement().readings(), channels, out);
        if (IntStream.rangeClosed(1, channels).anyMatch(channel -> lacksNominal(result.measurement(), channel))) {
            out.println(
                    "  the tone is near no published carrier: with --nominal and its frequency at the right speed, speed and flutter"
                            + " are measured too");
        }
        print(result.measurement().warnings(), out);
    }

    /** Whether there is a tone of which nobody said what its frequency should be. */
    private static boolean lacksNominal(Measurement measured, int channel) {
        return measured.find(Quantity.TONE_FREQUENCY, channel)
                        .filter(Reading::isValid)
                        .isPresent()
                && measured.find(Quantity.SPEED_ERROR, channel)
                        .filter(reading -> reading.status() == Status.NO_CARRIER)
                        .isPresent();
    }

    /** The same of a programme, step by step. */
    public static void print(Recording.OfProgramme measured, PrintStream out) {
        Recording.Result result = measured.result();
        out.printf(
                Locale.ROOT,
                "%s: %d Hz, %d channel%s, %.2f s%n",
                result.file(),
                result.sampleRateHz(),
                result.channels(),
                result.channels() == 1 ? "" : "s",
                result.durationSeconds());
        for (ProgrammeMeasurement.StepMeasurement one : measured.steps()) {
            RecognisedStep step = one.step();
            out.printf(
                    Locale.ROOT,
                    "step %s: %.2f s to %.2f s, speed %+.2f %%%s%n",
                    step.name(),
                    step.fromSeconds(),
                    step.toSeconds(),
                    100 * (step.speedRatio() - 1),
                    step.complete() ? "" : ", not whole");
            print(one.measurement().readings(), Math.min(COLUMNS, result.channels()), out);
        }
        print(result.measurement().warnings(), out);
    }

    private static void print(List<Reading> readings, int channels, PrintStream out) {
        for (int first = 1; first <= channels; first += COLUMNS) {
            columns(readings, first, Math.min(first + COLUMNS - 1, channels), out);
        }
        List<Reading> between =
                readings.stream().filter(r -> r.channel().isEmpty()).toList();
        if (!between.isEmpty()) {
            out.println("  between the channels");
            between.forEach(reading -> out.println("  " + row(reading)));
        }
    }

    private static void print(List<Warning> warnings, PrintStream out) {
        for (Warning warning : warnings) {
            out.println("! " + text(warning));
        }
        out.println();
    }

    private static void columns(List<Reading> readings, int from, int to, PrintStream out) {
        Map<Row, List<Optional<Reading>>> rows = new LinkedHashMap<>();
        int count = to - from + 1;
        boolean toneless = false;
        for (Reading reading : readings) {
            int channel = reading.channel().orElse(0);
            if (channel < from || channel > to) {
                continue;
            }
            if (reading.status() == Status.NO_CARRIER) {
                toneless |= reading.quantity() == Quantity.TONE_FREQUENCY;
            }
            List<Optional<Reading>> cells = rows.computeIfAbsent(Row.of(reading), row -> {
                List<Optional<Reading>> empty = new ArrayList<>();
                for (int i = 0; i < count; i++) {
                    empty.add(Optional.empty());
                }
                return empty;
            });
            cells.set(channel - from, Optional.of(reading));
        }
        StringBuilder head = new StringBuilder(String.format(Locale.ROOT, "  %-" + NAME + "s", ""));
        for (int channel = from; channel <= to; channel++) {
            head.append(String.format(Locale.ROOT, "%-" + CELL + "s", "channel " + channel));
        }
        out.println(head.toString().stripTrailing());
        boolean silent = false;
        for (Map.Entry<Row, List<Optional<Reading>>> row : rows.entrySet()) {
            List<Optional<Reading>> cells = row.getValue();
            if (toneless && cells.stream().allMatch(c -> c.isEmpty() || c.get().status() == Status.NO_CARRIER)) {
                silent = true;
                continue;
            }
            out.println("  " + row(row.getKey(), cells));
        }
        if (silent) {
            out.println("  no test tone was found: what needs one was not measured");
        }
    }

    private static String row(Row row, List<Optional<Reading>> cells) {
        StringBuilder text = new StringBuilder(String.format(Locale.ROOT, "%-" + NAME + "s", row.name()));
        String method = "";
        for (Optional<Reading> cell : cells) {
            text.append(String.format(
                    Locale.ROOT,
                    "%-" + CELL + "s",
                    cell.map(MeasurementTable::cell).orElse("")));
            method = cell.map(Reading::method).orElse(method);
        }
        return text.append(method).toString();
    }

    /** Name, value or status, and method of one reading. */
    public static String row(Reading reading) {
        return row(Row.of(reading), List.of(Optional.of(reading)));
    }

    private static String cell(Reading reading) {
        return value(reading)
                + (reading.atSeconds().isPresent()
                        ? String.format(
                                Locale.ROOT, " at %.2f s", reading.atSeconds().getAsDouble())
                        : "");
    }

    static String frequency(double hz) {
        return String.format(Locale.ROOT, hz < 1000 ? "%.4g" : "%.0f", hz);
    }

    /** Value with its expanded uncertainty, or status. */
    static String value(Reading reading) {
        if (reading.value().isEmpty()) {
            return reading.status().id();
        }
        Unit unit = reading.unit();
        String number = String.format(Locale.ROOT, format(unit), reading.value().getAsDouble());
        // What rounds to zero has no sign.
        boolean zero = number.chars().noneMatch(c -> c >= '1' && c <= '9');
        String uncertainty = reading.uncertainty()
                .map(u -> " +-"
                        + String.format(Locale.ROOT, format(unit), u.halfWidth())
                                .trim())
                .orElse("");
        return (zero ? number.replace('-', ' ') : number) + uncertainty + (unit == Unit.ONE ? "" : " " + unit.symbol());
    }

    private static String format(Unit unit) {
        return switch (unit) {
            case PERCENT, PERCENT_PER_MINUTE -> "%9.4f";
            case HERTZ, MICROSECOND -> "%9.3f";
            case ONE -> "%6.0f";
            default -> "%9.2f";
        };
    }

    static String text(Warning warning) {
        StringBuilder text = new StringBuilder(warning.code().id());
        OptionalInt channel = warning.channel();
        if (channel.isPresent()) {
            text.append(", channel ").append(channel.getAsInt());
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
