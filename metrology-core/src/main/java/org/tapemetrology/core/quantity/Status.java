/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

/** Whether a reading has a value and, where it has none, why. Only {@link #VALID} carries a value. */
public enum Status {
    /** The value is the quantity, within its uncertainty. */
    VALID("valid"),
    /** The filters have not settled yet: wait. */
    SETTLING("settling"),
    /** Measured for too short a time. */
    INSUFFICIENT_DATA("insufficient-data"),
    /** No test tone that the quantity could be taken from. */
    NO_CARRIER("no-carrier"),
    /** The test tone was away for so long that the figure says nothing. */
    INTERRUPTED("interrupted"),
    /** The converter or the recording was driven into clipping. */
    OVERLOAD("overload"),
    /** The input held a sample that is no finite number. */
    INVALID_INPUT("invalid-input"),
    /** Two explanations fit, for example two carriers at once. */
    AMBIGUOUS("ambiguous");

    private final String id;

    Status(String id) {
        this.id = id;
    }

    /**
     * The word for this status in the machine-readable output.
     *
     * @return the word
     */
    public String id() {
        return id;
    }
}
