/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.Locale;
import java.util.function.ToLongFunction;

/** The report as a table for a person. */
final class TextReport {
    private TextReport() {}

    static String of(ConformanceReport report) {
        StringBuilder text = new StringBuilder();
        for (SuiteReport suite : report.suites()) {
            text.append(suite.document()).append('\n');
            text.append(String.format(
                    Locale.ROOT,
                    "  %-44s %10s %10s %-5s %6s  %s%n",
                    "case",
                    "expected",
                    "got",
                    "",
                    "share",
                    "verdict"));
            for (CaseResult result : suite.results()) {
                ConformanceCase about = result.about();
                text.append(String.format(
                        Locale.ROOT,
                        "  %-44s %10s %10s %-5s %6s  %s%s%n",
                        about.id(),
                        Numbers.fixed(about.expected(), about.digits()),
                        Numbers.fixed(result.got(), about.digits()),
                        about.unit(),
                        Numbers.percent(result.share()),
                        result.verdict().words(),
                        result.reason().isEmpty() ? "" : ": " + Numbers.oneLine(result.reason())));
            }
            text.append(summary(suite.cases().size(), suite::count)).append("\n\n");
        }
        text.append("All: ")
                .append(summary(report.caseCount(), report::count).strip())
                .append('\n');
        return text.toString().replace("\r\n", "\n");
    }

    private static String summary(int cases, ToLongFunction<Verdict> count) {
        return String.format(
                Locale.ROOT,
                "  %d cases: %d reference grade, %d conform, %d fail, %d not read",
                cases,
                count.applyAsLong(Verdict.REFERENCE_GRADE),
                count.applyAsLong(Verdict.CONFORMS),
                count.applyAsLong(Verdict.FAILS),
                count.applyAsLong(Verdict.NOT_READ));
    }
}
