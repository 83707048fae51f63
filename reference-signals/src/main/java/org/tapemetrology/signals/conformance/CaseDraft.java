/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.signals.table.Confidence;

/** Collects what makes a case; nothing has a default that could pass for a figure. */
final class CaseDraft<M> {
    private final String id;
    private final String clause;
    private final String asks;
    private final List<Recording> recordings = new ArrayList<>();
    private String how = "";
    private String unit = "";
    private int digits;
    private double expected = Double.NaN;
    private Optional<Limits> document = Optional.empty();
    private Optional<Confidence> limitsConfidence = Optional.empty();
    private double ownBelow;
    private double ownAbove;
    private String source = "";
    private Confidence confidence = Confidence.MEMORY;

    CaseDraft(String id, String clause, String asks) {
        this.id = id;
        this.clause = clause;
        this.asks = asks;
    }

    CaseDraft<M> plays(Recording... all) {
        recordings.addAll(List.of(all));
        return this;
    }

    CaseDraft<M> how(String words) {
        how = words;
        return this;
    }

    CaseDraft<M> expects(double value, String inUnit, int printedDigits) {
        expected = value;
        unit = inUnit;
        digits = printedDigits;
        return this;
    }

    CaseDraft<M> source(String words, Confidence sure) {
        source = words;
        confidence = sure;
        return this;
    }

    /** Limits that the document sets. */
    CaseDraft<M> documentLimits(double lower, double upper, Confidence sure) {
        document = Optional.of(new Limits(lower, upper, Limits.Origin.DOCUMENT));
        limitsConfidence = Optional.of(sure);
        return this;
    }

    /** Limits for "conforms" where none of the document could be read. */
    CaseDraft<M> ownLimits(double plusMinus) {
        document = Optional.of(new Limits(expected - plusMinus, expected + plusMinus, Limits.Origin.OWN));
        return this;
    }

    /** The narrower limits, as distances from the expected value. */
    CaseDraft<M> narrower(double below, double above) {
        ownBelow = below;
        ownAbove = above;
        return this;
    }

    CaseDraft<M> narrower(double plusMinus) {
        return narrower(plusMinus, plusMinus);
    }

    Exercise<M> by(Procedure<M> procedure) {
        Limits reference = new Limits(expected - ownBelow, expected + ownAbove, Limits.Origin.OWN);
        Limits limits = document.orElseThrow(() -> new IllegalStateException(id + " has no limits"));
        return new Exercise<>(
                new ConformanceCase(
                        id,
                        clause,
                        asks,
                        recordings,
                        how,
                        unit,
                        digits,
                        expected,
                        limits,
                        reference,
                        source,
                        confidence,
                        limitsConfidence),
                procedure);
    }
}
