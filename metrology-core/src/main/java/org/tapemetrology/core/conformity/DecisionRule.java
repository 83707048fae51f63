/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.Coverage;
import org.tapemetrology.core.uncertainty.Distribution;
import org.tapemetrology.core.uncertainty.UncertaintyComponent;

/**
 * How a verdict follows from a reading, its uncertainty and a limit (JCGM 106:2012, 8; ILAC-G8:09/2019, 4). The guard band
 * w lies inside the limit for acceptance and outside it for rejection.
 *
 * <ul>
 *   <li>Simple acceptance: the value decides, w = 0.
 *   <li>Guarded: pass at least w inside, fail more than w outside, undecided between.
 *   <li>Four-way: pass and fail in the same places, between them conditional pass and conditional fail.
 * </ul>
 *
 * <p>Immutable.
 *
 * <p>Guard bands are in the unit of the limit. Cost: one expanded uncertainty. Never NaN: a reading without a value
 * is undecided, a ratio or guard band that is not finite is refused.
 *
 * <p>Not for a machine as a whole: each limit is decided by itself, and the risks of many add up.
 */
public final class DecisionRule {
    /** 95 % on one side of a normal distribution. */
    private static final double ONE_SIDED_95 = 1.6448536269514722;

    private static final double USUAL_COVERAGE = 0.95;

    private final Kind kind;
    private final Guard guard;
    private final double factor;

    private enum Kind {
        SIMPLE,
        GUARDED,
        FOUR_WAY
    }

    private enum Guard {
        NONE,
        EXPANDED,
        STANDARD,
        FIXED
    }

    private DecisionRule(Kind kind, Guard guard, double factor) {
        this.kind = kind;
        this.guard = guard;
        this.factor = factor;
    }

    /**
     * Simple acceptance: the value decides, whatever its uncertainty (JCGM 106:2012, 8.2).
     *
     * @return the rule
     */
    public static DecisionRule simple() {
        return new DecisionRule(Kind.SIMPLE, Guard.NONE, 0);
    }

    /**
     * Guarded acceptance and rejection with a guard band of the expanded uncertainty (JCGM 106:2012, 8.3.2, r = 1).
     *
     * @return the rule
     */
    public static DecisionRule guarded() {
        return guardedByExpanded(1);
    }

    /**
     * Guarded acceptance and rejection with a guard band in proportion to the expanded uncertainty.
     *
     * @param ratio {@code r = w/U}, 0 to 10
     * @return the rule
     */
    public static DecisionRule guardedByExpanded(double ratio) {
        return new DecisionRule(Kind.GUARDED, Guard.EXPANDED, Require.inRange("ratio", ratio, 0, 10));
    }

    /**
     * Guarded acceptance and rejection with a guard band in proportion to the standard uncertainty.
     *
     * @param ratio {@code w/u}, 0 to 10
     * @return the rule
     */
    public static DecisionRule guardedByStandard(double ratio) {
        return new DecisionRule(Kind.GUARDED, Guard.STANDARD, Require.inRange("ratio", ratio, 0, 10));
    }

    /**
     * Guarded acceptance and rejection so that, one limit being near, 95 % keep it at the acceptance limit: {@code w = 1.645
     * u}.
     *
     * @return the rule
     */
    public static DecisionRule guardedOneSided95() {
        return guardedByStandard(ONE_SIDED_95);
    }

    /**
     * Guarded acceptance and rejection with a guard band that was agreed upon.
     *
     * @param guardBand the guard band in the unit of the limit, not negative
     * @return the rule
     */
    public static DecisionRule guardedBy(double guardBand) {
        return new DecisionRule(Kind.GUARDED, Guard.FIXED, Require.notNegative("guardBand", guardBand));
    }

    /**
     * This rule with conditional verdicts instead of the undecided one (ILAC-G8:09/2019, 4.2.3).
     *
     * @return the four-way rule of the same guard band; simple acceptance takes the expanded uncertainty
     */
    public DecisionRule fourWay() {
        return kind == Kind.SIMPLE
                ? new DecisionRule(Kind.FOUR_WAY, Guard.EXPANDED, 1)
                : new DecisionRule(Kind.FOUR_WAY, guard, factor);
    }

    /**
     * The rule in words.
     *
     * @return a few words
     */
    public String description() {
        String band = switch (guard) {
            case NONE -> "";
            case EXPANDED -> number(factor) + " U";
            case STANDARD -> number(factor) + " u";
            case FIXED -> number(factor);
        };
        return switch (kind) {
            case SIMPLE -> "simple acceptance";
            case GUARDED -> "guarded acceptance and rejection, guard band " + band;
            case FOUR_WAY -> "four-way, guard band " + band;
        };
    }

    @Override
    public String toString() {
        return description();
    }

    /**
     * Decides by the reading and the uncertainty that it carries, taken as normal.
     *
     * @param limit the limit
     * @param reading a reading of the quantity of the limit
     * @return the decision; undecided, with the reason, where the reading cannot be compared
     */
    public Decision decide(Limit limit, Reading reading) {
        return decide(limit, reading, reading.uncertainty().map(DecisionRule::normal));
    }

    private static Budget normal(ExpandedUncertainty expanded) {
        double standard =
                expanded.halfWidth() / Coverage.factor(expanded.coverageProbability(), Double.POSITIVE_INFINITY);
        return Budget.of(UncertaintyComponent.typeB("reading", Distribution.NORMAL, standard, "the reading"));
    }

    /**
     * Decides by the reading and its budget.
     *
     * @param limit the limit
     * @param reading a reading of the quantity of the limit
     * @param budget its budget, in the unit of the reading
     * @return the decision; undecided, with the reason, where the reading cannot be compared
     */
    public Decision decide(Limit limit, Reading reading, Budget budget) {
        return decide(limit, reading, Optional.of(budget));
    }

    private Decision decide(Limit limit, Reading reading, Optional<Budget> budget) {
        if (!limit.appliesTo(reading)) {
            throw new IllegalArgumentException(
                    limit.name() + " limits " + limit.quantity().id() + at(limit.atFrequencyHz()) + ", the reading is "
                            + reading.quantity().id() + at(reading.atFrequencyHz()));
        }
        if (reading.value().isEmpty()) {
            return undecided(
                    limit,
                    reading,
                    "There is no valid reading: " + reading.status().id() + ".");
        }
        if (reading.unit() != limit.unit()) {
            return undecided(
                    limit,
                    reading,
                    "The limit is in " + limit.unit().symbol() + ", the reading in "
                            + reading.unit().symbol() + ".");
        }
        if (dependsOnUncertainty() && budget.isEmpty()) {
            return undecided(limit, reading, "The uncertainty of the reading is not known.");
        }
        double value = reading.value().getAsDouble();
        double margin = limit.margin(value);
        double guardBand = budget.isPresent() ? guardBand(budget.get(), coverageProbability(reading)) : factor;
        Verdict verdict = verdict(margin, guardBand);
        return new Decision(
                limit,
                reading,
                this,
                verdict,
                budget.isPresent()
                        ? OptionalDouble.of(
                                budget.get().probabilityBetween(limit.lowest() - value, limit.highest() - value))
                        : OptionalDouble.empty(),
                OptionalDouble.of(guardBand),
                reason(limit, margin, verdict, guardBand));
    }

    private Decision undecided(Limit limit, Reading reading, String reason) {
        return new Decision(
                limit, reading, this, Verdict.UNDECIDED, OptionalDouble.empty(), OptionalDouble.empty(), reason);
    }

    private static String at(OptionalDouble frequencyHz) {
        return frequencyHz.isPresent() ? " at " + frequencyHz.getAsDouble() + " Hz" : "";
    }

    static double coverageProbability(Reading reading) {
        return reading.uncertainty()
                .map(ExpandedUncertainty::coverageProbability)
                .orElse(USUAL_COVERAGE);
    }

    double guardBand(Budget budget, double coverageProbability) {
        return switch (guard) {
            case NONE, FIXED -> factor;
            case EXPANDED -> factor * budget.expanded(coverageProbability).halfWidth();
            case STANDARD -> factor * budget.combined();
        };
    }

    /** Whether a smaller uncertainty could change what this rule says. */
    boolean dependsOnUncertainty() {
        return guard == Guard.EXPANDED || guard == Guard.STANDARD;
    }

    Verdict verdict(double margin, double guardBand) {
        if (margin >= guardBand) {
            return Verdict.PASS;
        }
        if (margin < -guardBand) {
            return Verdict.FAIL;
        }
        if (kind == Kind.FOUR_WAY) {
            return margin >= 0 ? Verdict.CONDITIONAL_PASS : Verdict.CONDITIONAL_FAIL;
        }
        return Verdict.UNDECIDED;
    }

    private String reason(Limit limit, double margin, Verdict verdict, double guardBand) {
        String unit = limit.unit().symbol();
        String where =
                number(Math.abs(margin)) + " " + unit + (margin < 0 ? " outside the limit" : " inside the limit");
        if (kind == Kind.SIMPLE) {
            return "The reading is " + where + ".";
        }
        String compared = verdict == Verdict.PASS || verdict == Verdict.FAIL ? "clear of" : "within";
        return "The reading is " + where + ", " + compared + " the guard band of " + number(guardBand) + " " + unit
                + ".";
    }

    static String number(double value) {
        return String.format(Locale.ROOT, "%.3g", value);
    }
}
