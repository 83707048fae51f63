/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

class LevelsTest {
    /** Rounding of the figures, which have two decimals. */
    private static final double TWO_DECIMALS = 0.00501;

    private static final double[] FLUXES = {160, 185, 200, 218, 250, 256, 288, 320, 355, 370, 500, 510, 514};

    /** Levels in dB of the fluxivities above re the first figure of a row, 20 lg, computed apart from this library. */
    private static final double[][] RELATIONS = {
        {160, 0, 1.26, 1.94, 2.69, 3.88, 4.08, 5.11, 6.02, 6.92, 7.28, 9.90, 10.07, 10.14},
        {185, -1.26, 0, 0.68, 1.43, 2.62, 2.82, 3.84, 4.76, 5.66, 6.02, 8.64, 8.81, 8.88},
        {200, -1.94, -0.68, 0, 0.75, 1.94, 2.14, 3.17, 4.08, 4.98, 5.34, 7.96, 8.13, 8.20},
        {250, -3.88, -2.62, -1.94, -1.19, 0, 0.21, 1.23, 2.14, 3.05, 3.41, 6.02, 6.19, 6.26},
        {320, -6.02, -4.76, -4.08, -3.33, -2.14, -1.94, -0.92, 0, 0.90, 1.26, 3.88, 4.05, 4.12}
    };

    @Test
    void fluxivitiesStandInTheirPublishedRelations() {
        for (double[] row : RELATIONS) {
            for (int i = 0; i < FLUXES.length; i++) {
                assertThat(Fluxivity.of(FLUXES[i]).decibelsRe(Fluxivity.of(row[0])))
                        .as("%s re %s nWb/m", FLUXES[i], row[0])
                        .isCloseTo(row[i + 1], within(TWO_DECIMALS));
            }
        }
    }

    @Test
    void oldCalibrationMeasuresNineTenths() {
        // JAES paper on tape flux measurement (verified): marked 320 nWb/m, measured 288 nWb/m, 0.92 dB less.
        Fluxivity old = new Fluxivity(320, FluxConvention.OLD_DIRECT);
        assertThat(old.statedBy(FluxConvention.ALTERNATING).nanowebersPerMetre())
                .isCloseTo(288, within(1e-9));
        assertThat(old.decibelsRe(Fluxivity.of(320))).isCloseTo(-0.92, within(TWO_DECIMALS));
        assertThat(Fluxivity.of(320).decibelsRe(old)).isCloseTo(0.92, within(TWO_DECIMALS));
    }

    @Test
    void voltageLevelsKeepTheirDefinitions() {
        // Definitions; the decimals computed apart from this library.
        assertThat(new VoltageLevel(1).dbu()).isCloseTo(2.2185, within(5e-5));
        assertThat(VoltageLevel.ofDbu(0).volts()).isCloseTo(0.774597, within(5e-7));
        assertThat(VoltageLevel.ofDbu(4).volts()).isCloseTo(1.22765, within(5e-6));
        assertThat(VoltageLevel.ofDbv(-10).volts()).isCloseTo(0.316228, within(5e-7));
        assertThat(VoltageLevel.ofDbv(-10).dbu()).isCloseTo(-7.7815, within(5e-5));
        assertThat(VoltageLevel.ofDbv(-10).dbv()).isCloseTo(-10, within(1e-12));
    }

    @Test
    void fullScaleSineIsZeroAndFullScaleSquareThreeDecibelsMore() {
        // AES17 (second-hand).
        assertThat(DigitalLevel.ofRms(Math.sqrt(0.5)).dbfs()).isCloseTo(0, within(1e-12));
        assertThat(DigitalLevel.ofSine(1).dbfs()).isEqualTo(0);
        assertThat(DigitalLevel.ofRms(1).dbfs()).isCloseTo(3.0103, within(5e-5));
        assertThat(DigitalLevel.ofRms(0.01).rms()).isCloseTo(0.01, within(1e-15));
    }

    @Test
    void converterGoesBothWays() {
        // EBU R68 (second-hand): 0 dBu at -18 dBFS, so full scale is +18 dBu.
        ConverterFullScale converter = new ConverterFullScale(VoltageLevel.ofDbu(18));
        assertThat(converter.levelOf(VoltageLevel.ofDbu(0)).dbfs()).isCloseTo(-18, within(1e-12));
        assertThat(converter.voltageOf(new DigitalLevel(-18)).dbu()).isCloseTo(0, within(1e-12));
    }

    @Test
    void badValuesAreNamed() {
        assertThatThrownBy(() -> new VoltageLevel(0))
                .hasMessageContaining("volts 0.0")
                .hasMessageContaining("(0, infinity)");
        assertThatThrownBy(() -> Fluxivity.of(-1)).hasMessageContaining("nanowebersPerMetre -1.0");
        assertThatThrownBy(() -> new DigitalLevel(Double.NaN)).hasMessageContaining("dbfs NaN");
        assertThatThrownBy(() -> BallisticMeter.volumeIndicator(4000)).hasMessageContaining("sampleRateHz 4000.0");
    }

    private static double[] sine(double rate, double seconds, double amplitude) {
        double[] x = new double[(int) (rate * seconds)];
        for (int i = 0; i < x.length; i++) {
            x[i] = amplitude * Math.sin(2 * Math.PI * 1000 * i / rate);
        }
        return x;
    }

    @Test
    void ballisticMetersReadASteadySineAndHoldTheHighest() {
        double[] x = sine(48000, 4, 0.1);
        for (BallisticMeter meter : List.of(
                BallisticMeter.volumeIndicator(48000),
                BallisticMeter.programmePeakTypeOne(48000),
                BallisticMeter.programmePeakTypeTwo(48000))) {
            meter.accept(x, 0, 100);
            assertThat(meter.readings().get(0).status()).isEqualTo(Status.SETTLING);
            meter.accept(x, 100, x.length - 100);
            // The ripple at twice the tone, 0.02 dB, stays in a momentary indication.
            assertThat(meter.readings().get(0).value().orElseThrow()).isCloseTo(-20, within(0.05));
            // The overswing of a volume indicator, 1.5 %, is 0.13 dB.
            double highest = meter.readings().get(1).value().orElseThrow();
            assertThat(highest).isBetween(-20.01, -19.85);
            meter.accept(new double[48000], 0, 48000);
            // What was still on its way through the oversampler may raise it by its ripple.
            assertThat(meter.readings().get(1).value().orElseThrow()).isCloseTo(highest, within(1e-4));
            meter.accept(new double[] {Double.NaN}, 0, 1);
            assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INVALID_INPUT);
            meter.reset();
            meter.accept(new double[48000], 0, 48000);
            assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INSUFFICIENT_DATA);
        }
    }
}
