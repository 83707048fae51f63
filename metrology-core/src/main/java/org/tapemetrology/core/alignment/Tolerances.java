/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import org.tapemetrology.core.internal.Require;

/**
 * How near to its target an alignment has to bring each thing. All are above 0.
 *
 * @param speedPercent mean speed, in %
 * @param azimuthMicroseconds delay between the channels, in microseconds
 * @param azimuthLossDb what a mono machine may lose of its highest level at the azimuth frequency, in dB
 * @param replayLevelDb replay level of each channel, in dB
 * @param replayResponseDb replay response, in dB re the reference frequency
 * @param overBiasDropDb drop of the level beyond its peak, in dB
 * @param recordLevelDb what comes back re what was sent, in dB
 * @param recordResponseDb response over recording and replay, in dB re the reference frequency
 * @param thirdHarmonicPercent third harmonic of the reference level, in %
 */
public record Tolerances(
        double speedPercent,
        double azimuthMicroseconds,
        double azimuthLossDb,
        double replayLevelDb,
        double replayResponseDb,
        double overBiasDropDb,
        double recordLevelDb,
        double recordResponseDb,
        double thirdHarmonicPercent) {

    /**
     * Tolerances, checked.
     *
     * @param speedPercent mean speed
     * @param azimuthMicroseconds delay between the channels
     * @param azimuthLossDb loss of a mono machine
     * @param replayLevelDb replay level
     * @param replayResponseDb replay response
     * @param overBiasDropDb drop beyond the peak
     * @param recordLevelDb record level
     * @param recordResponseDb response over recording and replay
     * @param thirdHarmonicPercent third harmonic
     * @throws IllegalArgumentException if one is not finite and above 0
     */
    public Tolerances {
        Require.positive("speedPercent", speedPercent);
        Require.positive("azimuthMicroseconds", azimuthMicroseconds);
        Require.positive("azimuthLossDb", azimuthLossDb);
        Require.positive("replayLevelDb", replayLevelDb);
        Require.positive("replayResponseDb", replayResponseDb);
        Require.positive("overBiasDropDb", overBiasDropDb);
        Require.positive("recordLevelDb", recordLevelDb);
        Require.positive("recordResponseDb", recordResponseDb);
        Require.positive("thirdHarmonicPercent", thirdHarmonicPercent);
    }

    /**
     * What is asked of a machine in good order where its maker says nothing: common practice, no source.
     *
     * @return 0.5 %, 10 us, 1 dB, 0.5 dB, 2 dB, 1 dB, 1 dB, 3 dB, 3 %
     */
    public static Tolerances commonPractice() {
        return new Tolerances(0.5, 10, 1, 0.5, 2, 1, 1, 3, 3);
    }
}
