/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Confidence;

/**
 * Where the tracks lie on the tape, and what an azimuth error does there: a delay {@code s tan(alpha)/v} in us between two
 * tracks whose centres are s apart, and a loss of level on each. Angles, delays and phases keep their sign: positive
 * where channel 2 lags channel 1. Immutable.
 *
 * @param name usual name
 * @param trackWidthMillimetres width of one track in mm
 * @param spacingMillimetres distance between the centres of the two tracks of a pair in mm, empty for a single track
 * @param source where it is published
 * @param confidence how well it is known
 */
public record TrackGeometry(
        String name,
        double trackWidthMillimetres,
        OptionalDouble spacingMillimetres,
        String source,
        Confidence confidence) {
    private static final String CASSETTE_TRACKS = "encyclopaedia article on the compact cassette";

    /** Cassette, stereo: two tracks of 0.6 mm, 0.3 mm apart. */
    public static final TrackGeometry CASSETTE_STEREO =
            pair("cassette, stereo", 0.6, 0.9, CASSETTE_TRACKS, Confidence.SECOND_HAND);
    /** Cassette, mono: one track of 1.5 mm. */
    public static final TrackGeometry CASSETTE_MONO =
            single("cassette, mono", 1.5, CASSETTE_TRACKS, Confidence.SECOND_HAND);
    /** Quarter-track reel, stereo on tracks 1 and 3. */
    public static final TrackGeometry QUARTER_TRACK =
            pair("quarter-track, 1 and 3", 1.0, 3.4, "common practice, no source", Confidence.MEMORY);
    /** Two-track reel with tracks of 2.1 mm at the edges of the tape (NAB). */
    public static final TrackGeometry TWO_TRACK_NAB = pair(
            "two-track, NAB",
            2.1,
            3.96,
            "NAB; spacing by the phase figures of \"Azimuth in a Magnetic Tape Recorder\"",
            Confidence.COMPUTED);
    /** Two-track reel, edge tracks of 2 mm on 6.3 mm tape. */
    public static final TrackGeometry TWO_TRACK_EDGE =
            pair("two-track, edge tracks", 2.0, 4.3, "6.3 mm less the width of a track", Confidence.COMPUTED);
    /** Two-track reel for stereo: tracks of 2.75 mm with 0.75 mm between them. */
    public static final TrackGeometry STEREO_2_75 = pair(
            "stereo, 2.75 mm",
            2.75,
            3.5,
            "head formats as listed by the trade; 2 x 2.75 + 0.75 mm = 6.25 mm",
            Confidence.SECOND_HAND);
    /** Full-track reel. */
    public static final TrackGeometry FULL_TRACK =
            single("full track", 6.25, "common practice, no source", Confidence.MEMORY);

    private static final List<TrackGeometry> ALL = List.of(
            CASSETTE_STEREO, CASSETTE_MONO, QUARTER_TRACK, TWO_TRACK_NAB, TWO_TRACK_EDGE, STEREO_2_75, FULL_TRACK);

    /**
     * A geometry, checked.
     *
     * @param name usual name
     * @param trackWidthMillimetres width of one track in mm, above 0
     * @param spacingMillimetres distance between track centres in mm, above 0 where there is one
     * @param source where it is published
     * @param confidence how well it is known
     * @throws IllegalArgumentException if a width or distance is not finite and above 0
     */
    public TrackGeometry {
        Require.positive("trackWidthMillimetres", trackWidthMillimetres);
        if (spacingMillimetres.isPresent()) {
            Require.positive("spacingMillimetres", spacingMillimetres.getAsDouble());
        }
    }

    /**
     * A pair of tracks.
     *
     * @param name usual name
     * @param trackWidthMillimetres width of one track in mm
     * @param spacingMillimetres distance between track centres in mm
     * @param source where it is published
     * @param confidence how well it is known
     * @return the geometry
     */
    public static TrackGeometry pair(
            String name,
            double trackWidthMillimetres,
            double spacingMillimetres,
            String source,
            Confidence confidence) {
        return new TrackGeometry(
                name, trackWidthMillimetres, OptionalDouble.of(spacingMillimetres), source, confidence);
    }

    /**
     * A single track.
     *
     * @param name usual name
     * @param trackWidthMillimetres its width in mm
     * @param source where it is published
     * @param confidence how well it is known
     * @return the geometry
     */
    public static TrackGeometry single(
            String name, double trackWidthMillimetres, String source, Confidence confidence) {
        return new TrackGeometry(name, trackWidthMillimetres, OptionalDouble.empty(), source, confidence);
    }

    /**
     * The geometries that this library knows.
     *
     * @return geometries
     */
    public static List<TrackGeometry> all() {
        return ALL;
    }

    /**
     * Delay between the two tracks.
     *
     * @param angleArcminutes azimuth error in minutes of arc
     * @param speedCmPerSecond tape speed in cm/s
     * @return delay in us
     */
    public double delayMicroseconds(double angleArcminutes, double speedCmPerSecond) {
        return millimetres()
                * 1e5
                * ReplayLoss.tanOfArcminutes(angleArcminutes)
                / Require.positive("speedCmPerSecond", speedCmPerSecond);
    }

    /**
     * Azimuth error that makes a delay.
     *
     * @param delayMicroseconds delay in us
     * @param speedCmPerSecond tape speed in cm/s
     * @return angle in minutes of arc
     */
    public double angleArcminutes(double delayMicroseconds, double speedCmPerSecond) {
        if (!Double.isFinite(delayMicroseconds)) {
            throw new IllegalArgumentException("delayMicroseconds " + delayMicroseconds + " is not finite");
        }
        return ReplayLoss.arcminutesOfTan(
                delayMicroseconds * Require.positive("speedCmPerSecond", speedCmPerSecond) / (millimetres() * 1e5));
    }

    /**
     * Phase between the two tracks, {@code 360 f dt}, not folded.
     *
     * @param angleArcminutes azimuth error in minutes of arc
     * @param frequencyHz frequency in Hz
     * @param speedCmPerSecond tape speed in cm/s
     * @return phase in degrees
     */
    public double phaseDegrees(double angleArcminutes, double frequencyHz, double speedCmPerSecond) {
        return 360e-6
                * Require.positive("frequencyHz", frequencyHz)
                * delayMicroseconds(angleArcminutes, speedCmPerSecond);
    }

    /**
     * Azimuth error from which a single tone shows the wrong delay: half a cycle between the tracks.
     *
     * @param frequencyHz frequency in Hz
     * @param speedCmPerSecond tape speed in cm/s
     * @return angle in minutes of arc
     */
    public double halfCycleArcminutes(double frequencyHz, double speedCmPerSecond) {
        return angleArcminutes(0.5e6 / Require.positive("frequencyHz", frequencyHz), speedCmPerSecond);
    }

    /**
     * Level that an azimuth error costs on each track.
     *
     * @param angleArcminutes azimuth error in minutes of arc
     * @param frequencyHz frequency in Hz
     * @param speedCmPerSecond tape speed in cm/s
     * @return loss in dB
     */
    public double azimuthLossDb(double angleArcminutes, double frequencyHz, double speedCmPerSecond) {
        return ReplayLoss.azimuthDb(
                angleArcminutes,
                trackWidthMillimetres,
                ReplayLoss.wavelengthMicrometres(frequencyHz, speedCmPerSecond));
    }

    /**
     * Level that an azimuth error costs where the two tracks are added to one channel: the loss of each track and, on
     * top, {@code -20 lg|cos(phase/2)|}.
     *
     * @param angleArcminutes azimuth error in minutes of arc
     * @param frequencyHz frequency in Hz
     * @param speedCmPerSecond tape speed in cm/s
     * @return loss in dB
     */
    public double sumLossDb(double angleArcminutes, double frequencyHz, double speedCmPerSecond) {
        double half = StrictMath.toRadians(phaseDegrees(angleArcminutes, frequencyHz, speedCmPerSecond)) / 2;
        return azimuthLossDb(angleArcminutes, frequencyHz, speedCmPerSecond)
                - 20 * StrictMath.log10(StrictMath.abs(StrictMath.cos(half)));
    }

    private double millimetres() {
        if (spacingMillimetres.isEmpty()) {
            throw new IllegalStateException(name + " is a single track: there is no delay between tracks");
        }
        return spacingMillimetres.getAsDouble();
    }
}
