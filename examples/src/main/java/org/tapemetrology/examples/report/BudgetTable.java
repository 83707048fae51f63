/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Unit;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.UncertaintyComponent;
import org.tapemetrology.examples.report.Report.Budgeted;

/** An uncertainty budget as a table: what each component adds, and where it is from. */
final class BudgetTable {
    /** More degrees of freedom than this are as good as any number. */
    private static final double MANY = 1e6;

    private BudgetTable() {}

    static void write(Markup out, Budgeted budgeted) {
        Budget budget = budgeted.budget();
        String unit = differenceUnit(budgeted.reading());
        double freedom = budget.effectiveDegreesOfFreedom();
        Table table = new Table(
                out,
                "Budget of " + Words.name(budgeted.reading()) + ": combined standard uncertainty "
                        + Words.shortest(budget.combined())
                        + (unit.isEmpty() ? "" : " " + unit)
                        + ", "
                        + (freedom < MANY ? Words.shortest(freedom) : "infinite")
                        + " degrees of freedom",
                "component",
                "type",
                "distribution",
                "adds" + (unit.isEmpty() ? "" : ", " + unit),
                "share of the variance",
                "source");
        for (UncertaintyComponent component : budget.components()) {
            table.row(
                    component.name(),
                    component.evaluation().id(),
                    component.distribution().id(),
                    Words.shortest(component.contribution()),
                    Words.percent(Math.max(0, budget.share(component))),
                    component.source() + (component.assumed() ? " (assumed)" : ""));
        }
        table.end();
    }

    /** Levels re a reference differ by decibels. */
    private static String differenceUnit(Reading reading) {
        Unit unit = reading.unit();
        return Words.unit(unit == Unit.DBFS || unit == Unit.DBU ? Unit.DECIBEL : unit);
    }
}
