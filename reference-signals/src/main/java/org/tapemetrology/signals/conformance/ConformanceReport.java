/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.List;
import org.tapemetrology.signals.internal.Require;

/**
 * The reports of several suites. Immutable.
 *
 * @param suites the reports, at least one
 */
public record ConformanceReport(List<SuiteReport> suites) {
    /**
     * Checks that there is something.
     *
     * @param suites at least one
     * @throws IllegalArgumentException if there is no report
     */
    public ConformanceReport {
        suites = List.copyOf(suites);
        Require.that(!suites.isEmpty(), "there are no suites, allowed: at least one");
    }

    /**
     * Number of cases of all suites.
     *
     * @return the number, above 0
     */
    public int caseCount() {
        return suites.stream().mapToInt(suite -> suite.cases().size()).sum();
    }

    /**
     * Number of results with a verdict.
     *
     * @param verdict the verdict
     * @return the number
     */
    public long count(Verdict verdict) {
        return suites.stream().mapToLong(suite -> suite.count(verdict)).sum();
    }

    /**
     * Whether every case of every suite is passed.
     *
     * @return true where all conform or are reference grade
     */
    public boolean passes() {
        return suites.stream().allMatch(SuiteReport::passes);
    }

    /**
     * A table for a person.
     *
     * @return lines that end in a line feed
     */
    public String toText() {
        return TextReport.of(this);
    }

    /**
     * One JSON object.
     *
     * @return the object and a line feed
     */
    public String toJson() {
        return JsonReport.of(this);
    }

    /**
     * The XML of JUnit, which build servers read.
     *
     * @return the document
     */
    public String toJUnitXml() {
        return JUnitReport.of(this);
    }

    /**
     * A page in Markdown: what passes, what is not covered, which values rest on memory.
     *
     * @param title heading of the page
     * @param introduction text below it
     * @return the page
     */
    public String toMarkdown(String title, String introduction) {
        return MarkdownReport.of(this, title, introduction);
    }
}
