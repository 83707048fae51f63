/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.List;

/** What whoever goes on working on the machine is told. */
public final class Cautions {
    private static final List<String> SENTENCES = List.of(
            "Isolate the machine from the mains and let its capacitors discharge before it is opened. Work on a live chassis only if qualified, through an isolating transformer or residual-current protection.",
            "Keep test tones low into loudspeakers and headphones.",
            "Protect the reference tape: demagnetised path, recording disabled, tape handling tried with a scrap tape first.",
            "Keep demagnetisers away from tapes, watches and pacemakers.",
            "Ventilate where solvents are used, and keep them away from flames and from parts that they attack.",
            "Local codes, the maker's service instructions and licensed practice come first. This report says what was measured; it does not say that the machine is electrically safe.");

    private Cautions() {}

    /**
     * The cautions.
     *
     * @return sentences in order
     */
    public static List<String> sentences() {
        return SENTENCES;
    }
}
