/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/**
 * Which frames of a recording count for the distortion, which harmonics, and what stands beside them: closed-form tones at
 * 8 kHz, where a frame has 2048 samples, 0.256 s, and the next begins half a frame later.
 */
class DistortionFramesTest {
    private static final int RATE = 8000;
    private static final double TURN = 2 * Math.PI;

    private static double[] samples(double seconds, DoubleUnaryOperator signal) {
        double[] y = new double[(int) Math.round(seconds * RATE)];
        for (int i = 0; i < y.length; i++) {
            y[i] = signal.applyAsDouble(i / (double) RATE);
        }
        return y;
    }

    private static double cos(double hz, double t) {
        return Math.cos(TURN * hz * t);
    }

    private static DistortionMeter measured(double toldHz, double[] y) {
        DistortionMeter meter = toldHz > 0 ? new DistortionMeter(RATE, toldHz) : new DistortionMeter(RATE);
        meter.accept(y, 0, y.length);
        return meter;
    }

    private static DistortionMeter measured(double toldHz, double seconds, DoubleUnaryOperator signal) {
        return measured(toldHz, samples(seconds, signal));
    }

    private static double value(DistortionMeter meter, int index) {
        return meter.readings().get(index).value().orElseThrow();
    }

    /** Third, total and with noise; to 0.1 %, for the windows of the frames leak 1e-5. */
    @ParameterizedTest
    @ValueSource(doubles = {0, 480, 520})
    void harmonicsAreReadEachByItself(double toldHz) {
        DistortionMeter meter = measured(
                toldHz, 2, t -> 0.5 * (cos(500, t) + 0.01 * cos(1000, t) + 0.02 * cos(1500, t) + 0.005 * cos(3500, t)));
        double total = Math.sqrt(1 + 4 + 0.25);
        List<Reading> readings = meter.readings();
        assertThat(readings)
                .extracting(Reading::quantity)
                .containsExactly(
                        Quantity.DISTORTION_THIRD_HARMONIC,
                        Quantity.DISTORTION_THD,
                        Quantity.DISTORTION_THD_PLUS_NOISE);
        assertThat(value(meter, 0)).isCloseTo(2, within(0.002));
        assertThat(value(meter, 1)).isCloseTo(total, within(0.003));
        assertThat(value(meter, 2)).isCloseTo(total, within(0.003));
        for (Reading reading : readings) {
            assertThat(reading.atFrequencyHz().orElseThrow()).isCloseTo(500, within(0.001));
            assertThat(reading.uncertainty()).isPresent();
        }
        assertThat(readings.get(0).method()).isEqualTo("IEC 60094-3, third harmonic, following the speed");
        assertThat(readings.get(1).method())
                .isEqualTo("harmonics 2 to 10 below 20 kHz, root sum square, following the speed");
        assertThat(readings.get(2).method())
                .isEqualTo("22.4 Hz to 22.4 kHz less one sixth octave either side of the fundamental");
        assertThat(meter.toneHz().orElseThrow()).isCloseTo(500, within(0.001));
    }

    @Test
    void badSettingsAreRefusedByName() {
        for (double rate : new double[] {7999, 400_001, Double.NaN}) {
            assertThatThrownBy(() -> new DistortionMeter(rate))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("sampleRateHz " + rate + " is not in 8000 to 400000");
        }
        for (double hz : new double[] {99.9, 2000.1, Double.NaN}) {
            assertThatThrownBy(() -> new DistortionMeter(8000, hz))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("toneHz " + hz + " is not in 100.0 to 2000.0");
        }
        assertThat(new DistortionMeter(8000, 100).toneHz()).isEmpty();
        assertThat(new DistortionMeter(8000, 2000).toneHz()).isEmpty();
    }

    /** A tone is looked for within 15 % of that which was told, or from 100 Hz to a quarter of the rate. */
    @ParameterizedTest
    @CsvSource({
        "500, 570, VALID",
        "500, 430, VALID",
        "500, 800, NO_CARRIER",
        "500, 300, NO_CARRIER",
        "0, 110, VALID",
        "0, 1950, VALID",
        "100, 88, VALID"
    })
    void theToneIsLookedForWhereItWasTold(double toldHz, double hz, Status status) {
        DistortionMeter meter = measured(toldHz, 2, t -> 0.5 * (cos(hz, t) + 0.01 * cos(3 * hz, t)));
        assertThat(meter.readings().get(2).status()).isEqualTo(status);
        if (status == Status.VALID) {
            assertThat(meter.toneHz().orElseThrow()).isCloseTo(hz, within(0.01));
        }
    }

    /** A harmonic counts below half the rate less the main lobe of some 20 Hz. */
    @ParameterizedTest
    @CsvSource({"1300, true, true", "1340, false, true", "1900, false, true", "1995, false, false"})
    void harmonicsCountBelowHalfTheRate(double hz, boolean third, boolean second) {
        DistortionMeter meter = measured(hz, 2, t -> 0.5 * (cos(hz, t) + 0.01 * cos(2 * hz, t + 1)));
        assertThat(meter.readings().get(0).isValid()).isEqualTo(third);
        assertThat(meter.readings().get(1).isValid()).isEqualTo(second);
        assertThat(meter.readings().get(2).isValid()).isTrue();
        if (!third) {
            assertThat(meter.readings().get(0).status()).isEqualTo(Status.INSUFFICIENT_DATA);
            assertThat(meter.readings().get(0).method())
                    .isEqualTo("third harmonic outside the band of the sampling rate");
        }
        if (second) {
            assertThat(value(meter, 1)).isCloseTo(1, within(0.002));
        } else {
            assertThat(meter.readings().get(1).method()).isEqualTo("no harmonic inside the band of the sampling rate");
        }
    }

    /** At 48 kHz the tenth harmonic of 1 kHz counts and the eleventh does not; nor does what lies beyond 20 kHz. */
    @Test
    void tenHarmonicsBelow20KilohertzCount() {
        int rate = 48_000;
        double[] y = new double[(int) (1.6 * rate)];
        double[] high = new double[y.length];
        for (int i = 0; i < y.length; i++) {
            double t = i / (double) rate;
            y[i] = 0.5 * (cos(1000, t) + 0.01 * cos(10_000, t) + 0.02 * cos(11_000, t));
            high[i] = 0.5 * (cos(5100, t) + 0.01 * cos(3 * 5100, t) + 0.02 * cos(4 * 5100, t));
        }
        DistortionMeter meter = new DistortionMeter(rate, 1000);
        meter.accept(y, 0, y.length);
        assertThat(value(meter, 1)).isCloseTo(1, within(0.002));
        assertThat(value(meter, 2)).isCloseTo(Math.hypot(1, 2), within(0.004));
        DistortionMeter upper = new DistortionMeter(rate, 5100);
        upper.accept(high, 0, high.length);
        assertThat(value(upper, 1)).isCloseTo(1, within(0.002));
        assertThat(value(upper, 2)).isCloseTo(Math.hypot(1, 2), within(0.004));
    }

    /**
     * What stands a sixth octave or more from the tone, 22.4 Hz to half the rate: 561 Hz and 445 Hz about 500 Hz. A line within some 200 Hz of
     * the tone moves its phase and its amplitude alike, and the phase is followed: half of its power is left.
     */
    @ParameterizedTest
    @CsvSource({"50, 1", "12, 0", "220, 1", "425, 0.7071", "462, 0", "540, 0", "585, 0.7071", "790, 1", "3900, 1"})
    void whatStandsBesideTheToneCounts(double hz, double percent) {
        DistortionMeter meter = measured(500, 3, t -> 0.5 * (cos(500, t) + 0.01 * cos(hz, t)));
        assertThat(value(meter, 2)).isCloseTo(percent, within(0.07)); // the skirts of 12 Hz
        assertThat(value(meter, 1)).isLessThan(0.02);
    }

    /** The tone has to hold half of the power. */
    @ParameterizedTest
    @CsvSource({"0.9, VALID", "1.1, NO_CARRIER"})
    void theToneHasToPrevail(double ratio, Status status) {
        DistortionMeter meter = measured(500, 2, t -> 0.4 * (cos(500, t) + ratio * cos(1730, t)));
        assertThat(meter.readings().get(2).status()).isEqualTo(status);
        if (status == Status.VALID) {
            assertThat(value(meter, 2)).isCloseTo(100 * ratio, within(0.1));
        }
    }

    @Test
    void whatCannotBeReadSaysWhy() {
        DoubleUnaryOperator tone = t -> 0.5 * cos(500, t);
        assertStatus(measured(0, 0.99, tone), Status.INSUFFICIENT_DATA);
        assertStatus(measured(0, 2, t -> 0), Status.NO_CARRIER);
        assertStatus(measured(0, 0.5, t -> 0), Status.INSUFFICIENT_DATA);
        assertStatus(measured(0, 3, t -> t < 2.7 ? 0 : tone.applyAsDouble(t)), Status.NO_CARRIER);
        assertStatus(measured(0, 2, tone), Status.VALID);
        double[] y = samples(2, tone);
        y[15_000] = Double.NaN;
        assertStatus(measured(0, y), Status.INVALID_INPUT);
        // Steps of a denormal height are nothing.
        assertStatus(measured(0, 2, t -> 1e-170 * cos(500, t)), Status.NO_CARRIER);
    }

    private static void assertStatus(DistortionMeter meter, Status status) {
        assertThat(meter.readings()).hasSize(3).allMatch(reading -> reading.status() == status);
        if (status != Status.VALID) { // of noise a valid one needs more frames
            assertThat(meter.noiseReadings()).hasSize(2).allMatch(reading -> reading.status() == status);
        }
    }

    /** Frames 10 dB below the mean level so far are left out; 8 dB below they count. The dull part has 10 % of a third harmonic. */
    @ParameterizedTest
    @CsvSource({"-11, false", "-8, true"})
    void aToneThatIsLostDoesNotCount(double decibels, boolean counts) {
        double gain = Math.pow(10, decibels / 20);
        DistortionMeter meter =
                measured(500, 5, t -> t < 2.5 ? 0.5 * cos(500, t) : gain * 0.5 * (cos(500, t) + 0.1 * cos(1500, t)));
        if (counts) {
            assertThat(value(meter, 0)).isGreaterThan(2);
        } else {
            assertThat(value(meter, 0)).isLessThan(0.5);
        }
    }

    /** A tone that goes away by more than 15 % is another one: what it brings does not count, and the first one's frequency stays. */
    @ParameterizedTest
    @ValueSource(doubles = {610, 400})
    void anotherToneDoesNotCount(double hz) {
        DistortionMeter meter =
                measured(500, 5, t -> t < 2.5 ? 0.5 * cos(500, t) : 0.5 * (cos(hz, t) + 0.1 * cos(3 * hz, t)));
        assertThat(meter.toneHz().orElseThrow()).isCloseTo(500, within(6.0)); // a frame on the border
        assertThat(value(meter, 0)).isLessThan(0.5);
        DistortionMeter found =
                measured(0, 5, t -> t < 2.5 ? 0.5 * cos(500, t) : 0.5 * (cos(hz, t) + 0.1 * cos(3 * hz, t)));
        assertThat(found.toneHz().orElseThrow()).isCloseTo(500, within(6.0));
    }

    /**
     * The first 48 frames, 6.1 s, all count; then eight of each 64: from 8.2 s and from 16.4 s on. What stands between them is not
     * analysed, what stands in them is.
     */
    @Test
    void laterAnEighthOfTheFramesCounts() {
        DoubleUnaryOperator dull = t -> 0.5 * (cos(500, t) + 0.1 * cos(1500, t));
        DistortionMeter between = measured(500, 20, t -> t > 10 && t < 16 ? dull.applyAsDouble(t) : 0.5 * cos(500, t));
        assertThat(value(between, 0)).isLessThan(0.1);
        DistortionMeter within = measured(500, 20, t -> t > 8 && t < 10 ? dull.applyAsDouble(t) : 0.5 * cos(500, t));
        // Eight of 64 frames: the root of an eighth of the power.
        assertThat(value(within, 0)).isCloseTo(10 / Math.sqrt(8), within(0.4));
        DistortionMeter before = measured(500, 7, t -> t > 5.2 ? dull.applyAsDouble(t) : 0.5 * cos(500, t));
        // The last seven or so of 48.
        assertThat(value(before, 0)).isCloseTo(10 * Math.sqrt(6.0 / 48), within(0.8));
    }

    /** As float, as double, as one of two channels, in blocks; after a reset as new. */
    @Test
    void samplesMayComeInAnyForm() {
        double[] y = samples(2, t -> 0.5 * (cos(500, t) + 0.01 * cos(1500, t)));
        float[] single = new float[y.length];
        float[] pairs = new float[2 * y.length];
        for (int i = 0; i < y.length; i++) {
            single[i] = (float) y[i];
            y[i] = single[i];
            pairs[2 * i + 1] = single[i];
        }
        DistortionMeter plain = measured(500, y);
        DistortionMeter other = measured(500, samples(3, t -> t < 2.5 ? 0.7 * cos(560, t) : Double.NaN));
        other.reset();
        for (int at = 0; at < y.length; at += 700) {
            other.accept(single, at, Math.min(700, y.length - at));
        }
        assertThat(other.readings()).isEqualTo(plain.readings());
        assertThat(other.noiseReadings()).isEqualTo(plain.noiseReadings());
        other.reset();
        assertThat(other.toneHz()).isEmpty();
        other.accept(pairs, 1, 2, y.length);
        assertThat(other.readings()).isEqualTo(plain.readings());
    }

    /** White noise of RMS s is 20 lg(s sqrt 2) dBFS; of 4 kHz some 150 Hz are left out around the tone and below 22.4 Hz, 0.2 dB. */
    @Test
    void noiseBesideTheToneIsRead() {
        Random random = new Random(4);
        DistortionMeter meter =
                measured(500, 6, t -> 0.5 * (cos(500, t) + 0.01 * cos(1500, t)) + 1e-3 * random.nextGaussian());
        Reading noise = meter.noiseReadings().stream()
                .filter(reading -> reading.quantity() == Quantity.NOISE_UNWEIGHTED)
                .findFirst()
                .orElseThrow();
        assertThat(noise.value().orElseThrow()).isCloseTo(20 * Math.log10(1e-3 * Math.sqrt(2)), within(0.3));
        // With the distortion it is their root sum square: 1 % and 1e-3 over 0.5/sqrt 2, 0.283 %.
        assertThat(value(meter, 2)).isCloseTo(Math.hypot(1, 0.283), within(0.02));
        assertThat(value(meter, 0)).isCloseTo(1, within(0.02));
        assertThat(meter.readings().get(2).uncertainty().orElseThrow().halfWidth())
                .isBetween(1e-4, 0.03);
    }

    /** Flutter of 200 Hz is not followed: what it adds is told as what may be taken off. */
    @Test
    void fastFlutterReachesIntoTheFigure() {
        DistortionMeter still = measured(500, 3, t -> 0.5 * (cos(500, t) + 0.01 * cos(1500, t)));
        assertThat(still.readings().get(2).noiseReach()).isLessThan(0.01);
        DistortionMeter moved =
                measured(1500, 3, t -> 0.5 * Math.cos(TURN * 1500 * t + 0.02 * Math.sin(TURN * 250 * t)));
        // Two side bands of 1 % each.
        assertThat(value(moved, 2)).isCloseTo(Math.sqrt(2), within(0.02));
        assertThat(moved.readings().get(2).noiseReach()).isGreaterThan(1.2);
        assertThat(value(moved, 1)).isLessThan(0.02);
    }
}
