/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Stack;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.examples.files.LimitFile;
import org.tapemetrology.examples.recording.Assessment;
import picocli.CommandLine.IParameterPreprocessor;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;

/** Options that ask for budgets and verdicts. */
final class AssessmentOptions {
    private static final String ANALYTIC = "analytic";
    private static final String MONTE_CARLO = "monte-carlo";

    @Option(
            names = "--budget",
            arity = "0..1",
            paramLabel = "HOW",
            preprocessor = OptionalValue.class,
            description = "print the uncertainty budget of every reading: analytic (the default) or monte-carlo")
    private @Nullable String budget;

    @Option(
            names = "--limits",
            paramLabel = "NAME|FILE",
            description =
                    "judge by limits: din-45500, common-practice, or a JSON file with those of the machine, of which some may be for one step of a programme")
    private @Nullable String limits;

    @Option(
            names = "--rule",
            paramLabel = "RULE",
            description =
                    "how to judge: guarded (the default, guard band the expanded uncertainty), one-sided (1.645 standard uncertainties), simple, four-way")
    private Rule rule = Rule.GUARDED;

    /** The decision rules. */
    enum Rule {
        /** Guarded acceptance and rejection, guard band the expanded uncertainty. */
        GUARDED("guarded"),
        /** The same, guard band 1.645 standard uncertainties. */
        ONE_SIDED("one-sided"),
        /** By the value alone. */
        SIMPLE("simple"),
        /** With conditional verdicts within the guard band. */
        FOUR_WAY("four-way");

        private final String word;

        Rule(String word) {
            this.word = word;
        }

        DecisionRule meant() {
            return switch (this) {
                case GUARDED -> DecisionRule.guarded();
                case ONE_SIDED -> DecisionRule.guardedOneSided95();
                case SIMPLE -> DecisionRule.simple();
                case FOUR_WAY -> DecisionRule.guarded().fourWay();
            };
        }

        @Override
        public String toString() {
            return word;
        }
    }

    /** Takes what follows for the value where it is one, and for a file otherwise. */
    static final class OptionalValue implements IParameterPreprocessor {
        @Override
        @SuppressWarnings("JdkObsolete") // the library's own type
        public boolean preprocess(
                Stack<String> arguments, CommandSpec command, ArgSpec argument, Map<String, Object> info) {
            if (arguments.isEmpty() || !List.of(ANALYTIC, MONTE_CARLO).contains(arguments.peek())) {
                arguments.push(ANALYTIC);
            }
            return false;
        }
    }

    Assessment assessment() throws IOException {
        return new Assessment(
                MONTE_CARLO.equals(budget) ? Assessment.Expansion.MONTE_CARLO : Assessment.Expansion.ANALYTIC,
                budget != null,
                limits == null ? Optional.empty() : Optional.of(LimitFile.named(limits)),
                rule.meant());
    }
}
