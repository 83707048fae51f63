/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

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

/** What is asked for beside the readings: their budgets, and whether they keep limits. */
record Assessment(Expansion expansion, boolean budgetsShown, Optional<LimitSet> limits, DecisionRule rule) {
    private static final long SEED = 101;
    private static final int TRIALS = 200_000;

    /** How expanded uncertainties are found. */
    enum Expansion {
        /** By the distributions of the budget in closed form. */
        ANALYTIC("JCGM 100:2008"),
        /** By drawing them. */
        MONTE_CARLO("JCGM 101:2008 Monte Carlo, " + TRIALS + " trials, seed " + SEED);

        private final String method;

        Expansion(String method) {
            this.method = method;
        }

        String method() {
            return method;
        }
    }

    /** What is known of one recording. */
    record Of(Assessment asked, Measurement measurement, ReadingBudgets budgets, List<Decision> decisions) {
        /** The budget of a reading, where budgets are to be shown and it has one. */
        Optional<Budget> shownBudget(Reading reading) {
            return asked.budgetsShown ? budgets.budget(reading, measurement) : Optional.empty();
        }

        /** What would turn an undecided verdict into a decision. */
        List<String> advice(Decision decision) {
            return budgets.budget(decision.reading(), measurement)
                    .map(budget -> Advice.on(decision, budget).sentences())
                    .orElse(List.of());
        }
    }

    /** Assesses what was measured. */
    Of of(Measurement measured, ReadingBudgets budgets) {
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
                limits.map(set -> set.decide(judged, rule, budgets)).orElse(List.of()));
    }
}
