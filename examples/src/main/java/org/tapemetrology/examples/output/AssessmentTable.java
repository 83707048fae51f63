/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.output;

import java.io.PrintStream;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Unit;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.UncertaintyComponent;
import org.tapemetrology.examples.recording.Assessment;
import org.tapemetrology.examples.recording.Recording;

/** Budgets and verdicts as tables for people. */
public final class AssessmentTable {
    private AssessmentTable() {}

    public static void print(Assessment.Of assessment, PrintStream out) {
        for (Reading reading : assessment.measurement().readings()) {
            Optional<Budget> budget = assessment.shownBudget(reading);
            if (budget.isPresent()) {
                print(reading, budget.get(), assessment.asked().expansion().method(), out);
            }
        }
        assessment.asked().limits().ifPresent(limits -> {
            out.printf(
                    "verdicts by %s: %s%n",
                    limits.name(), assessment.asked().rule().description());
            for (Decision decision : assessment.decisions()) {
                print(decision, assessment, out);
            }
            out.println();
        });
    }

    /** The same of a programme, step by step, and at the end of the limits that speak of no step. */
    public static void print(Recording.OfProgramme measured, List<Assessment.Of> assessed, PrintStream out) {
        for (int i = 0; i < assessed.size(); i++) {
            Assessment.Of one = assessed.get(i);
            boolean last = i == assessed.size() - 1;
            boolean budgeted = one.measurement().readings().stream()
                    .anyMatch(reading -> one.shownBudget(reading).isPresent());
            if (budgeted || !one.decisions().isEmpty()) {
                out.println(
                        last
                                ? "of no step"
                                : "step " + measured.steps().get(i).step().name());
                print(one, out);
            }
        }
    }

    private static void print(Reading reading, Budget budget, String method, PrintStream out) {
        out.printf("budget of %s: %s, %s%n", name(reading), MeasurementTable.value(reading), method);
        out.printf(
                Locale.ROOT,
                "  %-44s %-5s %-12s %12s %12s %6s  %s%n",
                "component",
                "type",
                "distribution",
                "u",
                "adds " + differenceUnit(reading),
                "share",
                "source");
        for (UncertaintyComponent component : budget.components()) {
            out.printf(
                    Locale.ROOT,
                    "  %-44s %-5s %-12s %12s %12.3g %4.0f %%  %s%n",
                    component.name(),
                    component.evaluation().id(),
                    component.distribution().id(),
                    String.format(Locale.ROOT, "%.3g %s", component.standardUncertainty(), unit(component, reading)),
                    component.contribution(),
                    100 * budget.share(component),
                    component.source());
        }
        double freedom = budget.effectiveDegreesOfFreedom();
        out.printf(
                Locale.ROOT,
                "  combined %.3g %s, %s degrees of freedom%n%n",
                budget.combined(),
                differenceUnit(reading),
                freedom < 1e6 ? String.format(Locale.ROOT, "%.1f", freedom) : "infinite");
    }

    private static String unit(UncertaintyComponent component, Reading reading) {
        return component.inputUnit().isEmpty() ? differenceUnit(reading) : component.inputUnit();
    }

    /** Levels re a reference differ by decibels. */
    private static String differenceUnit(Reading reading) {
        Unit unit = reading.unit();
        return (unit == Unit.DBFS || unit == Unit.DBU ? Unit.DECIBEL : unit).symbol();
    }

    /** Verdict, figure and limit in a line. */
    public static String line(Decision decision) {
        Limit limit = decision.limit();
        return String.format(
                Locale.ROOT,
                "%-16s %s (%s): %s, limit %s %s%s",
                decision.verdict().id(),
                limit.name(),
                name(decision.reading()),
                MeasurementTable.value(decision.reading()).trim(),
                bounds(limit),
                limit.unit().symbol(),
                decision.probabilityOfConformity().isPresent()
                        ? String.format(
                                Locale.ROOT,
                                ", kept with %.1f %%",
                                100 * decision.probabilityOfConformity().getAsDouble())
                        : "");
    }

    private static void print(Decision decision, Assessment.Of assessment, PrintStream out) {
        out.println("  " + line(decision));
        if (decision.verdict() != Verdict.PASS && decision.verdict() != Verdict.FAIL) {
            if (decision.guardBand().isEmpty()) {
                out.println("      " + decision.reason());
            } else {
                assessment.advice(decision).forEach(sentence -> out.println("      " + sentence));
            }
        }
    }

    private static String bounds(Limit limit) {
        OptionalDouble lower = limit.lower();
        OptionalDouble upper = limit.upper();
        if (lower.isEmpty()) {
            return String.format(Locale.ROOT, "at most %.4g", upper.orElseThrow());
        }
        return upper.isEmpty()
                ? String.format(Locale.ROOT, "at least %.4g", lower.getAsDouble())
                : String.format(Locale.ROOT, "%.4g to %.4g", lower.getAsDouble(), upper.getAsDouble());
    }

    private static String name(Reading reading) {
        return reading.quantity().id()
                + (reading.atFrequencyHz().isPresent()
                        ? " at "
                                + MeasurementTable.frequency(
                                        reading.atFrequencyHz().getAsDouble()) + " Hz"
                        : "")
                + (reading.channel().isPresent()
                        ? ", channel " + reading.channel().getAsInt()
                        : "");
    }
}
