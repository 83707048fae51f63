/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

/**
 * Time constants of one stage of a peak detector.
 *
 * @param attackSeconds time constant towards a higher input, in seconds, above 0
 * @param decaySeconds time constant towards a lower input, in seconds, above 0
 */
public record Ballistics(double attackSeconds, double decaySeconds) {

    /**
     * Time constants, checked.
     *
     * @param attackSeconds time constant towards a higher input
     * @param decaySeconds time constant towards a lower input
     * @throws IllegalArgumentException if one is not finite and above 0
     */
    public Ballistics {
        if (!(attackSeconds > 0 && attackSeconds < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("attackSeconds " + attackSeconds + " is not in (0, infinity)");
        }
        if (!(decaySeconds > 0 && decaySeconds < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("decaySeconds " + decaySeconds + " is not in (0, infinity)");
        }
    }
}
