/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.List;

/**
 * The truth of a machine as it is now, in closed form, without the flaws of tapes along their length.
 *
 * <p>Made by the machine; its numbers are not checked.
 *
 * @param speedErrorPercent mean speed error at the beginning of a pass in %
 * @param driftPercentPerMinute change of the speed along the tape, in % a minute
 * @param parts rotating parts with the rates that they have now
 * @param randomFlutterPercent RMS of the random flutter, in %
 * @param scrapePercent RMS of the scrape flutter, in %
 * @param replayAzimuthArcmin angle of the replay head against an ideal recording, in minutes of arc
 * @param replayAzimuthDelayMicroseconds delay between the channels of an ideal recording, positive when channel 2 lags; s
 *     tan(&alpha;)/v
 * @param recordAzimuthArcmin angle of the record head in minutes of arc, which with two heads is the replay head
 * @param recordReplayDelayMicroseconds delay between the channels of the machine's own recording
 * @param channels truth of each channel
 * @param unreachable ids of the trimmers that cannot bring their error to 0
 */
public record RecorderTruth(
        double speedErrorPercent,
        double driftPercentPerMinute,
        List<RotatingPart> parts,
        double randomFlutterPercent,
        double scrapePercent,
        double replayAzimuthArcmin,
        double replayAzimuthDelayMicroseconds,
        double recordAzimuthArcmin,
        double recordReplayDelayMicroseconds,
        List<ChannelTruth> channels,
        List<String> unreachable) {
    /**
     * Copies the lists.
     *
     * @param speedErrorPercent any
     * @param driftPercentPerMinute any
     * @param parts any number
     * @param randomFlutterPercent any
     * @param scrapePercent any
     * @param replayAzimuthArcmin any
     * @param replayAzimuthDelayMicroseconds any
     * @param recordAzimuthArcmin any
     * @param recordReplayDelayMicroseconds any
     * @param channels one or two
     * @param unreachable any number
     */
    public RecorderTruth {
        parts = List.copyOf(parts);
        channels = List.copyOf(channels);
        unreachable = List.copyOf(unreachable);
    }

    /**
     * Truth of a channel.
     *
     * @param channel 1 or 2
     * @return its truth
     */
    public ChannelTruth channel(int channel) {
        return channels.get(channel - 1);
    }
}
