/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.transport;

import java.util.OptionalDouble;
import org.tapemetrology.core.internal.Require;

/**
 * What a machine reads of its own recording at the rate of one part: the flutter that it recorded and the flutter that it
 * adds on replay, at rates that differ by a trace, since the two passes are never at quite the same speed. The sum beats:
 * its amplitude swings between the difference and the sum of both.
 *
 * @param recordedPeak peak relative deviation that the recording holds
 * @param recordedHz its rate on replay in Hz
 * @param replayedPeak peak relative deviation that the replay adds
 * @param replayedHz its rate in Hz
 */
public record ReplayBeat(double recordedPeak, double recordedHz, double replayedPeak, double replayedHz) {
    /**
     * A beat, checked.
     *
     * @param recordedPeak not below 0
     * @param recordedHz above 0
     * @param replayedPeak not below 0
     * @param replayedHz above 0
     * @throws IllegalArgumentException if a deviation is not finite or below 0, or a rate is not finite and above 0
     */
    public ReplayBeat {
        Require.notNegative("recordedPeak", recordedPeak);
        Require.positive("recordedHz", recordedHz);
        Require.notNegative("replayedPeak", replayedPeak);
        Require.positive("replayedHz", replayedHz);
    }

    /**
     * Least amplitude.
     *
     * @return peak relative deviation
     */
    public double leastPeak() {
        return Math.abs(recordedPeak - replayedPeak);
    }

    /**
     * Greatest amplitude.
     *
     * @return peak relative deviation
     */
    public double greatestPeak() {
        return recordedPeak + replayedPeak;
    }

    /**
     * RMS value over whole beats: the powers add.
     *
     * @return RMS relative deviation
     */
    public double rms() {
        return Math.sqrt((recordedPeak * recordedPeak + replayedPeak * replayedPeak) / 2);
    }

    /**
     * Time from one greatest amplitude to the next.
     *
     * @return s, empty where the rates are equal and the amplitude stays
     */
    public OptionalDouble periodSeconds() {
        double difference = Math.abs(recordedHz - replayedHz);
        return difference == 0 ? OptionalDouble.empty() : OptionalDouble.of(1 / difference);
    }

    /**
     * The value that a reading stands for whose recording is shorter than the beat: record and replay several times and
     * take the average of the readings (IEC 60386:1972, 3.4: that it is to be recorded and replayed several times is
     * second-hand, that the readings are averaged is from memory).
     *
     * @param readings readings of each pass, at least one
     * @return their average
     */
    public static double combined(double... readings) {
        if (readings.length == 0) {
            throw new IllegalArgumentException("no reading to combine");
        }
        double sum = 0;
        for (double reading : readings) {
            sum += Require.notNegative("reading", reading);
        }
        return sum / readings.length;
    }
}
