/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.recording;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.conformity.Advice;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.core.conformity.LimitSet;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.MonteCarlo;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.examples.files.MachineLimits;
import org.tapemetrology.examples.files.MachineLimits.Part;
import org.tapemetrology.examples.files.Setup;

/** What is asked for beside the readings: their budgets, and whether they keep limits. */
public record Assessment(Expansion expansion, boolean budgetsShown, Optional<MachineLimits> limits, DecisionRule rule) {
    private static final long SEED = 101;
    private static final int TRIALS = 200_000;

    /** How expanded uncertainties are found. */
    public enum Expansion {
        /** By the distributions of the budget in closed form. */
        ANALYTIC("JCGM 100:2008"),
        /** By drawing them. */
        MONTE_CARLO("JCGM 101:2008 Monte Carlo, " + TRIALS + " trials, seed " + SEED);

        private final String method;

        Expansion(String method) {
            this.method = method;
        }

        public String method() {
            return method;
        }
    }

    /** What is known of one recording. */
    public record Of(Assessment asked, Measurement measurement, ReadingBudgets budgets, List<Decision> decisions) {
        /** The budget of a reading, where budgets are to be shown and it has one. */
        public Optional<Budget> shownBudget(Reading reading) {
            return asked.budgetsShown ? budgets.budget(reading, measurement) : Optional.empty();
        }

        /** What would turn an undecided verdict into a decision. */
        public List<String> advice(Decision decision) {
            return budgets.budget(decision.reading(), measurement)
                    .map(budget -> Advice.on(decision, budget).sentences())
                    .orElse(List.of());
        }
    }

    /** Assesses what was measured. */
    public Of of(Measurement measured, ReadingBudgets budgets) {
        Measurement measurement = measured;
        if (expansion == Expansion.MONTE_CARLO) {
            MonteCarlo draws = MonteCarlo.fixed(SEED, TRIALS);
            measurement = budgets.expanded(measured, budget -> draws.expanded(budget, ReadingBudgets.COVERAGE));
        }
        Measurement judged = measurement;
        return new Of(
                this,
                judged,
                budgets,
                limits.map(known -> decided(known, judged, budgets)).orElse(List.of()));
    }

    /** Without a programme a limit of one of its steps has no reading. */
    private List<Decision> decided(MachineLimits known, Measurement judged, ReadingBudgets budgets) {
        List<Decision> decisions = new ArrayList<>();
        LimitSet ofEverything =
                known.only(limit -> !known.ofSteps().containsKey(limit)).set();
        LimitSet ofSteps = known.only(known.ofSteps()::containsKey).set();
        decisions.addAll(ofEverything.decide(judged, rule, budgets));
        decisions.addAll(ofSteps.decide(new Measurement(List.of(), List.of()), rule, budgets));
        return decisions;
    }

    /**
     * Assesses the parts of what was measured, each by its own readings and by the limits that speak of them.
     *
     * @return one for each part in its order, and one more for the limits that speak of no part
     */
    public List<Of> ofParts(List<Part> parts, ReadingBudgets budgets, Setup setup) {
        List<Of> assessed = new ArrayList<>();
        for (Part part : parts) {
            Of one = by(limits.map(known -> known.of(part))).of(part.measurement(), budgets);
            assessed.add(new Of(one.asked, one.measurement, budgets, Fringing.judged(one.decisions, setup)));
        }
        assessed.add(by(limits.map(known -> known.ofNoneOf(parts))).of(new Measurement(List.of(), List.of()), budgets));
        return assessed;
    }

    private Assessment by(Optional<LimitSet> others) {
        return new Assessment(expansion, budgetsShown, others.map(MachineLimits::of), rule);
    }
}
