/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.LiveReading.Figure;
import org.tapemetrology.core.fit.SteadyMean;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.uncertainty.ReadingBudgets;

/** Makes figures of steady means: corrected for the known errors of test tape and converter as the readings are. */
record Correction(ReadingBudgets budgets) {
    static final String METHOD = "mean since the last change";

    /** Values of 0.1 s that a mean needs. */
    private static final int LEAST = 10;

    /**
     * A figure of a mean.
     *
     * @param like reading of the same quantity, which says whether there can be one
     * @param mean what is averaged
     * @param perUnit how much of the figure a unit of the mean is
     * @param value value of the figure
     * @param now its value over the last seconds
     */
    Figure figure(Reading like, SteadyMean mean, double perUnit, double value, double now) {
        return figure(steady(like, mean, perUnit, value), mean, now);
    }

    /** A figure of a reading that is not corrected yet. */
    Figure figure(Reading raw, SteadyMean mean, double now) {
        if (!raw.isValid()) {
            return new Figure(raw, OptionalDouble.empty(), 0);
        }
        Reading corrected = budgets.applied(new Measurement(List.of(raw), List.of()))
                .readings()
                .get(0);
        double shift = corrected.value().orElseThrow() - raw.value().orElseThrow();
        return new Figure(corrected, OptionalDouble.of(now + shift), mean.averaged() * LiveMeter.LOOK_SECONDS);
    }

    /** The mean as a reading, before any correction. */
    static Reading steady(Reading like, SteadyMean mean, double perUnit, double value) {
        Status status = like.status();
        if (status == Status.VALID && mean.count() < LEAST) {
            status = Status.SETTLING;
        }
        Reading reading = status == Status.VALID
                ? Reading.valid(like.quantity(), value, METHOD)
                : Reading.without(like.quantity(), status, METHOD);
        Reading scattered = reading.isValid()
                ? mean.uncertainty()
                        .map(u -> reading.withTypeA(u.times(Math.abs(perUnit))))
                        .orElse(reading)
                : reading;
        return like.channel().isPresent() ? scattered.onChannel(like.channel().getAsInt()) : scattered;
    }
}
