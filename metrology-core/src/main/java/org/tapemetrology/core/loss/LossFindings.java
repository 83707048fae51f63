/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.tapemetrology.core.quantity.Status;

/**
 * Which losses explain a measured response, best first. Immutable.
 *
 * <p>Made by {@link LossFit}; its numbers are not checked.
 *
 * @param status {@link Status#VALID}; {@link Status#AMBIGUOUS} where other causes explain the response as well as the
 *     best; {@link Status#INSUFFICIENT_DATA} where there are too few levels for any fit
 * @param ranked explanations, the best first
 * @param goodnessOfFit probability of a residual as large as that of the best explanation if that is the truth;
 *     empty where the uncertainty of the levels is not known
 */
public record LossFindings(Status status, List<LossExplanation> ranked, OptionalDouble goodnessOfFit) {
    /**
     * Explanations at most this above the best one are not ruled out (K. P. Burnham and D. R. Anderson, "Model Selection and
     * Multimodel Inference", 2nd ed., 2.6: up to 2 substantial support, 4 to 7 considerably less, above 10 none). At 2,
     * one cause would be named alone, and wrongly, in 10 % of trials with a spacing of 0.5 um in noise of 0.3 dB; at 7 in
     * less than 1 %.
     */
    public static final double AS_GOOD = 7;

    /** Below this probability of its residual the best explanation is none. */
    public static final double LEAST_GOODNESS = 0.01;

    /**
     * Findings.
     *
     * @param status whether one explanation stands out
     * @param ranked explanations, the best first
     * @param goodnessOfFit probability of the residual of the best
     */
    public LossFindings {
        ranked = List.copyOf(ranked);
    }

    /**
     * The best explanation.
     *
     * @return the first of the ranked ones
     */
    public LossExplanation best() {
        if (ranked.isEmpty()) {
            throw new IllegalStateException("no explanation: too few levels for a fit");
        }
        return ranked.get(0);
    }

    /**
     * Explanations that cannot be ruled out beside the best: at most {@value #AS_GOOD} above it, without those that only add a cause to a
     * better one.
     *
     * @return the others, without the best itself
     */
    public List<LossExplanation> asGood() {
        return asGood(ranked);
    }

    static List<LossExplanation> asGood(List<LossExplanation> ranked) {
        List<LossExplanation> kept = new ArrayList<>();
        for (LossExplanation explanation : ranked) {
            boolean addsToABetterOne =
                    kept.stream().anyMatch(better -> explanation.causes().containsAll(better.causes()));
            if (explanation.aboveBest() <= AS_GOOD && !addsToABetterOne) {
                kept.add(explanation);
            }
        }
        return List.copyOf(kept.subList(Math.min(1, kept.size()), kept.size()));
    }

    /**
     * The findings as a sentence.
     *
     * @return what explains the response, what is left, and what explains it as well
     */
    public String sentence() {
        if (ranked.isEmpty()) {
            return "too few levels for a fit";
        }
        LossExplanation best = best();
        if (goodnessOfFit.orElse(1) < LEAST_GOODNESS) {
            return String.format(
                    Locale.ROOT,
                    "nothing here explains it; nearest is %s, residual %.2f dB",
                    best.words(),
                    best.residualDb());
        }
        String others = asGood().stream().map(LossExplanation::words).collect(Collectors.joining(" or "));
        return String.format(Locale.ROOT, "%s explains it, residual %.2f dB", best.words(), best.residualDb())
                + (others.isEmpty()
                        ? ""
                        : "; " + others + (asGood().size() > 1 ? " explain" : " explains") + " it as well");
    }
}
