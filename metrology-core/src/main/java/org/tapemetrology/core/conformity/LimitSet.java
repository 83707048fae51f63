/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import static org.tapemetrology.core.quantity.Confidence.COMMON_PRACTICE;
import static org.tapemetrology.core.quantity.Confidence.MEMORY;
import static org.tapemetrology.core.quantity.Confidence.SECOND_HAND;
import static org.tapemetrology.core.quantity.Quantity.CHANNEL_BALANCE;
import static org.tapemetrology.core.quantity.Quantity.ERASURE;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_WEIGHTED_QUASI_PEAK;
import static org.tapemetrology.core.quantity.Quantity.NOISE_QUASI_PEAK;
import static org.tapemetrology.core.quantity.Quantity.NOISE_UNWEIGHTED;
import static org.tapemetrology.core.quantity.Quantity.RESPONSE;
import static org.tapemetrology.core.quantity.Quantity.SEPARATION;
import static org.tapemetrology.core.quantity.Quantity.SPEED_ERROR;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.ReadingBudgets;

/**
 * The limits that a machine is held to: its maker's, or those of a published document. Immutable.
 *
 * @param name what the set is called
 * @param limits the limits
 */
public record LimitSet(String name, List<Limit> limits) {
    private static final String DIN = "DIN 45500 sheet 4, as reported by the trade press of 1977";
    private static final String PRACTICE = "common practice, no source";

    /**
     * Least requirements for home tape recorders. The weighting behind the noise figure of that time is older than that of
     * ITU-R BS.468 (from memory); noise is limited re the full recording level, which a reference recording gives.
     */
    public static final LimitSet DIN_45500 = new LimitSet(
            "din-45500",
            List.of(
                    Limit.between(SPEED_ERROR, -1.5, 1.5, "mean speed", DIN, SECOND_HAND),
                    Limit.atMost(FLUTTER_WEIGHTED_QUASI_PEAK, 0.2, "weighted wow and flutter", DIN, SECOND_HAND),
                    Limit.between(CHANNEL_BALANCE, -2, 2, "channel balance on the level section", DIN, SECOND_HAND),
                    Limit.atLeast(SEPARATION, 20, "separation within a stereo pair at 1 kHz", DIN, SECOND_HAND),
                    Limit.atLeast(ERASURE, 60, "erasure at 1 kHz", DIN, SECOND_HAND),
                    Limit.atMost(NOISE_QUASI_PEAK, -56, "weighted noise re full level", DIN, MEMORY)
                            .reReference(),
                    Limit.atMost(NOISE_UNWEIGHTED, -46, "unweighted noise re full level", DIN, SECOND_HAND)
                            .reReference()));

    /** What a bench usually aims at where no maker's limit is at hand. */
    public static final LimitSet COMMON_PRACTICE_LIMITS = new LimitSet(
            "common-practice",
            List.of(
                    Limit.between(SPEED_ERROR, -1, 1, "mean speed", PRACTICE, COMMON_PRACTICE),
                    Limit.between(CHANNEL_BALANCE, -0.5, 0.5, "channel balance", PRACTICE, COMMON_PRACTICE),
                    Limit.atLeast(SEPARATION, 30, "separation", PRACTICE, COMMON_PRACTICE),
                    Limit.atLeast(ERASURE, 60, "erasure", PRACTICE, COMMON_PRACTICE)));

    /**
     * A set, its list copied.
     *
     * @param name what it is called
     * @param limits the limits
     */
    public LimitSet {
        limits = List.copyOf(limits);
    }

    /**
     * The sets that this library knows.
     *
     * @return every one
     */
    public static List<LimitSet> published() {
        return List.of(DIN_45500, COMMON_PRACTICE_LIMITS);
    }

    /**
     * A set that this library knows.
     *
     * @param name its name
     * @return the set, empty where none has that name
     */
    public static Optional<LimitSet> named(String name) {
        return published().stream().filter(set -> set.name.equals(name)).findFirst();
    }

    /**
     * The limits that speak of a measurement.
     *
     * @param measurement readings
     * @return those limits that apply to any of them
     */
    public LimitSet of(Measurement measurement) {
        return new LimitSet(
                name,
                limits.stream().filter(limit -> speaksOf(limit, measurement)).toList());
    }

    /**
     * The limits that speak of none of several measurements.
     *
     * @param measurements parts of what was measured
     * @return those limits that apply to no reading of any of them
     */
    public LimitSet ofNoneOf(List<Measurement> measurements) {
        return new LimitSet(
                name,
                limits.stream()
                        .filter(limit -> measurements.stream().noneMatch(part -> speaksOf(limit, part)))
                        .toList());
    }

    private static boolean speaksOf(Limit limit, Measurement measurement) {
        return measurement.readings().stream().anyMatch(reading -> isJudged(limit, reading));
    }

    /** At its reference frequency a response is 0 by definition, which says nothing of the machine. */
    private static boolean isJudged(Limit limit, Reading reading) {
        boolean byDefinition = reading.quantity() == RESPONSE
                && reading.typeA().isEmpty()
                && reading.value().orElse(Double.NaN) == 0;
        return !byDefinition && limit.appliesTo(reading);
    }

    /**
     * Decides on every reading that a limit applies to.
     *
     * @param measurement the readings
     * @param rule the rule
     * @param budgets what gives their budgets
     * @return the decisions in the order of the limits, for every channel; one that is undecided for a limit without a
     *     reading
     */
    public List<Decision> decide(Measurement measurement, DecisionRule rule, ReadingBudgets budgets) {
        List<Decision> decisions = new ArrayList<>();
        for (Limit limit : limits) {
            List<Reading> readings = measurement.readings().stream()
                    .filter(reading -> isJudged(limit, reading))
                    .toList();
            for (Reading reading : readings) {
                Optional<Budget> budget = budgets.budget(reading, measurement);
                decisions.add(
                        budget.isPresent() ? rule.decide(limit, reading, budget.get()) : rule.decide(limit, reading));
            }
            if (readings.isEmpty()) {
                decisions.add(rule.decide(limit, missing(limit)));
            }
        }
        return decisions;
    }

    private static Reading missing(Limit limit) {
        Reading missing = Reading.without(limit.quantity(), Status.INSUFFICIENT_DATA, "not measured");
        if (limit.range().isPresent()) {
            return missing.atFrequency(limit.range().get().fromHz());
        }
        return limit.atFrequencyHz().isPresent()
                ? missing.atFrequency(limit.atFrequencyHz().getAsDouble())
                : missing;
    }
}
