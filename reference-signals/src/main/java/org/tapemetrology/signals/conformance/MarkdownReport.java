/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.Locale;
import java.util.function.Predicate;
import org.tapemetrology.signals.table.Confidence;

/** The report as a page in Markdown. */
final class MarkdownReport {
    private MarkdownReport() {}

    static String of(ConformanceReport report, String title, String introduction) {
        StringBuilder page = new StringBuilder();
        page.append("# ")
                .append(title)
                .append("\n\n")
                .append(introduction.strip())
                .append("\n\n");
        page.append("| document | cases | reference grade | conform | fail | not read | largest share |\n");
        page.append("|---|---|---|---|---|---|---|\n");
        for (SuiteReport suite : report.suites()) {
            page.append("| ")
                    .append(suite.document())
                    .append(" | ")
                    .append(suite.cases().size());
            for (Verdict verdict : Verdict.values()) {
                page.append(" | ").append(suite.count(verdict));
            }
            page.append(" | ").append(Numbers.percent(suite.worstShare())).append(" |\n");
        }
        page.append("| all | ").append(report.caseCount());
        for (Verdict verdict : Verdict.values()) {
            page.append(" | ").append(report.count(verdict));
        }
        page.append(" | |\n");
        for (SuiteReport suite : report.suites()) {
            append(page, suite);
        }
        page.append("\n## Values that rest on memory\n\nNo text of the document was seen for these.\n\n");
        for (SuiteReport suite : report.suites()) {
            page.append("- ").append(suite.document()).append(": ");
            page.append(memory(suite, result -> result.confidence() == Confidence.MEMORY))
                    .append(" expected values and ");
            page.append(memory(
                            suite,
                            result -> result.limitsConfidence()
                                    .filter(Confidence.MEMORY::equals)
                                    .isPresent()))
                    .append(" pairs of limits; ");
            page.append(memory(suite, result -> result.limitsConfidence().isEmpty()))
                    .append(" cases with own limits alone\n");
        }
        return page.toString();
    }

    private static String memory(SuiteReport suite, Predicate<ConformanceCase> which) {
        return suite.cases().stream().filter(which).count() + " of "
                + suite.cases().size();
    }

    private static void append(StringBuilder page, SuiteReport suite) {
        page.append("\n## ").append(suite.document()).append("\n\n");
        page.append(
                "| case | clause | expected | allowed | reference grade | got | share | verdict | value | limits |\n");
        page.append("|---|---|---|---|---|---|---|---|---|---|\n");
        for (CaseResult result : suite.results()) {
            ConformanceCase about = result.about();
            int finer = Numbers.limitDigits(about);
            page.append("| `").append(about.id()).append("` ").append(about.asks());
            page.append(" | ").append(about.clause());
            page.append(" | ").append(Numbers.fixed(about.expected(), about.digits()));
            page.append(' ').append(about.unit());
            page.append(" | ").append(Numbers.limits(about.document(), finer));
            page.append(" | ").append(Numbers.limits(about.referenceGrade(), finer));
            page.append(" | ").append(Numbers.fixed(result.got(), about.digits()));
            page.append(" | ").append(Numbers.percent(result.share()));
            page.append(" | ").append(result.verdict().words());
            page.append(
                    result.reason().isEmpty()
                            ? ""
                            : ": " + Numbers.oneLine(result.reason()).replace("|", "\\|"));
            page.append(" | ").append(words(about.confidence()));
            page.append(" | ")
                    .append(about.limitsConfidence().map(MarkdownReport::words).orElse("own"));
            page.append(" |\n");
        }
        page.append("\nNot covered:\n");
        for (String subject : suite.notCovered()) {
            page.append("- ").append(subject).append('\n');
        }
    }

    private static String words(Enum<?> word) {
        return word.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
