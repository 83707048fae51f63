/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Edges and rates by the rules that the contributors' guide states under "Demodulator", worked out by hand. */
class CarrierBandTest {
    /**
     * 0.48 and 0.80 of the distance to the nearest thing to be kept out, zero or the image at twice the tone, at most 1.2 and
     * 2.5 kHz; from 10 kHz up at most 5.3 and 9.9 kHz.
     */
    @ParameterizedTest
    @CsvSource({
        "48000, 3150, 1200, 2772, 4000",
        "192000, 3300, 1200, 2800, 4000",
        "44100, 3150, 1200, 2772, 4410",
        "8000, 3150, 816, 1360, 4000",
        "48000, 1000, 480, 800, 4000",
        "48000, 2499, 1199.52, 1999.2, 4000",
        "48000, 2500, 1200, 2200, 4000",
        "48000, 315, 151.2, 252, 4000",
        "48000, 150, 72, 120, 4000",
        "48000, 100, 48, 80, 1000",
        "44100, 12500, 5300, 9900, 22050",
        "96000, 10000, 4800, 8000, 16000",
        "48000, 9999, 1200, 2800, 4000",
        "32000, 12500, 3360, 5600, 16000"
    })
    void edgesAndRate(double sampleRate, double tone, double pass, double stop, double rate) {
        CarrierBand band = CarrierBand.of(sampleRate, tone);
        assertThat(band.passHz()).isCloseTo(pass, within(1e-9));
        assertThat(band.stopHz()).isCloseTo(stop, within(1e-9));
        assertThat(band.rateHz()).isCloseTo(rate, within(1e-9));
    }

    /** Edges nearer to each other than 800 Hz take a second stage, which halves the rate. */
    @Test
    void nearEdgesTakeTwoStages() {
        assertThat(CarrierBand.of(48000, 2500).secondFactor()).isEqualTo(1); // 1000 Hz, see above
        assertThat(CarrierBand.of(48000, 2499).secondFactor()).isEqualTo(2);
        assertThat(CarrierBand.of(48000, 2499).firstRateHz()).isEqualTo(8000);
    }

    /** The rate is halved before the tone is cut out while tone and stop edge stay below 30 % of what is left. */
    @Test
    void theRateIsHalvedWhileAShortFilterServes() {
        assertThat(CarrierBand.of(192_000, 3150).halvings()).isEqualTo(3); // 5922 Hz, of 24 kHz
        assertThat(CarrierBand.of(48_000, 3150).halvings()).isEqualTo(1);
        assertThat(CarrierBand.of(48_000, 4400).halvings()).isEqualTo(1); // 7200 Hz, 30 % of 24 kHz
        assertThat(CarrierBand.of(48_000, 4401).halvings()).isZero();
        assertThat(CarrierBand.of(44_100, 3400).halvings()).isEqualTo(1); // 6200 Hz of 22.05 kHz
        assertThat(CarrierBand.of(44_100, 1000).halvings()).isZero(); // five to one cannot be halved
        assertThat(CarrierBand.of(8000, 3150).halvings()).isZero();
        CarrierBand band = CarrierBand.of(192_000, 3150);
        assertThat(band.halvedRateHz(band.halvings())).isEqualTo(24_000);
    }

    /** A window of 5 ms, of a low tone two periods of the pass edge. */
    @Test
    void windowsAndFlatness() {
        assertThat(CarrierBand.of(48_000, 150).windowSeconds()).isEqualTo(0.005);
        assertThat(CarrierBand.of(48_000, 100).windowSeconds()).isCloseTo(2 / 48.0, within(1e-12));
        // A tone may wander by 2 per cent.
        assertThat(CarrierBand.of(48_000, 3150).flatDeviationHz()).isCloseTo(1200 - 63, within(1e-9));
    }

    @Test
    void tonesFrom17HertzToBelowHalfTheRateAreFollowed() {
        for (double bad : new double[] {16.9, 3925.1, Double.NaN}) {
            assertThatThrownBy(() -> CarrierBand.of(8000, bad))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("toneHz " + bad + " is not in 17.0 to 3925.0");
        }
        assertThatCode(() -> CarrierBand.of(8000, 17)).doesNotThrowAnyException();
        assertThatCode(() -> CarrierBand.of(8000, 3925)).doesNotThrowAnyException();
    }
}
