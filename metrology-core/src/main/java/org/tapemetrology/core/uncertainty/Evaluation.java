/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

/** How a component of uncertainty was found (JCGM 100:2008, 2.3.2 and 2.3.3). */
public enum Evaluation {
    /** From the scatter of observations. */
    TYPE_A("A"),
    /** By other means: certificate, specification, experience. */
    TYPE_B("B");

    private final String id;

    Evaluation(String id) {
        this.id = id;
    }

    /**
     * The letter for this evaluation in a budget.
     *
     * @return the letter
     */
    public String id() {
        return id;
    }
}
