/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Worked examples at 4.76 cm/s and azimuth tables: computed from the cited formulas; tolerances are half a printed digit. */
class ReplayLossTest {
    private static final double THREE_DIGITS = 0.0005 + 1e-9;

    @ParameterizedTest
    @CsvSource({
        "1000, 47.600, 0.287, 1.147, 0.009, 0.011, 2.709",
        "6300, 7.556, 1.806, 7.223, 0.363, 0.449, 12.515",
        "10000, 4.760, 2.866, 11.465, 0.928, 1.149, 16.403",
        "16000, 2.975, 4.586, 18.345, 2.463, 3.081, 20.473"
    })
    void lossesOfTheCassetteAreThePrintedTable(
            double frequencyHz,
            double lambda,
            double spacingQuarter,
            double spacingOne,
            double gap,
            double effectiveGap,
            double thickness) {
        double wavelength = ReplayLoss.wavelengthMicrometres(frequencyHz, 4.76);
        assertThat(wavelength).isCloseTo(lambda, within(THREE_DIGITS));
        assertThat(ReplayLoss.spacingDb(0.25, wavelength)).isCloseTo(spacingQuarter, within(THREE_DIGITS));
        assertThat(ReplayLoss.spacingDb(1, wavelength)).isCloseTo(spacingOne, within(THREE_DIGITS));
        assertThat(ReplayLoss.gapDb(1.2, wavelength)).isCloseTo(gap, within(THREE_DIGITS));
        assertThat(ReplayLoss.effectiveGapDb(1.2, wavelength)).isCloseTo(effectiveGap, within(THREE_DIGITS));
        assertThat(ReplayLoss.thicknessDb(5, wavelength)).isCloseTo(thickness, within(THREE_DIGITS));
    }

    @ParameterizedTest
    @CsvSource({
        "0.6, 4.76, 0.019 0.077 0.174 0.486 0.703 2.014 4.858, 12.08, 27.27",
        "1.5, 4.76, 0.120 0.486 1.109 3.241 4.858 20.93 13.40, 4.83, 10.91",
        "1.0, 9.525, 0.013 0.053 0.120 0.336 0.485 1.376 3.238, 14.50, 32.74",
        "1.0, 19.05, 0.003 0.013 0.030 0.083 0.120 0.336 0.763, 29.01, 65.48",
        "2.0, 19.05, 0.013 0.053 0.120 0.336 0.485 1.376 3.238, 14.50, 32.74",
        "2.0, 38.1, 0.003 0.013 0.030 0.083 0.120 0.336 0.763, 29.01, 65.48",
        "2.75, 38.1, 0.006 0.025 0.057 0.158 0.228 0.639 1.467, 21.10, 47.63"
    })
    void azimuthLossAt10KilohertzIsThePrintedTable(
            double widthMm, double speed, String losses, double halfPower, double firstNull) {
        double wavelength = ReplayLoss.wavelengthMicrometres(10000, speed);
        double[] angles = {1, 2, 3, 5, 6, 10, 15};
        String[] printed = losses.split(" ", -1);
        for (int i = 0; i < angles.length; i++) {
            int decimals = printed[i].length() - printed[i].indexOf('.') - 1;
            assertThat(ReplayLoss.azimuthDb(angles[i], widthMm, wavelength))
                    .as("%s arcmin", angles[i])
                    .isCloseTo(Double.parseDouble(printed[i]), within(0.5 * Math.pow(10, -decimals) + 1e-9));
            assertThat(ReplayLoss.azimuthDb(-angles[i], widthMm, wavelength))
                    .isEqualTo(ReplayLoss.azimuthDb(angles[i], widthMm, wavelength));
        }
        double angle = ReplayLoss.halfPowerAzimuthArcminutes(widthMm, wavelength);
        assertThat(angle).isCloseTo(halfPower, within(0.005 + 1e-9));
        assertThat(ReplayLoss.azimuthDb(angle, widthMm, wavelength))
                .isCloseTo(10 * Math.log10(2), within(1e-9)); // the definition; rounding only
        double nullAngle = ReplayLoss.firstAzimuthNullArcminutes(widthMm, wavelength);
        assertThat(nullAngle).isCloseTo(firstNull, within(0.005 + 1e-9));
        assertThat(ReplayLoss.azimuthDb(nullAngle, widthMm, wavelength))
                .isGreaterThan(200); // a null, up to the rounding of the sine
    }

    /** Second-hand (Mallinson, "The Foundations of Magnetic Recording", pp. 95-96): null at about 1.12 optical gaps. */
    @Test
    void theFirstGapNullLiesWhereTheHandbookPutsIt() {
        double wavelength = ReplayLoss.firstGapNullMicrometres(1.2);
        assertThat(wavelength / 1.2).isCloseTo(1.12, within(0.015)); // "about": 1.11 and 1.12 are both quoted
        assertThat(ReplayLoss.effectiveGapDb(1.2, wavelength)).isGreaterThan(200);
        assertThat(ReplayLoss.gapDb(1.2, wavelength)).isLessThan(30); // the simple formula has its null elsewhere
    }

    /** Wallace's constant (computed), and the slope of the thickness loss (verified: 6 dB per octave at most). */
    @Test
    void limitsOfTheFormulas() {
        assertThat(ReplayLoss.spacingDb(1, 1)).isCloseTo(54.575, within(THREE_DIGITS));
        assertThat(ReplayLoss.thicknessDb(100, 1) - ReplayLoss.thicknessDb(50, 1))
                .isCloseTo(20 * Math.log10(2), within(1e-9)); // e^-314 is nothing
        assertThat(ReplayLoss.thicknessDb(0, 1)).isZero();
        assertThat(ReplayLoss.gapDb(0, 1)).isZero();
    }

    @Test
    void badInputIsNamed() {
        assertThatThrownBy(() -> ReplayLoss.spacingDb(-1, 5)).hasMessageContaining("spacingMicrometres -1.0");
        assertThatThrownBy(() -> ReplayLoss.gapDb(1, 0)).hasMessageContaining("wavelengthMicrometres 0.0");
        assertThatThrownBy(() -> ReplayLoss.azimuthDb(1e6, 1, 5)).hasMessageContaining("angleArcminutes 1000000.0");
        assertThatThrownBy(() -> ReplayLoss.wavelengthMicrometres(1000, Double.NaN))
                .hasMessageContaining("speedCmPerSecond NaN");
    }
}
