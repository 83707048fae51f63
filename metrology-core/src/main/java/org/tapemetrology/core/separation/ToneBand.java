/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import org.tapemetrology.core.tone.FrameSpectrum;

/** The narrow band by which a tone and its residue after erasure are read alike, so that both lose the same of flutter. */
final class ToneBand {
    /** Flutter and drift that the band holds, of the tone's frequency. */
    private static final double SPREAD = 0.005;

    private ToneBand() {}

    /** Samples of a frame: about a third of a second. */
    static int frameLength(double rateHz) {
        return Integer.highestOneBit((int) (0.4 * rateHz));
    }

    /** Half the width of the band: the main lobe of the window and the spread of the tone. */
    static double halfHz(double toneHz, double binHz) {
        return (FrameSpectrum.MAIN_LOBE_BINS + 1) * binHz + SPREAD * toneHz;
    }
}
