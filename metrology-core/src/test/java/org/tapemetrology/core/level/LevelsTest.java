/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
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

    /** Single and double precision, blocks of any size, from any place of an array: the same indications. */
    @Test
    void blocksAndPrecisionDoNotMatter() {
        double[] x = sine(48000, 1, 0.125);
        float[] single = new float[x.length + 3];
        for (int i = 0; i < x.length; i++) {
            x[i] = (float) x[i];
            single[i + 3] = (float) x[i];
        }
        for (int block : new int[] {1, 7, 512, 48_000}) {
            BallisticMeter whole = BallisticMeter.volumeIndicator(48000);
            BallisticMeter parts = BallisticMeter.volumeIndicator(48000);
            whole.accept(x, 0, x.length);
            for (int at = 0; at < x.length; at += block) {
                parts.accept(single, at + 3, Math.min(block, x.length - at));
            }
            assertThat(parts.readings()).isEqualTo(whole.readings());
        }
    }

    /** The indication stands from 0.3 s on, the time in which a volume indicator reaches its value (IEC 60268-17, from memory). */
    @Test
    void anIndicationSettles() {
        BallisticMeter meter = BallisticMeter.programmePeakTypeTwo(48000);
        meter.accept(sine(48000, 0.299, 0.1), 0, 14_352);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.SETTLING);
        meter.accept(sine(48000, 0.002, 0.1), 0, 96);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.VALID);
        // The highest has its moment, here soon after the start.
        assertThat(meter.readings().get(1).atSeconds().orElseThrow()).isBetween(0.001, 0.302);
        assertThat(meter.readings().get(0).atSeconds()).isEmpty();
    }

    private static Reading levelOf(double dbfs) {
        return Reading.valid(Quantity.LEVEL, dbfs, "test").onChannel(1);
    }

    /** EBU R68 (second-hand): full scale is +18 dBu, the reference -18 dBFS; the scatter goes with each figure. */
    @Test
    void levelsAreGivenInVoltsAndReAReference() {
        LevelScale both = new LevelScale(
                Optional.of(new ConverterFullScale(VoltageLevel.ofDbu(18))), Optional.of(new DigitalLevel(-18)));
        Reading level = levelOf(-20).withTypeA(StandardUncertainty.of(0.1));
        Reading noise = Reading.valid(Quantity.NOISE_A_WEIGHTED, -70, "test");
        Reading speed = Reading.valid(Quantity.SPEED_ERROR, 1, "test");
        List<Reading> scaled = both.applied(List.of(level, noise, speed));
        assertThat(scaled)
                .extracting(Reading::quantity)
                .containsExactly(
                        Quantity.LEVEL,
                        Quantity.LEVEL_VOLTAGE,
                        Quantity.LEVEL_RE_REFERENCE,
                        Quantity.NOISE_A_WEIGHTED,
                        Quantity.SPEED_ERROR);
        assertThat(scaled.get(0)).isEqualTo(level);
        assertThat(scaled.get(1).value().orElseThrow()).isCloseTo(-2, within(1e-12));
        assertThat(scaled.get(1).typeA()).contains(StandardUncertainty.of(0.1));
        assertThat(scaled.get(2).value().orElseThrow()).isCloseTo(-2, within(1e-12));
        assertThat(scaled.get(2).typeA()).contains(StandardUncertainty.of(0.1));
        assertThat(scaled.get(3)).isEqualTo(noise.re(-18));
        assertThat(scaled.get(4)).isEqualTo(speed);
        assertThat(LevelScale.NONE.applied(List.of(level, noise))).containsExactly(level, noise);
        // Without scatter there is none; without a value there is the status.
        assertThat(both.applied(List.of(levelOf(-20))).get(1).typeA()).isEmpty();
        Reading lost = Reading.without(Quantity.LEVEL, Status.NO_CARRIER, "test");
        assertThat(both.applied(List.of(lost)))
                .extracting(Reading::status)
                .containsExactly(Status.NO_CARRIER, Status.NO_CARRIER, Status.NO_CARRIER);
    }

    /** -200 dBFS is silence from there down. */
    @Test
    void silenceHasNoLevel() {
        assertThat(DigitalLevel.dbfsAboveSilence(Math.sqrt(0.5)).orElseThrow()).isCloseTo(0, within(1e-12));
        assertThat(DigitalLevel.dbfsAboveSilence(0.708e-10).orElseThrow()).isCloseTo(-200, within(0.02));
        assertThat(DigitalLevel.dbfsAboveSilence(0.706e-10)).isEmpty();
        assertThat(DigitalLevel.dbfsAboveSilence(0)).isEmpty();
        assertThatThrownBy(() -> new VoltageLevel(Double.POSITIVE_INFINITY)).hasMessageContaining("volts Infinity");
        assertThatThrownBy(() -> VoltageLevel.ofDbu(Double.NaN)).hasMessageContaining("dbu NaN");
        assertThatThrownBy(() -> DigitalLevel.ofRms(0)).hasMessageContaining("rms 0.0");
    }
}
