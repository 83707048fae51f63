/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

/** How the short-circuit flux that a figure in nWb/m states was measured. */
public enum FluxConvention {
    /** With a high-efficiency head on alternating flux (AES7), the way of today. */
    ALTERNATING(1),
    /**
     * The calibration of the 1950s by transfer to direct flux (DIN 45520): tapes marked 320 nWb/m measure 288 nWb/m the
     * alternating way, 0.92 dB less (verified in the JAES paper on tape flux measurement; the two methods agree within
     * 1 % today).
     */
    OLD_DIRECT(288.0 / 320.0);

    private final double alternatingPerStated;

    FluxConvention(double alternatingPerStated) {
        this.alternatingPerStated = alternatingPerStated;
    }

    /**
     * What the alternating way measures where this convention states 1.
     *
     * @return the ratio
     */
    public double alternatingPerStated() {
        return alternatingPerStated;
    }
}
