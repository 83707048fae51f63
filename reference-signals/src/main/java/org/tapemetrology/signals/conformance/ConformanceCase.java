/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.List;
import java.util.Optional;
import org.tapemetrology.signals.internal.Require;
import org.tapemetrology.signals.table.Confidence;

/**
 * A case of a suite: which recordings are played, which figure is asked for, what it must be, and who says so.
 *
 * @param id identifier, unique over all suites
 * @param clause clause or table of the document
 * @param asks what is asked for, in words
 * @param recordings the recordings that it takes; none where the meter is asked and not fed
 * @param how how the figure is got from the meter's figures of the recordings, for one who does it by hand
 * @param unit unit of the figure
 * @param digits decimals to print
 * @param expected expected value in the unit
 * @param document limits for the verdict "conforms"; from the document unless marked as own
 * @param referenceGrade narrower limits of this project
 * @param source where the expected value is from
 * @param confidence how sure the expected value is
 * @param limitsConfidence how sure the limits of the document are; empty where the limits are own ones
 */
public record ConformanceCase(
        String id,
        String clause,
        String asks,
        List<Recording> recordings,
        String how,
        String unit,
        int digits,
        double expected,
        Limits document,
        Limits referenceGrade,
        String source,
        Confidence confidence,
        Optional<Confidence> limitsConfidence) {
    /**
     * Checks that the limits make sense.
     *
     * @param id letters, digits, hyphens and dots
     * @param clause any
     * @param asks any
     * @param recordings any number
     * @param how any
     * @param unit any
     * @param digits 0 to 9
     * @param expected finite and within both pairs of limits
     * @param document any
     * @param referenceGrade within those of the document, finite
     * @param source any
     * @param confidence any
     * @param limitsConfidence there exactly where the limits are from the document
     * @throws IllegalArgumentException if the id has other characters than it may, the decimals are not in 0 to 9,
     *     the expected value or a narrower limit is not finite, the limits do not lie within each other about it, or
     *     a confidence of limits does not go with their origin
     */
    public ConformanceCase {
        recordings = List.copyOf(recordings);
        Require.that(id.matches("[a-z0-9][a-z0-9.-]*"), "id of the case is '" + id + "', allowed: a-z, 0-9, - and .");
        Require.within("decimals of " + id, digits, 0, 9);
        Require.finite("expected value of " + id, expected);
        Require.that(referenceGrade.accepts(expected), id + ": the narrower limits leave out the expected value");
        Require.that(document.contains(referenceGrade), id + ": the narrower limits are not within the others");
        Require.that(
                Double.isFinite(referenceGrade.lower()) && Double.isFinite(referenceGrade.upper()),
                id + ": the narrower limits are not finite");
        Require.that(
                limitsConfidence.isPresent() == (document.origin() == Limits.Origin.DOCUMENT),
                id + ": limits of a document have a confidence, own ones have none");
    }

    /**
     * The verdict on a finite figure in the unit of the case.
     *
     * @param value the figure
     * @return never {@link Verdict#NOT_READ} for a finite figure
     */
    public Verdict verdict(double value) {
        if (!Double.isFinite(value)) {
            return Verdict.NOT_READ;
        }
        if (referenceGrade.accepts(value)) {
            return Verdict.REFERENCE_GRADE;
        }
        return document.accepts(value) ? Verdict.CONFORMS : Verdict.FAILS;
    }
}
