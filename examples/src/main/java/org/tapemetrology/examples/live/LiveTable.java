/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.live;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.tapemetrology.core.LiveReading;
import org.tapemetrology.core.LiveReading.Channel;
import org.tapemetrology.core.LiveReading.Figure;
import org.tapemetrology.core.flutter.FlutterIndicator;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** What is shown while a recording is measured, as text. */
public final class LiveTable {
    private static final int NAME = 32;
    private static final int CELL = 44;
    /** More do not fit beside each other. */
    private static final int COLUMNS = 2;

    private LiveTable() {}

    /** A table of as many lines as long as the recording has as many channels and scales. */
    static List<String> table(LiveReading shown) {
        List<Channel> channels =
                shown.channels().subList(0, Math.min(COLUMNS, shown.channels().size()));
        List<String> lines = new ArrayList<>();
        lines.add(String.format(Locale.ROOT, "%.1f s", shown.seconds())
                + (shown.overruns() == 0 ? "" : ", samples lost " + times(shown.overruns()))
                + (channels.size() == shown.channels().size()
                        ? ""
                        : ", channels 1 and 2 of " + shown.channels().size()));
        Channel first = channels.get(0);
        lines.add(row(name(first.frequency()), channels, c -> figure(c.frequency(), "%.2f")));
        lines.add(row(name(first.speedError()), channels, c -> figure(c.speedError(), "%+.3f")));
        for (int i = 0; i < first.levels().size(); i++) {
            int scale = i;
            lines.add(row(
                    name(first.levels().get(i)),
                    channels,
                    c -> figure(c.levels().get(scale), "%+.2f")));
        }
        lines.add(row(name(first.flutter()), channels, c -> flutter(c.flutter())));
        if (!first.indicator().isEmpty()) {
            lines.add(row(name(first.indicator().get(0)), channels, c -> indicator(c.indicator())));
        }
        shown.balance().ifPresent(figure -> lines.add(pad(name(figure), NAME) + figure(figure, "%+.2f")));
        shown.azimuthDelay().ifPresent(figure -> lines.add(pad(name(figure), NAME) + figure(figure, "%+.2f")));
        return lines;
    }

    /** The same on one line. */
    static String line(LiveReading shown) {
        List<String> parts = new ArrayList<>();
        parts.add(String.format(Locale.ROOT, "%.1f s", shown.seconds()));
        if (shown.overruns() > 0) {
            parts.add("samples lost " + times(shown.overruns()));
        }
        for (Channel channel : shown.channels()) {
            parts.add("channel " + channel.number());
            parts.add(name(channel.frequency()) + " " + figure(channel.frequency(), "%.2f"));
            parts.add(name(channel.speedError()) + " " + figure(channel.speedError(), "%+.3f"));
            for (Figure level : channel.levels()) {
                parts.add(name(level) + " " + figure(level, "%+.2f"));
            }
            parts.add(name(channel.flutter()) + " " + flutter(channel.flutter()));
            if (!channel.indicator().isEmpty()) {
                parts.add(name(channel.indicator().get(0)) + " " + indicator(channel.indicator()));
            }
        }
        shown.balance().ifPresent(figure -> parts.add(name(figure) + " " + figure(figure, "%+.2f")));
        shown.azimuthDelay().ifPresent(figure -> parts.add(name(figure) + " " + figure(figure, "%+.2f")));
        return String.join("; ", parts);
    }

    private static String times(long count) {
        return count == 1 ? "once" : count + " times";
    }

    private static String row(String name, List<Channel> channels, Function<Channel, String> cell) {
        StringBuilder line = new StringBuilder(pad(name, NAME));
        for (int i = 0; i < channels.size(); i++) {
            String text = cell.apply(channels.get(i));
            line.append(i + 1 < channels.size() ? pad(text, CELL) : text);
        }
        return line.toString();
    }

    private static String pad(String text, int width) {
        return text + " ".repeat(Math.max(1, width - text.length()));
    }

    private static String name(Figure figure) {
        return name(figure.steady());
    }

    private static String name(Reading reading) {
        return reading.quantity().id() + " " + reading.unit().symbol();
    }

    private static String name(FlutterIndicator.Shown flutter) {
        return flutter.figure().id() + " " + flutter.figure().unit().symbol();
    }

    /** The steady mean with how well it is known by its fluctuation alone, and the last 3 s. */
    private static String figure(Figure figure, String format) {
        Reading steady = figure.steady();
        if (!steady.isValid()) {
            return steady.status().id();
        }
        String value = String.format(Locale.ROOT, format, steady.value().orElseThrow());
        String scatter = steady.typeA()
                .map(StandardUncertainty::value)
                .map(u -> String.format(Locale.ROOT, " +-" + format.replace("+", ""), 2 * u))
                .orElse("");
        return value + scatter + " over "
                + String.format(Locale.ROOT, "%.0f s", figure.averagedSeconds()) + ", now "
                + String.format(Locale.ROOT, format, figure.now().orElseThrow());
    }

    private static String flutter(FlutterIndicator.Shown flutter) {
        String held = flutter.worstPercent().isPresent()
                ? percent(flutter.nowPercent()) + ", worst " + percent(flutter.worstPercent()) + ", mean "
                        + percent(flutter.meanPercent())
                : percent(flutter.nowPercent()) + ", " + flutter.status().id();
        return flutter.nowPercent().isEmpty() ? flutter.status().id() : held;
    }

    private static String percent(OptionalDouble value) {
        return value.isPresent() ? String.format(Locale.ROOT, "%.4f", value.getAsDouble()) : "-";
    }

    private static String indicator(List<Reading> readings) {
        Reading now = readings.get(0);
        Reading highest = readings.get(1);
        if (!now.isValid() || !highest.isValid()) {
            return now.isValid() ? highest.status().id() : now.status().id();
        }
        return String.format(
                Locale.ROOT,
                "%+.1f, highest %+.1f",
                now.value().orElseThrow(),
                highest.value().orElseThrow());
    }
}
