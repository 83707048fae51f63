/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.signals.internal.Require;

/**
 * The results of a suite: exactly one for each of its cases. Immutable.
 *
 * @param id short name of the suite
 * @param document the document with its edition
 * @param notCovered what of the document no case is about
 * @param cases the cases of the suite
 * @param results a result for each case, in the same order
 */
public record SuiteReport(
        String id, String document, List<String> notCovered, List<ConformanceCase> cases, List<CaseResult> results) {
    /**
     * Checks that no case is missing.
     *
     * @param id any
     * @param document any
     * @param notCovered any
     * @param cases at least one
     * @param results one for each case
     * @throws IllegalArgumentException if there is no case, or the results are not one for each case in their order
     */
    public SuiteReport {
        notCovered = List.copyOf(notCovered);
        cases = List.copyOf(cases);
        results = List.copyOf(results);
        Require.that(!cases.isEmpty(), "the suite " + id + " has no cases, allowed: at least one");
        Require.that(
                results.stream().map(CaseResult::about).toList().equals(cases),
                "results of " + id + " are " + results.size() + ", allowed: one for each of the " + cases.size()
                        + " cases, in their order");
    }

    /**
     * Number of results with a verdict.
     *
     * @param verdict the verdict
     * @return the number
     */
    public long count(Verdict verdict) {
        return results.stream().filter(result -> result.verdict() == verdict).count();
    }

    /**
     * Whether every case is passed.
     *
     * @return true where all conform or are reference grade
     */
    public boolean passes() {
        return results.stream().allMatch(result -> result.verdict().passes());
    }

    /**
     * Whether every case is reference grade.
     *
     * @return true where all are
     */
    public boolean isReferenceGrade() {
        return count(Verdict.REFERENCE_GRADE) == cases.size();
    }

    /**
     * The largest share of a tolerance that is used.
     *
     * @return 1 at a limit; empty where a figure is missing
     */
    public OptionalDouble worstShare() {
        return results.stream().anyMatch(result -> result.share().isEmpty())
                ? OptionalDouble.empty()
                : results.stream()
                        .mapToDouble(result -> result.share().orElseThrow())
                        .max();
    }
}
