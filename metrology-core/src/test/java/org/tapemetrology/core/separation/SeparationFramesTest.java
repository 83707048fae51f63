/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/** Tones on one channel with a residue on the other, at 8 kHz: frames of 0.256 s, half of which is the next one's. */
class SeparationFramesTest {
    private static final int RATE = 8000;

    private static double tone(double hz, double t) {
        return 0.5 * Math.cos(2 * Math.PI * hz * t);
    }

    private static double ratio(double decibels) {
        return Math.pow(10, decibels / 20);
    }

    private static double[] samples(double seconds, DoubleUnaryOperator signal) {
        double[] y = new double[(int) Math.round(seconds * RATE)];
        for (int i = 0; i < y.length; i++) {
            y[i] = signal.applyAsDouble(i / (double) RATE);
        }
        return y;
    }

    private static SeparationMeter measured(
            SeparationMeter meter, double seconds, DoubleUnaryOperator first, DoubleUnaryOperator second) {
        double[] one = samples(seconds, first);
        meter.accept(one, samples(seconds, second), 0, one.length);
        return meter;
    }

    private static SeparationMeter measured(double seconds, DoubleUnaryOperator first, DoubleUnaryOperator second) {
        return measured(new SeparationMeter(RATE), seconds, first, second);
    }

    /** In any phase, and on either channel; without noise to a thousandth of a decibel. */
    @ParameterizedTest
    @CsvSource({"-20, 0, false", "-40, 1, false", "-60, 3.14, false", "-40, 2, true"})
    void theResidueIsReadOverTheTone(double decibels, double phase, boolean swapped) {
        DoubleUnaryOperator loud = t -> tone(500, t);
        DoubleUnaryOperator silent = t -> ratio(decibels) * 0.5 * Math.cos(2 * Math.PI * 500 * t + phase);
        SeparationMeter meter = swapped ? measured(4, silent, loud) : measured(4, loud, silent);
        List<Reading> readings = meter.readings();
        assertThat(readings).hasSize(2);
        assertThat(readings.get(0).quantity()).isEqualTo(Quantity.CHANNEL_IDENTITY);
        assertThat(readings.get(0).value()).hasValue(swapped ? 2 : 1);
        assertThat(readings.get(0).channel()).isEmpty();
        Reading separation = readings.get(1);
        assertThat(separation.quantity()).isEqualTo(Quantity.SEPARATION);
        assertThat(separation.value().orElseThrow()).isCloseTo(-decibels, within(0.002));
        assertThat(separation.channel()).hasValue(swapped ? 1 : 2);
        assertThat(separation.method()).isEqualTo("IEC 60094-3, selective, following the speed");
        assertThat(separation.atFrequencyHz().orElseThrow()).isCloseTo(500, within(0.01));
        assertThat(meter.toneHz().orElseThrow()).isCloseTo(500, within(0.01));
        assertThat(meter.leastDecibels(swapped ? 1 : 2).orElseThrow()).isBetween(-decibels - 1, -decibels + 0.001);
        assertThat(meter.leastDecibels(swapped ? 2 : 1)).isEmpty();
    }

    /** The tone on one channel after the other: both separations, and no identity. */
    @Test
    void aToneOnBothInTurnGivesBoth() {
        SeparationMeter meter = measured(
                9,
                t -> t < 4.5 ? tone(500, t) : ratio(-30) * tone(500, t),
                t -> t < 4.5 ? ratio(-40) * tone(500, t) : tone(500, t));
        List<Reading> readings = meter.readings();
        assertThat(readings).hasSize(3);
        assertThat(readings.get(0).status()).isEqualTo(Status.AMBIGUOUS);
        assertThat(readings.get(1).channel()).hasValue(2);
        assertThat(readings.get(1).value().orElseThrow()).isCloseTo(40, within(0.01));
        assertThat(readings.get(2).channel()).hasValue(1);
        assertThat(readings.get(2).value().orElseThrow()).isCloseTo(30, within(0.01));
    }

    /** Channels that differ by less than 10 dB are alike. */
    @ParameterizedTest
    @CsvSource({"-10.2, VALID", "-9.8, AMBIGUOUS", "-3, AMBIGUOUS"})
    void alikeChannelsAreAmbiguous(double decibels, Status status) {
        List<Reading> readings = measured(4, t -> tone(500, t), t -> ratio(decibels) * tone(500, t))
                .readings();
        assertThat(readings).hasSize(2).allMatch(reading -> reading.status() == status);
        if (status == Status.AMBIGUOUS) {
            assertThat(readings.get(1).method())
                    .isEqualTo("IEC 60094-3, selective, following the speed; the channels are alike");
        }
    }

    @Test
    void whatCannotBeReadSaysWhy() {
        DoubleUnaryOperator loud = t -> tone(500, t);
        DoubleUnaryOperator silent = t -> 0.01 * tone(500, t);
        assertStatus(measured(1, loud, silent), Status.INSUFFICIENT_DATA);
        assertStatus(measured(1, t -> 0, t -> 0), Status.INSUFFICIENT_DATA);
        assertStatus(measured(4, t -> 0, t -> 0), Status.NO_CARRIER);
        assertStatus(measured(4, t -> t < 3 ? 0 : tone(500, t), t -> 0), Status.INSUFFICIENT_DATA);
        assertStatus(measured(3.5, loud, t -> t == 3.25 ? Double.NaN : 0), Status.INVALID_INPUT);
        // Now on this channel, now on that.
        assertStatus(
                measured(5, t -> t % 0.8 < 0.4 ? tone(500, t) : 0, t -> t % 0.8 < 0.4 ? 0 : tone(500, t)),
                Status.AMBIGUOUS);
        SeparationMeter broken = measured(4, t -> t == 3.5 ? Double.NaN : tone(500, t), silent);
        assertThat(broken.leastDecibels(2)).isEmpty();
        assertThatThrownBy(() -> broken.leastDecibels(3))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("silentChannel 3 is not 1 or 2");
        assertThatThrownBy(() -> broken.leastDecibels(0)).isInstanceOf(IllegalArgumentException.class);
    }

    private static void assertStatus(SeparationMeter meter, Status status) {
        assertThat(meter.readings()).hasSize(2).allMatch(reading -> reading.status() == status);
        assertThat(meter.readings().get(1).quantity()).isEqualTo(Quantity.SEPARATION);
    }

    @Test
    void badSettingsAreRefusedByName() {
        for (double rate : new double[] {7999, 192_001, Double.NaN}) {
            assertThatThrownBy(() -> new SeparationMeter(rate))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("sampleRateHz " + rate);
        }
        for (double hz : new double[] {79.9, 3200.1, Double.NaN}) {
            assertThatThrownBy(() -> new SeparationMeter(8000, hz))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("toneHz " + hz);
        }
        assertThat(new SeparationMeter(8000, 80).toneHz()).isEmpty();
        assertThat(new SeparationMeter(8000, 3200).toneHz()).isEmpty();
    }

    /** Within 15 % of what was told, or from 80 Hz to 0.4 of the rate; a stronger tone elsewhere hides it where it holds most of the power. */
    @ParameterizedTest
    @CsvSource({
        "500, 560, 0, VALID",
        "500, 440, 0, VALID",
        "0, 90, 0, VALID",
        "0, 3100, 0, VALID",
        "80, 72, 0, VALID",
        "500, 500, 1.1, VALID",
        "500, 500, 1.35, NO_CARRIER",
        "500, 900, 0, NO_CARRIER"
    })
    void theToneIsLookedForWhereItWasTold(double toldHz, double hz, double other, Status status) {
        SeparationMeter meter = toldHz > 0 ? new SeparationMeter(RATE, toldHz) : new SeparationMeter(RATE);
        measured(meter, 4, t -> 0.6 * (tone(hz, t) + other * tone(1733, t)), t -> 0.6 * 0.01 * tone(hz, t));
        assertThat(meter.readings().get(1).status()).isEqualTo(status);
        if (status == Status.VALID) {
            // The other tone counts as noise: it is taken for a little of the tone.
            assertThat(meter.readings().get(1).value().orElseThrow()).isCloseTo(40, within(other > 0 ? 1.0 : 0.01));
        }
    }

    /** White noise in the tone's channel and in the silent one: the figure is corrected for it, and known to what it says. */
    @Test
    void noiseIsNoResidue() {
        double[] one = Tape.tone(RATE, 12, 500, t -> t, 0.5, 0);
        double[] two = Tape.tone(RATE, 12, 500, t -> t, 0.005, 1);
        Tape.addNoise(one, 0.02, 1);
        Tape.addNoise(two, 0.002, 2);
        SeparationMeter meter = new SeparationMeter(RATE, 500);
        meter.accept(one, two, 0, one.length);
        Reading separation = meter.readings().get(1);
        double halfWidth = separation.uncertainty().orElseThrow().halfWidth();
        assertThat(halfWidth).isBetween(0.001, 1.0);
        assertThat(separation.value().orElseThrow()).isCloseTo(40, within(1.5 * halfWidth));
        assertThat(meter.leastDecibels(2).orElseThrow())
                .isLessThan(separation.value().orElseThrow());
    }

    /**
     * Noise 8 dB below the tone in its channel moves the phase that is followed by 0.1 rad, which without a correction would read 0.09 dB too
     * much of a residue that has no noise. Of 20 s 0.03 dB are chance.
     */
    @Test
    void noiseOfTheToneIsCorrectedFor() {
        double[] one = Tape.tone(RATE, 20, 500, t -> t, 0.5, 0);
        double[] two = Tape.tone(RATE, 20, 500, t -> t, 0.005, 1);
        Tape.addNoise(one, 0.2, 7);
        SeparationMeter meter = new SeparationMeter(RATE, 500);
        meter.accept(one, two, 0, one.length);
        assertThat(meter.readings().get(1).value().orElseThrow()).isCloseTo(40, within(0.04));
    }

    /** The filter of a low tone is narrower, so that a second harmonic beside it and a constant do not matter. */
    @Test
    void aLowToneHasItsOwnFilter() {
        SeparationMeter meter = measured(
                5, t -> tone(90, t) + 0.3 * tone(180, t) + 0.2, t -> 0.01 * tone(90, t) + 0.003 * tone(180, t));
        assertThat(meter.readings().get(1).value().orElseThrow()).isCloseTo(40, within(0.015));
    }

    /** A frame lies inside where those before and after it hold the tone on the same channel within 3 dB. */
    @Test
    void aSteadyFrameHasEqualNeighbours() {
        SteadyFrames frames = new SteadyFrames();
        assertThat(frames.next(0, 1)).isFalse();
        assertThat(frames.next(0, 1.99)).isFalse();
        assertThat(frames.next(0, 1)).isTrue(); // the one before, of 1.99
        assertThat(frames.next(0, 0.51)).isTrue();
        assertThat(frames.next(0, 0.25)).isFalse();
        assertThat(frames.next(0, 0.25)).isFalse();
        assertThat(frames.next(0, 0.25)).isTrue();
        assertThat(frames.next(0, 0.51)).isFalse();
        assertThat(frames.next(0, 0.51)).isFalse();
        assertThat(frames.next(0, 0.51)).isTrue();
        assertThat(frames.next(1, 0.51)).isFalse();
        assertThat(frames.next(1, 0.51)).isFalse();
        assertThat(frames.next(1, 0.51)).isTrue();
        frames.gap();
        assertThat(frames.next(1, 0.51)).isFalse();
        assertThat(frames.next(1, 0.51)).isFalse();
        assertThat(frames.next(1, 0.51)).isTrue();
    }

    /** Two of three interleaved channels, in blocks, after a reset: as new. A gap costs the frames that it cuts. */
    @Test
    void samplesMayComeInAnyForm() {
        double[] one = samples(4, t -> (float) tone(500, t));
        double[] two = samples(4, t -> (float) (0.01 * tone(500, t)));
        float[] three = new float[3 * one.length];
        for (int i = 0; i < one.length; i++) {
            three[3 * i + 1] = (float) one[i];
            three[3 * i + 2] = (float) two[i];
            three[3 * i] = 0.9f;
        }
        SeparationMeter plain = new SeparationMeter(RATE);
        plain.accept(one, two, 0, one.length);
        double[] loud = Tape.tone(RATE, 9, 2000, t -> t, 0.3, 0);
        Tape.addNoise(loud, 0.1, 5);
        double[] quiet = Tape.tone(RATE, 9, 2000, t -> t, 0.06, 1);
        SeparationMeter other = new SeparationMeter(RATE);
        other.accept(loud, quiet, 0, loud.length);
        other.accept(quiet, loud, 0, loud.length);
        assertThat(other.readings()).hasSize(3);
        other.reset();
        assertStatus(other, Status.INSUFFICIENT_DATA);
        assertThat(other.toneHz()).isEmpty();
        for (int at = 0; at < one.length; at += 1234) {
            other.accept(three, 3 * at + 1, 3, Math.min(1234, one.length - at));
        }
        assertThat(other.readings()).isEqualTo(plain.readings());
        SeparationMeter cut = new SeparationMeter(RATE);
        for (int part = 0; part < 16; part++) {
            cut.accept(one, two, part * 2000, 2000); // no frame
            cut.gap();
        }
        assertThat(cut.toneHz()).isEmpty();
        SeparationMeter halves = new SeparationMeter(RATE);
        for (int part = 0; part < 4; part++) {
            halves.accept(one, two, 0, 12_000); // the phase jumps
            halves.gap();
            halves.accept(one, two, 3333, 12_000);
            halves.gap();
        }
        assertThat(halves.readings().get(1).value().orElseThrow()).isCloseTo(40, within(0.005));
    }

    /** Frames in which the tone starts or stops do not count: of 1 s on and 1 s off the figure is that of the tone. */
    @Test
    void startsAndStopsAreLeftOut() {
        SeparationMeter meter =
                measured(16, t -> t % 2 < 1.3 ? tone(500, t) : 0, t -> t % 2 < 1.3 ? 0.01 * tone(500, t) : 0);
        assertThat(meter.readings().get(1).value().orElseThrow()).isCloseTo(40, within(0.01));
        assertThat(meter.readings().get(0).value()).hasValue(1);
    }
}
