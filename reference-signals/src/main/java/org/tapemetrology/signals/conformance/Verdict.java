/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/** What came of a case. */
public enum Verdict {
    /** Within the narrower limits of this project. */
    REFERENCE_GRADE("reference grade"),
    /** Within the limits that the case takes from the document. */
    CONFORMS("conforms"),
    /** Outside the limits. */
    FAILS("fails"),
    /** There was no figure, or none that could be compared; a failure too. */
    NOT_READ("not read");

    private final String words;

    Verdict(String words) {
        this.words = words;
    }

    /**
     * Whether the case is passed.
     *
     * @return true for {@link #REFERENCE_GRADE} and {@link #CONFORMS} alone
     */
    public boolean passes() {
        return this == REFERENCE_GRADE || this == CONFORMS;
    }

    /**
     * The verdict in words.
     *
     * @return lower-case words
     */
    public String words() {
        return words;
    }
}
