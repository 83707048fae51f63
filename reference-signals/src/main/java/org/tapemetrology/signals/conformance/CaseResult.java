/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.OptionalDouble;

/**
 * What came of a case.
 *
 * @param about the case
 * @param got the figure in the unit of the case; empty where it was not read
 * @param verdict the verdict, which follows from the figure
 * @param reason why there is no figure; empty where there is one
 */
public record CaseResult(ConformanceCase about, OptionalDouble got, Verdict verdict, String reason) {
    /**
     * Checks that the verdict is the one that the figure earns.
     *
     * @param about the case
     * @param got the figure
     * @param verdict the verdict
     * @param reason why there is no figure
     * @throws IllegalArgumentException if the verdict is not the one that the figure earns
     */
    public CaseResult {
        Verdict earned = got.isPresent() ? about.verdict(got.getAsDouble()) : Verdict.NOT_READ;
        if (verdict != earned) {
            throw new IllegalArgumentException(
                    about.id() + ": verdict is '" + verdict.words() + "', allowed: '" + earned.words() + "'");
        }
    }

    /**
     * The result of a case from a figure.
     *
     * @param about the case
     * @param figure the figure; one in another unit or without a finite value counts as not read
     * @return the result
     */
    public static CaseResult of(ConformanceCase about, Figure figure) {
        if (!figure.unit().equals(about.unit())) {
            return notRead(about, "given in '" + figure.unit() + "', asked: '" + about.unit() + "'");
        }
        if (!Double.isFinite(figure.value())) {
            return notRead(about, "the figure is " + figure.value());
        }
        return new CaseResult(about, OptionalDouble.of(figure.value()), about.verdict(figure.value()), "");
    }

    /**
     * The result of a case without a figure.
     *
     * @param about the case
     * @param reason why there is none
     * @return the result
     */
    public static CaseResult notRead(ConformanceCase about, String reason) {
        return new CaseResult(about, OptionalDouble.empty(), Verdict.NOT_READ, reason);
    }

    /**
     * Share of the tolerance for "conforms" that the figure uses, on the side where it lies.
     *
     * @return 1 at the limit; empty where there is no figure
     */
    public OptionalDouble share() {
        return got.isPresent()
                ? OptionalDouble.of(about.document().share(about.expected(), got.getAsDouble()))
                : OptionalDouble.empty();
    }
}
