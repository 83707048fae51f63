/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.function.Supplier;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.tapemetrology.signals.conformance.CaseResult;
import org.tapemetrology.signals.conformance.Suite;
import org.tapemetrology.signals.conformance.Verdict;

/** Turns a suite into tests of JUnit 5, one for each case, for a method with {@code @TestFactory}. */
final class JUnitCases {
    private JUnitCases() {}

    /** Tests that fail where a case is not passed. */
    static <M> Stream<DynamicTest> of(Suite<M> suite, Supplier<? extends M> meter) {
        return suite.cases().stream()
                .map(about -> DynamicTest.dynamicTest(
                        about.id() + ": " + about.asks(), () -> assertPassed(suite.run(about.id(), meter.get()))));
    }

    private static void assertPassed(CaseResult result) {
        assertThat(result.verdict())
                .as(
                        "%s %s %s, allowed: %s to %s",
                        result.got(),
                        result.about().unit(),
                        result.reason(),
                        result.about().document().lower(),
                        result.about().document().upper())
                .isIn(Verdict.CONFORMS, Verdict.REFERENCE_GRADE);
    }
}
