/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.separation.Tape.addNoise;
import static org.tapemetrology.core.separation.Tape.ratio;
import static org.tapemetrology.core.separation.Tape.rms;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.AllocatedBytes;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

class PrintThroughMeterTest {
    private static final double AMPLITUDE = 0.5;
    private static final double START = 7;

    /** A burst on the tape from its second 7 on, with echoes a spacing before and after it, on a tape that wavers. */
    private static double[] recording(
            double rate, double seconds, double hz, double length, double spacing, double before, double after) {
        double[] y = clean(rate, seconds, hz, length, spacing, before, after);
        addNoise(y, rms(AMPLITUDE / ratio(50)), 17);
        return y;
    }

    static double[] clean(
            double rate, double seconds, double hz, double length, double spacing, double before, double after) {
        double[] y = new double[(int) (rate * seconds)];
        for (int i = 0; i < y.length; i++) {
            double t = Tape.wavering(i / rate) / 1.03;
            y[i] = burst(hz, length, t)
                    + burst(hz, length, t + spacing) / ratio(before)
                    + burst(hz, length, t - spacing) / ratio(after);
        }
        return y;
    }

    private static double burst(double hz, double length, double t) {
        return t >= START && t < START + length ? AMPLITUDE * StrictMath.cos(2 * Math.PI * hz * (t - START)) : 0;
    }

    private static List<Reading> read(PrintThroughMeter meter, double[] y) {
        meter.accept(y, 0, y.length);
        return meter.readings();
    }

    /**
     * Echoes at 50 and 54 dB, 0.5 to 2 s from a burst that is shorter or longer than that, under noise 50 dB below the
     * burst. Required are 0.5 dB. In the band of 15 Hz of the frames' window the noise is 82 dB down; with three
     * independent frames 28 dB above it, the error by noise is 0.2 dB.
     */
    @ParameterizedTest
    @CsvSource({
        "1000, 0.5, 0.5",
        "1000, 0.4, 0.5",
        "1000, 3, 0.5",
        "1000, 1, 1",
        "1000, 3, 1.3",
        "1000, 0.7, 2",
        "1000, 5, 2",
        "315, 3, 1.3",
        "3150, 3, 1.3"
    })
    void echoesAreReadWhereverTheyStand(double hz, double length, double spacing) {
        double[] y = recording(48000, 20, hz, length, spacing, 54, 50);
        PrintThroughMeter meter = new PrintThroughMeter(48000, hz);
        List<Reading> readings = read(meter, y);
        assertThat(readings)
                .extracting(Reading::quantity)
                .containsExactly(Quantity.PRINT_THROUGH_BEFORE, Quantity.PRINT_THROUGH_AFTER);
        assertThat(readings.get(0).value().orElseThrow()).isCloseTo(54, within(0.5));
        assertThat(readings.get(1).value().orElseThrow()).isCloseTo(50, within(0.5));
        for (Reading reading : readings) {
            // The echo and the burst both stand somewhere in the flutter of 0.3 %.
            assertThat(reading.atFrequencyHz().orElseThrow()).isCloseTo(hz, within(0.004 * hz));
            assertThat(reading.uncertainty().orElseThrow().halfWidth()).isBetween(0.02, 1.5);
        }
        // The spacing is found to a frame's half at worst.
        assertThat(meter.spacingSeconds().orElseThrow()).isCloseTo(spacing, within(0.06));
        assertThat(readings.get(0).atSeconds().orElseThrow()).isCloseTo(START - spacing, within(0.08));
        assertThat(readings.get(1).atSeconds().orElseThrow()).isCloseTo(START + spacing, within(0.08));
    }

    /** Pack radius 30 mm at 19.05 cm/s: a turn takes 2 pi 30 / 190.5 = 0.9895 s. */
    @Test
    void theSpacingMayBeGivenByThePack() {
        double spacing = PrintThroughMeter.layerSeconds(30, 19.05);
        assertThat(spacing).isCloseTo(0.98947, within(1e-5));
        double[] y = recording(48000, 20, 1000, 2, spacing, 60, 57);
        List<Reading> readings = read(new PrintThroughMeter(48000, 1000, spacing), y);
        assertThat(readings.get(0).value().orElseThrow()).isCloseTo(60, within(0.5));
        assertThat(readings.get(1).value().orElseThrow()).isCloseTo(57, within(0.5));
        // Looked for where the echoes are not, they are not found.
        assertThat(read(new PrintThroughMeter(48000, 1000, 3.5), y))
                .extracting(Reading::status)
                .containsOnly(Status.INSUFFICIENT_DATA);
    }

    /**
     * Pauses that hold two noises 50 dB down, in 30 trials. In 15 Hz of 8 kHz they are 74.3 dB down, and the limit is 10 dB
     * above that; some 90 independent looks at the noise tell it to half a decibel.
     */
    @Test
    void noiseAloneIsNeverValid() {
        double[] clean = recording(16000, 20, 1000, 2, 1, 300, 300);
        for (int trial = 0; trial < 30; trial++) {
            double[] y = clean.clone();
            addNoise(y, rms(AMPLITUDE / ratio(50)), 100 + trial);
            for (Reading reading : read(new PrintThroughMeter(16000, 1000), y)) {
                assertThat(reading.status()).isEqualTo(Status.INSUFFICIENT_DATA);
                assertThat(reading.method()).matches(".*greater than 6[2-6]\\.\\d dB");
            }
        }
    }

    /** One echo alone; the other side has a limit. */
    @Test
    void anEchoOnOneSideIsReadAndTheOtherHasALimit() {
        double[] y = recording(48000, 20, 1000, 2, 1.3, 300, 52);
        List<Reading> readings = read(new PrintThroughMeter(48000, 1000), y);
        assertThat(readings.get(0).status()).isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(readings.get(0).method()).matches(".*greater than \\d+\\.\\d dB");
        assertThat(readings.get(1).value().orElseThrow()).isCloseTo(52, within(0.5));
    }

    @Test
    void aPauseThatIsTooShortIsSaid() {
        double[] y = recording(48000, 20, 1000, 2, 1.3, 54, 50);
        double[] late = Arrays.copyOfRange(y, (int) (6.9 * 48000), y.length);
        List<Reading> readings = read(new PrintThroughMeter(48000, 1000), late);
        assertThat(readings.get(0).status()).isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(readings.get(0).method()).endsWith("pause is too short");
        assertThat(readings.get(1).value().orElseThrow()).isCloseTo(50, within(0.5));
        double[] steady = Tape.tone(48000, 5, 1000, t -> t, AMPLITUDE, 0);
        assertThat(read(new PrintThroughMeter(48000, 1000), steady))
                .allMatch(reading -> reading.method().endsWith("pause is too short"));
    }

    /** The burst comes after 70 s and 50 s follow it: both exceed the memory of 60 s. */
    @Test
    void theMemoryHoldsTheBurstInALongRecording() {
        double[] y = recording(16000, 20, 1000, 2, 1.3, 54, 50);
        double[] pause = Tape.noise(63 * 16000, rms(AMPLITUDE / ratio(50)), 4);
        PrintThroughMeter meter = new PrintThroughMeter(16000, 1000);
        meter.accept(pause, 0, pause.length);
        meter.accept(y, 0, y.length);
        List<Reading> soon = meter.readings();
        meter.accept(pause, 0, 40 * 16000);
        List<Reading> late = meter.readings();
        assertThat(soon.get(0).value().orElseThrow()).isCloseTo(54, within(0.5));
        assertThat(late.get(0).value().orElseThrow()).isCloseTo(54, within(0.5));
        assertThat(late.get(1).value().orElseThrow()).isCloseTo(50, within(0.5));
        assertThat(late.get(1).atSeconds().orElseThrow()).isCloseTo(63 + START + 1.3, within(0.08));
    }

    @Test
    void whatCannotBeReadSaysWhy() {
        double[] y = recording(48000, 20, 1000, 2, 1.3, 54, 50);
        assertStatus(Arrays.copyOf(y, 48000), Status.INSUFFICIENT_DATA);
        assertStatus(new double[480000], Status.NO_CARRIER);
        assertStatus(Tape.noise(480000, 0.1, 3), Status.NO_CARRIER);
        assertStatus(recording(48000, 20, 1000, 0.2, 1.3, 54, 50), Status.NO_CARRIER);
        y[900000] = Double.NaN;
        assertStatus(y, Status.INVALID_INPUT);
        assertThatThrownBy(() -> new PrintThroughMeter(48000, 5000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("toneHz 5000.0");
        assertThatThrownBy(() -> new PrintThroughMeter(48000, 1000, 6))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("layerSeconds 6.0");
        assertThatThrownBy(() -> PrintThroughMeter.layerSeconds(30, 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("speedCentimetresPerSecond 0.0");
    }

    private static void assertStatus(double[] y, Status status) {
        assertThat(read(new PrintThroughMeter(48000, 1000), y))
                .extracting(Reading::status)
                .containsOnly(status);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 480, 4096, Integer.MAX_VALUE})
    void readingsAreBitIdenticalForAnyBlockAndBothDoors(int block) {
        double[] y = recording(44100, 14, 1000, 2, 1.3, 54, 50);
        float[] interleaved = new float[2 * y.length];
        for (int i = 0; i < y.length; i++) {
            interleaved[2 * i + 1] = (float) y[i];
            y[i] = interleaved[2 * i + 1];
        }
        List<Reading> whole = read(new PrintThroughMeter(44100, 1000), y);
        assertThat(whole).allMatch(Reading::isValid);
        PrintThroughMeter doubles = new PrintThroughMeter(44100, 1000);
        PrintThroughMeter floats = new PrintThroughMeter(44100, 1000);
        floats.accept(new double[] {0.1, Double.NaN, 0.3}, 0, 3);
        floats.reset();
        for (int i = 0, count; i < y.length; i += count) {
            count = Math.min(block, y.length - i);
            doubles.accept(y, i, count);
            floats.accept(interleaved, 2 * i + 1, 2, count);
        }
        assertThat(doubles.readings()).isEqualTo(whole);
        assertThat(floats.readings()).isEqualTo(whole);
    }

    @Test
    void aBlockAllocatesNothing() {
        double[] y = Tape.noise(16000, 0.1, 1);
        PrintThroughMeter meter = new PrintThroughMeter(16000, 1000);
        for (int i = 0; i < 10; i++) {
            meter.accept(y, 0, y.length);
        }
        assertThat(AllocatedBytes.leastOf(4, round -> meter.accept(y, 0, y.length)))
                .isZero();
    }
}
