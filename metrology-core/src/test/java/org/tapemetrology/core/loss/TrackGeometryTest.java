/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.Confidence;

class TrackGeometryTest {
    private static final Map<String, TrackGeometry> BY_KEY = Map.of(
            "cassette", TrackGeometry.CASSETTE_STEREO,
            "quarter", TrackGeometry.QUARTER_TRACK,
            "edge", TrackGeometry.TWO_TRACK_EDGE,
            "stereo", TrackGeometry.STEREO_2_75);

    /** Computed from the geometry; tolerances are half a printed digit. */
    @ParameterizedTest
    @CsvSource({
        "cassette, 4.76, 5.500, 19.80, 9.09",
        "quarter, 9.525, 10.383, 37.38, 4.82",
        "quarter, 19.05, 5.192, 18.69, 9.63",
        "edge, 19.05, 6.566, 23.64, 7.61",
        "edge, 38.1, 3.283, 11.82, 15.23",
        "stereo, 38.1, 2.672, 9.62, 18.71"
    })
    void delayAndPhasePerArcminuteAreThePrintedTable(
            String key, double speed, double delay, double phase, double halfCycle) {
        TrackGeometry geometry = Objects.requireNonNull(BY_KEY.get(key));
        assertThat(geometry.delayMicroseconds(1, speed)).isCloseTo(delay, within(0.0005 + 1e-9));
        assertThat(geometry.phaseDegrees(1, 10000, speed)).isCloseTo(phase, within(0.005 + 1e-9));
        assertThat(geometry.halfCycleArcminutes(10000, speed)).isCloseTo(halfCycle, within(0.005 + 1e-9));
        assertThat(geometry.angleArcminutes(geometry.delayMicroseconds(-7.3, speed), speed))
                .isCloseTo(-7.3, within(1e-12)); // the inverse, up to rounding
    }

    /**
     * "Azimuth in a Magnetic Tape Recorder" (verified): 300 urad at 10 kHz, edge tracks of 2 mm on 6.3 mm tape, is 45
     * degrees at 95 mm/s and 22 degrees at 190 mm/s. Figures are printed in whole degrees.
     */
    @Test
    void thePublishedPhaseOfThreeHundredMicroradiansComesOut() {
        double arcminutes = 60 * Math.toDegrees(300e-6);
        assertThat(TrackGeometry.TWO_TRACK_NAB.phaseDegrees(arcminutes, 10000, 9.53))
                .isCloseTo(45, within(0.5));
        assertThat(TrackGeometry.TWO_TRACK_NAB.phaseDegrees(arcminutes, 10000, 19.05))
                .isCloseTo(22, within(0.5));
    }

    /** 2 x 0.6 + 0.3 = 1.5 mm (second-hand track widths): the stereo pair fills the mono track. */
    @Test
    void thePairOfTheCassetteFillsItsMonoTrack() {
        TrackGeometry pair = TrackGeometry.CASSETTE_STEREO;
        assertThat(pair.spacingMillimetres().orElseThrow() + pair.trackWidthMillimetres())
                .isCloseTo(TrackGeometry.CASSETTE_MONO.trackWidthMillimetres(), within(1e-12));
        assertThat(TrackGeometry.all())
                .doesNotHaveDuplicates()
                .allSatisfy(geometry -> assertThat(geometry.source()).isNotBlank());
        assertThat(TrackGeometry.QUARTER_TRACK.confidence()).isEqualTo(Confidence.MEMORY);
    }

    @Test
    void addingTheTracksCostsWhatTheirPhaseCosts() {
        TrackGeometry pair = TrackGeometry.CASSETTE_STEREO;
        double half = pair.halfCycleArcminutes(10000, 4.76);
        assertThat(pair.sumLossDb(half / 2, 10000, 4.76) - pair.azimuthLossDb(half / 2, 10000, 4.76))
                .isCloseTo(10 * Math.log10(2), within(0.01)); // 90 degrees: half the power; tan is nearly linear
        assertThat(pair.sumLossDb(half, 10000, 4.76)).isGreaterThan(200); // opposite phase cancels
        assertThat(pair.azimuthLossDb(1, 10000, 4.76)).isCloseTo(0.019, within(0.0005));
    }

    @Test
    void aSingleTrackHasNoDelay() {
        assertThatThrownBy(() -> TrackGeometry.FULL_TRACK.delayMicroseconds(1, 38.1))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("single track");
        assertThatThrownBy(() -> TrackGeometry.CASSETTE_STEREO.angleArcminutes(Double.NaN, 4.76))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("delayMicroseconds NaN");
    }
}
