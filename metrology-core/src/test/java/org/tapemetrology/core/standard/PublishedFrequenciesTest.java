/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.filter.SecondOrderSections;

/** Carriers and third-octave bands by the figures that the standards print. */
class PublishedFrequenciesTest {
    /** IEC 61260-1:2014, clause 5 and annex (from memory): exact mid-band frequencies and edges, base ten. */
    @ParameterizedTest
    @CsvSource({
        "0, 1000, 891.251, 1122.018",
        "1, 1258.925, 1122.018, 1412.538",
        "-10, 100, 89.125, 112.202",
        "13, 19952.623, 17782.794, 22387.211"
    })
    void bandsOfAThirdOctave(int band, double middle, double lower, double upper) {
        // Half a unit of the last digit.
        assertThat(Iec61260Edition2014.midBandHz(band)).isCloseTo(middle, within(6e-4));
        assertThat(Iec61260Edition2014.lowerEdgeHz(band)).isCloseTo(lower, within(6e-4));
        assertThat(Iec61260Edition2014.upperEdgeHz(band)).isCloseTo(upper, within(6e-4));
    }

    /** Butterworth: half the power at both edges, within the digits of the edges. */
    @Test
    void aBandFilterHasHalfThePowerAtItsEdges() {
        SecondOrderSections filter = Iec61260Edition2014.bandFilter(0, 48_000);
        assertThat(20 * Math.log10(filter.magnitude(891.251))).isCloseTo(-3.0103, within(1e-3));
        assertThat(20 * Math.log10(filter.magnitude(1122.018))).isCloseTo(-3.0103, within(1e-3));
        assertThat(20 * Math.log10(filter.magnitude(1000))).isCloseTo(0, within(1e-3));
        assertThat(Iec61260Edition2014.bandFilter(13, 48_000).magnitude(19_952)).isCloseTo(1, within(0.01));
        assertThatThrownBy(() -> Iec61260Edition2014.bandFilter(13, 44_100))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("band 13 ends at 22387");
    }

    /** 3000 and 3150 Hz (IEC 60386, the NAB way) and 12.5 kHz; between two the nearer by ratio, beyond 15 % none. */
    @ParameterizedTest
    @CsvSource({
        "3149, 3150",
        "3001, 3000",
        "3072, 3000",
        "3074, 3150",
        "2551, 3000",
        "2549, 0",
        "3622, 3150",
        "3623, 0",
        "12500, 12500",
        "14374, 12500",
        "14376, 0",
        "10626, 12500",
        "10624, 0",
        "1000, 0"
    })
    void theNearestCarrier(double tone, double carrier) {
        assertThat(PublishedCarriers.nearest(tone).orElse(0)).isEqualTo(carrier);
    }
}
