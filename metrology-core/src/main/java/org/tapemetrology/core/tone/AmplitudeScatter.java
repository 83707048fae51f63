/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import org.tapemetrology.core.quantity.StandardUncertainty;

/** What the scatter of a power is to the amplitude. Near zero the root is no straight line: the wider side counts. */
final class AmplitudeScatter {
    private AmplitudeScatter() {}

    /**
     * Uncertainty of an amplitude in %.
     *
     * @param ratio power re that of the reference, not negative
     * @param uncertainty standard uncertainty of the ratio
     * @param degreesOfFreedom its degrees of freedom
     */
    static StandardUncertainty percent(double ratio, double uncertainty, double degreesOfFreedom) {
        if (uncertainty == 0) {
            return new StandardUncertainty(0, degreesOfFreedom);
        }
        double spread = new StandardUncertainty(uncertainty, degreesOfFreedom)
                .expanded()
                .halfWidth();
        double upper = Math.sqrt(ratio + spread);
        double lower = Math.sqrt(Math.max(0, ratio - spread));
        // Far from zero both sides are alike.
        double halfWidth = ratio > spread ? (upper - lower) / 2 : Math.max(upper - Math.sqrt(ratio), Math.sqrt(ratio));
        return new StandardUncertainty(100 * halfWidth * uncertainty / spread, degreesOfFreedom);
    }
}
