/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.tapemetrology.signals.conformance.CaseResult;
import org.tapemetrology.signals.conformance.ConformanceCase;
import org.tapemetrology.signals.conformance.Suite;
import org.tapemetrology.signals.conformance.SuiteReport;
import org.tapemetrology.signals.conformance.Verdict;

/** Runs a suite on meters with faults, and says who is caught by what. */
final class MutantMatrix {
    static final Path COMMITTED = Path.of("..", "reference-signals", "MUTANTS.md");

    private MutantMatrix() {}

    /**
     * Holds that the sound meter is reference grade everywhere, that every mutant is caught, gross ones by the limits of
     * the document, that every case catches a mutant, and that the committed table says the same.
     */
    static <M> void check(Suite<M> suite, M sound, List<Mutant<M>> mutants) throws IOException {
        List<M> meters = new ArrayList<>(List.of(sound));
        for (Mutant<M> mutant : mutants) {
            meters.add(mutant.meter().get());
        }
        List<SuiteReport> reports = suite.runAll(meters);
        assertThat(ids(reports.get(0), Verdict.CONFORMS, Verdict.FAILS, Verdict.NOT_READ))
                .as("where the sound meter, from which the mutants are made, is not reference grade")
                .isEmpty();
        StringBuilder table = new StringBuilder("## " + suite.document() + "\n\n"
                + "| mutant | outside the limits | outside the narrower limits alone |\n|---|---|---|\n");
        Set<String> catching = new HashSet<>();
        List<String> complaints = new ArrayList<>();
        for (int i = 0; i < mutants.size(); i++) {
            Mutant<M> mutant = mutants.get(i);
            SuiteReport report = reports.get(i + 1);
            List<String> failed = ids(report, Verdict.FAILS, Verdict.NOT_READ);
            List<String> narrow = ids(report, Verdict.CONFORMS);
            catching.addAll(failed);
            catching.addAll(narrow);
            if (failed.isEmpty() && (mutant.gross() || narrow.isEmpty())) {
                complaints.add("mutant '" + mutant.name() + "' is not caught");
            }
            table.append("| ")
                    .append(mutant.name())
                    .append(mutant.gross() ? " (gross) | " : " | ")
                    .append(words(suite, failed))
                    .append(" | ")
                    .append(words(suite, narrow))
                    .append(" |\n");
        }
        for (ConformanceCase about : suite.cases()) {
            if (!catching.contains(about.id())) {
                complaints.add("case " + about.id() + " catches nobody");
            }
        }
        Path generated = Path.of("target", "mutants", suite.id() + ".md");
        Files.createDirectories(generated.getParent());
        Files.writeString(generated, table);
        assertThat(complaints).isEmpty();
        assertThat(Files.readString(COMMITTED))
                .as("%s is the committed copy of %s", COMMITTED, generated)
                .contains(table);
    }

    private static List<String> ids(SuiteReport report, Verdict... verdicts) {
        return report.results().stream()
                .filter(result -> List.of(verdicts).contains(result.verdict()))
                .map(CaseResult::about)
                .map(ConformanceCase::id)
                .toList();
    }

    private static String words(Suite<?> suite, List<String> ids) {
        return ids.size() == suite.caseCount() ? "every case" : String.join(" ", ids);
    }
}
