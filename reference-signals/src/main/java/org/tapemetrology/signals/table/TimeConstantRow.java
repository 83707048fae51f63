/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import java.util.OptionalDouble;

/**
 * The time constants of the recorded flux at a tape speed.
 *
 * <p>Read by {@link PublishedTables}, which refuses what is no number; a row itself is not checked.
 *
 * @param speedCmPerSecond nominal tape speed in cm/s
 * @param designation standards or use that the row holds for
 * @param bassMicroseconds longer time constant in us; empty where the flux has no bass lift
 * @param trebleMicroseconds shorter time constant in us
 * @param confidence how sure the time constants are
 */
public record TimeConstantRow(
        double speedCmPerSecond,
        String designation,
        OptionalDouble bassMicroseconds,
        double trebleMicroseconds,
        Confidence confidence) {

    /**
     * Level of the recorded short-circuit flux: 10 lg(1 + 1/(2&pi; f t1)&sup2;) - 10 lg(1 + (2&pi; f t2)&sup2;), t1 the
     * longer and t2 the shorter time constant (the usual form of IEC 60094-1, clause 15; from memory).
     *
     * @param frequencyHz frequency, above 0
     * @return the level in dB re the flux without equalisation
     */
    public double fluxDb(double frequencyHz) {
        double angular = 2 * Math.PI * frequencyHz;
        double treble = angular * trebleMicroseconds * 1e-6;
        double power = 1 / (1 + treble * treble);
        if (bassMicroseconds.isPresent()) {
            double bass = angular * bassMicroseconds.getAsDouble() * 1e-6;
            power *= 1 + 1 / (bass * bass);
        }
        return 10 * StrictMath.log10(power);
    }
}
