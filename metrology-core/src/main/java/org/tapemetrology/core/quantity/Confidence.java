/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

/** How well a published figure that this library holds is known to be what its source says. */
public enum Confidence {
    /** Read in the text of the named source. */
    VERIFIED("verified"),
    /** Taken from a text that cites the named source. */
    SECOND_HAND("second-hand"),
    /** From general knowledge; to be checked before it is quoted. */
    MEMORY("memory"),
    /** Calculated from other figures. */
    COMPUTED("computed"),
    /** Trade custom without a published source. */
    COMMON_PRACTICE("common-practice");

    private final String id;

    Confidence(String id) {
        this.id = id;
    }

    /**
     * The word for this mark in machine-readable output.
     *
     * @return the word
     */
    public String id() {
        return id;
    }
}
