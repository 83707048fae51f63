/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

/** How sure it is that a figure is what the standard prints. */
public enum Confidence {
    /** Read in the text or the official abstract of the named document. */
    VERIFIED,
    /** Read in another text that cites the document. */
    SECOND_HAND,
    /** From general knowledge; no text was seen. */
    MEMORY,
    /** Calculated from other figures. */
    COMPUTED
}
