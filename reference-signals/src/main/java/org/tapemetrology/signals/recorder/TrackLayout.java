/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import org.tapemetrology.signals.internal.Require;

/**
 * Tracks of a format in one direction of play.
 *
 * @param channels 1 or 2
 * @param trackWidthMm width of one track in mm
 * @param trackSpacingMm from centre to centre of the two tracks in mm; 0 with one
 */
public record TrackLayout(int channels, double trackWidthMm, double trackSpacingMm) {
    /** Compact cassette, two channels: 0.6 mm tracks, 0.3 mm apart (encyclopaedia, second-hand). */
    public static final TrackLayout CASSETTE_STEREO = new TrackLayout(2, 0.6, 0.9);

    /** Compact cassette, one channel: 1.5 mm track (encyclopaedia, second-hand). */
    public static final TrackLayout CASSETTE_MONO = new TrackLayout(1, 1.5, 0);

    /** 6.3 mm tape, tracks 1 and 3 of four: 1.0 mm tracks, 3.4 mm between centres (spacing from memory). */
    public static final TrackLayout QUARTER_TRACK = new TrackLayout(2, 1.0, 3.4);

    /** 6.3 mm tape, two tracks of 2.75 mm with a guard band of 0.75 mm (second-hand). */
    public static final TrackLayout TWO_TRACK = new TrackLayout(2, 2.75, 3.5);

    /**
     * Checks the values.
     *
     * @param channels 1 or 2
     * @param trackWidthMm finite and above 0
     * @param trackSpacingMm finite; at least the width with two channels, 0 with one
     * @throws IllegalArgumentException if there are not 1 or 2 channels, the width is not finite and above 0, or the
     *     distance does not fit two tracks side by side
     */
    public TrackLayout {
        Require.within("number of channels", channels, 1, 2);
        Require.positive("track width in mm", trackWidthMm);
        Require.within("track spacing in mm", trackSpacingMm, channels == 1 ? 0 : trackWidthMm, channels == 1 ? 0 : 50);
    }

    /** Distance along the tape between the two gaps of a head that stands askew. */
    double gapOffsetMm(double arcmin) {
        return trackSpacingMm * StrictMath.tan(radians(arcmin));
    }

    static double radians(double arcmin) {
        return StrictMath.toRadians(arcmin / 60);
    }
}
