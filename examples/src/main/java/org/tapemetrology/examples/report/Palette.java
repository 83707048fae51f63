/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

/**
 * The colours of the page. Blue, ochre and violet stay apart for colour-blind people, and none says anything that a word, a shape or a
 * line pattern does not say too. Every text has a contrast of at least 4.5:1 to what it stands on, every mark 3:1
 * (WCAG 2.1, 1.4.3 and 1.4.11; a test computes them).
 */
enum Palette {
    /** Background of the page. */
    PAPER("#ffffff"),
    /** Background of heads of tables and of notes. */
    SHADE("#eef2f4"),
    /** Text. */
    INK("#1b2328"),
    /** Text of lesser weight, axes. */
    QUIET("#4b5a63"),
    /** Grid of charts, borders: never the only carrier of a meaning. */
    RULE("#c3ccd1"),
    /** Links, focus, headings. */
    LINK("#0b4f79"),
    /** Before the repair. */
    BEFORE("#8f4a00"),
    /** After the repair, and channel 1. */
    AFTER("#0b5c8f"),
    /** Channel 2, components with a number. */
    SECOND("#6b3a87"),
    /** What lies inside a limit. */
    FIELD("#dbe9f2"),
    /** Edge of a limit. */
    EDGE("#5b7f96"),
    /** A kept limit. */
    PASS("#0b5c8f"),
    /** A limit that is not kept. */
    FAIL("#9b3000"),
    /** Neither. */
    UNDECIDED("#5a4a78");

    private final String hex;

    Palette(String hex) {
        this.hex = hex;
    }

    /** As in a style sheet. */
    String hex() {
        return hex;
    }
}
