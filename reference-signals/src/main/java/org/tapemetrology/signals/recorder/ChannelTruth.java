/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.Collections;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * The truth of one channel as it is now. Responses go from a frequency in Hz to a level in dB re the reference frequency.
 *
 * <p>Made by the machine; its numbers are not checked.
 *
 * @param channel 1 or 2
 * @param replayLevelDb output of a tape of the machine's reference fluxivity at the reference frequency, re the level that
 *     it should have
 * @param replayResponseDb response of a tape recorded ideally, in dB
 * @param recordReplayLevelDb output re input of a recording at reference level and frequency, in dB
 * @param recordReplayResponseDb response of the machine's own recording at a level far below saturation
 * @param biasDb bias current re the one that the tape wants, in dB
 * @param thirdHarmonicPercent third harmonic of a recording at reference level and frequency in %, with that of the
 *     amplifier
 * @param maximumOutputDb output level with 3 % of third harmonic, re the level of the reference fluxivity; empty if it is
 *     never reached
 */
public record ChannelTruth(
        int channel,
        double replayLevelDb,
        SortedMap<Double, Double> replayResponseDb,
        double recordReplayLevelDb,
        SortedMap<Double, Double> recordReplayResponseDb,
        double biasDb,
        double thirdHarmonicPercent,
        OptionalDouble maximumOutputDb) {
    /**
     * Copies the tables.
     *
     * @param channel 1 or 2
     * @param replayLevelDb any
     * @param replayResponseDb any
     * @param recordReplayLevelDb any
     * @param recordReplayResponseDb any
     * @param biasDb any
     * @param thirdHarmonicPercent any
     * @param maximumOutputDb any or none
     */
    public ChannelTruth {
        replayResponseDb = Collections.unmodifiableSortedMap(new TreeMap<>(replayResponseDb));
        recordReplayResponseDb = Collections.unmodifiableSortedMap(new TreeMap<>(recordReplayResponseDb));
    }
}
