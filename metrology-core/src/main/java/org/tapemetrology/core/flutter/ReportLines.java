/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;

/** Readings and warnings as they are put together. */
final class ReportLines {
    /** What the filters at both ends of a recording may take of it. */
    private static final double ENDS_SECONDS = 0.1;

    private final List<Reading> readings = new ArrayList<>();
    private final List<Warning> warnings = new ArrayList<>();

    void add(Reading reading) {
        readings.add(reading);
    }

    /** A value with what its scatter tells, where it was measured for long enough. */
    void add(
            Quantity quantity,
            String method,
            boolean enough,
            OptionalDouble value,
            Optional<StandardUncertainty> scatter) {
        add(reading(quantity, method, enough, value, scatter));
    }

    static Reading reading(
            Quantity quantity,
            String method,
            boolean enough,
            OptionalDouble value,
            Optional<StandardUncertainty> scatter) {
        if (!enough || value.isEmpty()) {
            return Reading.without(quantity, Status.INSUFFICIENT_DATA, method);
        }
        Reading reading = Reading.valid(quantity, value.getAsDouble(), method);
        return scatter.map(reading::withTypeA).orElse(reading);
    }

    void without(Quantity quantity, Status status, String method) {
        readings.add(Reading.without(quantity, status, method));
    }

    void warn(WarningCode code, String format, Object... values) {
        warnings.add(Warning.of(code, String.format(Locale.ROOT, format, values)));
    }

    void warnDuring(double fromSeconds, double toSeconds, WarningCode code, String format, Object... values) {
        warnings.add(Warning.during(code, String.format(Locale.ROOT, format, values), fromSeconds, toSeconds));
    }

    static boolean lasted(double seconds, double needed) {
        return seconds >= needed - ENDS_SECONDS;
    }

    static OptionalDouble scaled(OptionalDouble value, double factor) {
        return value.isPresent() ? OptionalDouble.of(value.getAsDouble() * factor) : value;
    }

    static Optional<StandardUncertainty> scaled(Optional<StandardUncertainty> scatter, double factor) {
        return scatter.map(u -> u.times(factor));
    }

    Measurement measurement() {
        return new Measurement(readings, warnings);
    }
}
