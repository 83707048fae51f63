/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

/**
 * Time constants of a {@link QuasiPeakDetector}, in seconds, each above 0.
 *
 * @param holdAttackSeconds rise of the two peak holds in s
 * @param holdDecaySeconds fall of the two peak holds in s, towards zero
 * @param smoothAttackSeconds rise of the smoothing stage in s
 * @param smoothDecaySeconds fall of the smoothing stage in s, towards zero
 * @param meterSeconds time constant of the indicator in s
 */
public record QuasiPeakConstants(
        double holdAttackSeconds,
        double holdDecaySeconds,
        double smoothAttackSeconds,
        double smoothDecaySeconds,
        double meterSeconds) {
    /**
     * Constants, checked.
     *
     * @param holdAttackSeconds rise of the two peak holds
     * @param holdDecaySeconds fall of the two peak holds
     * @param smoothAttackSeconds rise of the smoothing stage
     * @param smoothDecaySeconds fall of the smoothing stage
     * @param meterSeconds time constant of the indicator
     * @throws IllegalArgumentException if one is not finite and above 0
     */
    public QuasiPeakConstants {
        requirePositive("holdAttackSeconds", holdAttackSeconds);
        requirePositive("holdDecaySeconds", holdDecaySeconds);
        requirePositive("smoothAttackSeconds", smoothAttackSeconds);
        requirePositive("smoothDecaySeconds", smoothDecaySeconds);
        requirePositive("meterSeconds", meterSeconds);
    }

    private static void requirePositive(String name, double seconds) {
        if (!(seconds > 0 && seconds < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(name + " " + seconds + " is not in (0, infinity)");
        }
    }
}
