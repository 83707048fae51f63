/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.internal.Require;

/**
 * A recording that a suite plays to a meter. Its samples are made as they are needed.
 *
 * @param name name, unique within a suite; letters, digits, hyphens and dots
 * @param channels the signal of each channel
 * @param sampleRateHz sampling rate in Hz
 * @param seconds duration in s
 * @param nominalHz frequency of the test tone at the right speed, Hz; empty for none
 */
public record Recording(
        String name, List<Signal> channels, int sampleRateHz, double seconds, OptionalDouble nominalHz) {
    /**
     * Checks the values.
     *
     * @param name letters, digits, hyphens and dots
     * @param channels at least one
     * @param sampleRateHz above 0
     * @param seconds finite and above 0
     * @param nominalHz any or none
     * @throws IllegalArgumentException if the name has other characters than it may, there are no channels or more
     *     than 64, the rate is below 1 Hz, or the duration is not finite and above 0
     */
    public Recording {
        Require.that(
                name.matches("[a-z0-9][a-z0-9.-]*"),
                "name of the recording is '" + name + "', allowed: lower-case letters, digits, hyphens and dots");
        channels = List.copyOf(channels);
        Require.within("number of channels", channels.size(), 1, 64);
        Require.within("sample rate in Hz", sampleRateHz, 1, Integer.MAX_VALUE);
        Require.positive("duration in s", seconds);
    }

    /**
     * What a meter is told about it.
     *
     * @return rate, channels and nominal frequency
     */
    public RecordingFormat format() {
        return new RecordingFormat(name, sampleRateHz, channels.size(), nominalHz);
    }

    /**
     * Its length.
     *
     * @return number of samples of each channel
     */
    public long frames() {
        return Math.round(seconds * sampleRateHz);
    }

    /**
     * Its samples.
     *
     * @return the samples of each channel
     */
    public List<SampledSignal> samples() {
        return channels.stream()
                .map(channel -> SampledSignal.of(channel, sampleRateHz))
                .toList();
    }
}
