/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

/** What a decision rule says of a reading. */
public enum Verdict {
    /** The limit is kept. */
    PASS("pass"),
    /** The reading keeps the limit, by less than the guard band (four-way rule). */
    CONDITIONAL_PASS("conditional-pass"),
    /** The reading is too near to the limit to be told, or there is none. */
    UNDECIDED("undecided"),
    /** The reading is beyond the limit, by less than the guard band (four-way rule). */
    CONDITIONAL_FAIL("conditional-fail"),
    /** The limit is not kept. */
    FAIL("fail");

    private final String id;

    Verdict(String id) {
        this.id = id;
    }

    /**
     * The word for this verdict in machine-readable output.
     *
     * @return the word
     */
    public String id() {
        return id;
    }
}
