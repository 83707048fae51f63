/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.separation.Tape.addNoise;
import static org.tapemetrology.core.separation.Tape.noise;
import static org.tapemetrology.core.separation.Tape.ratio;
import static org.tapemetrology.core.separation.Tape.rms;
import static org.tapemetrology.core.separation.Tape.tone;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.AllocatedBytes;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.tone.FrameSpectrum;

class SeparationMeterTest {
    private static final double AMPLITUDE = 0.5;

    private static List<Reading> read(double rate, double toldHz, double[] first, double[] second) {
        SeparationMeter meter = toldHz > 0 ? new SeparationMeter(rate, toldHz) : new SeparationMeter(rate);
        meter.accept(first, second, 0, first.length);
        return meter.readings();
    }

    private static Status onlyStatus(List<Reading> readings) {
        List<Status> all = readings.stream().map(Reading::status).distinct().toList();
        assertThat(all).hasSize(1);
        return all.get(0);
    }

    /** Tone on channel 1 and its residue in some phase on channel 2, both under independent noise. */
    private static double[][] recording(
            double rate, double seconds, double hz, double separation, double noiseRms, long seed) {
        double[] loud = tone(rate, seconds, hz, Tape::wavering, AMPLITUDE, 0);
        double[] quiet = tone(rate, seconds, hz, Tape::wavering, AMPLITUDE / ratio(separation), 2.1);
        addNoise(loud, noiseRms, seed);
        addNoise(quiet, noiseRms, ~seed);
        return new double[][] {loud, quiet};
    }

    /**
     * Selective separation at 125 Hz, 1 kHz, 6.3 kHz and 10 kHz (IEC 60094-3, memory), on a tape 3 % too fast with 0.3 %
     * of flutter and noise on both channels 20 dB above the residue. The limits of DIN 45500 sheet 4 (second-hand) lie at
     * 15 to 20 dB within a stereo pair and 45 to 60 dB between unrelated tracks. Required are 0.2 dB over 20 s, which is
     * 2.2 times the Cramer-Rao bound of 0.089 dB for the amplitude of a tone in that noise (IEEE Std 1057; computed).
     */
    @ParameterizedTest
    @CsvSource({
        "125, 20",
        "1000, 20",
        "6300, 20",
        "10000, 20",
        "1000, 45",
        "125, 70",
        "1000, 70",
        "6300, 70",
        "10000, 70"
    })
    void separationIsWithinTwoTenthsOfADecibelUnderNoiseAndFlutter(double hz, double separation) {
        double[][] y = recording(48000, 20, hz, separation, 10 * rms(AMPLITUDE / ratio(separation)), 60094);
        List<Reading> readings = read(48000, hz, y[0], y[1]);
        assertThat(readings.get(0).value()).hasValue(1);
        assertThat(readings.get(0).channel()).isEmpty();
        Reading reading = readings.get(1);
        assertThat(reading.quantity()).isEqualTo(Quantity.SEPARATION);
        assertThat(reading.channel()).hasValue(2);
        assertThat(reading.atFrequencyHz().orElseThrow()).isCloseTo(1.03 * hz, within(0.003 * hz));
        assertThat(reading.value().orElseThrow()).isCloseTo(separation, within(0.2));
        // Twice the bound is 0.18 dB; the scatter of a hundred products is itself known to a fifth.
        assertThat(reading.uncertainty().orElseThrow().halfWidth()).isBetween(0.12, 0.3);
    }

    /** Negative control: the power in a band of 60 Hz about the tone, as a plain selective meter reads it, is noise. */
    @Test
    void aMeterThatTakesTheWholeBandReadsTheNoise() {
        double[][] y = recording(48000, 2, 1000, 70, 10 * rms(AMPLITUDE / ratio(70)), 60094);
        FrameSpectrum spectrum = new FrameSpectrum(48000, 65536);
        spectrum.take(y[1], 0);
        double third = spectrum.band(891, 1122); // the third octave about 1 kHz, IEC 61260-1
        assertThat(10 * Math.log10(rms(AMPLITUDE) * rms(AMPLITUDE) / third)).isLessThan(68);
    }

    @ParameterizedTest
    @CsvSource({"8000", "44100", "96000", "192000"})
    void theToneIsFoundWithoutBeingToldAtEveryRate(double rate) {
        double[][] y = recording(rate, 5, 1000, 40, 1e-5, 3);
        Reading reading = read(rate, 0, y[0], y[1]).get(1);
        // The noise is 70 dB below the residue: what is left is the tracking.
        assertThat(reading.value().orElseThrow()).isCloseTo(40, within(0.01));
    }

    /**
     * Azimuth that wanders by 0.1 ms turns the phase by up to 0.13 rad from a frame to its partner, which costs 0.018 dB of
     * power in the mean; a mean of the complex amplitude would lose 0.9 dB.
     */
    @Test
    void aResidueWhosePhaseWandersIsReadWhole() {
        double[] loud = tone(48000, 10, 1000, Tape::wavering, AMPLITUDE, 0);
        double[] quiet = tone(48000, 10, 1000, t -> Tape.wavering(t) + 1e-4 * Math.sin(0.6 * t), 0.005, 0);
        assertThat(read(48000, 1000, loud, quiet).get(1).value().orElseThrow()).isCloseTo(40, within(0.03));
    }

    /**
     * Noise as strong as the tone, on its channel alone, at the lowest rate: in the tracked band of some 270 Hz of 4 kHz it
     * would make the figure 0.3 dB too high. A quarter of that is left; the mean of 16 trials is known to 0.02 dB.
     */
    @Test
    void noiseThatTheTrackingFollowsIsCorrected() {
        double[] quiet = tone(8000, 6, 1000, Tape::wavering, AMPLITUDE / ratio(40), 1);
        double sum = 0;
        for (int trial = 0; trial < 16; trial++) {
            double[] loud = tone(8000, 6, 1000, Tape::wavering, AMPLITUDE, 0);
            addNoise(loud, rms(AMPLITUDE), trial);
            sum += read(8000, 1000, loud, quiet).get(1).value().orElseThrow();
        }
        assertThat(sum / 16).isCloseTo(40, within(0.075));
    }

    /**
     * Of 200 trials with the residue under noise 20 dB above it, 190 are to be covered; 181 is three standard deviations of
     * that binomial count (3.1) below. The errors must fill the intervals too: the RMS of error over half-width would be
     * 0.5 for Gaussian errors, and 200 of them tell it to 5 %.
     */
    @Test
    void theUncertaintyCoversTheTruth() {
        double[] loud = tone(8000, 6, 1000, Tape::wavering, AMPLITUDE, 0);
        double[] residue = tone(8000, 6, 1000, Tape::wavering, AMPLITUDE / ratio(50), 4);
        int covered = 0;
        double squares = 0;
        for (int trial = 0; trial < 200; trial++) {
            double[] quiet = residue.clone();
            addNoise(quiet, 10 * rms(AMPLITUDE / ratio(50)), trial);
            Reading reading = read(8000, 1000, loud, quiet).get(1);
            double off = (reading.value().orElseThrow() - 50)
                    / reading.uncertainty().orElseThrow().halfWidth();
            covered += Math.abs(off) <= 1 ? 1 : 0;
            squares += off * off;
        }
        assertThat(covered).isGreaterThanOrEqualTo(181);
        assertThat(Math.sqrt(squares / 200)).isBetween(0.3, 0.6);
    }

    @Test
    void channelsMayBeSwapped() {
        double[][] y = recording(48000, 5, 1000, 40, 1e-3, 5);
        List<Reading> swapped = read(48000, 0, y[1], y[0]);
        List<Reading> straight = read(48000, 0, y[0], y[1]);
        assertThat(swapped.get(0).value()).hasValue(2);
        assertThat(swapped.get(1)).isEqualTo(straight.get(1).onChannel(1));
    }

    /** Each part is 6 s; what rings at the change must not reach a residue 60 dB down. */
    @Test
    void aToneOnOneChannelAfterTheOtherGivesBothSeparations() {
        double[] first = tone(48000, 13, 1000, Tape::wavering, AMPLITUDE, 0);
        double[] second = first.clone();
        for (int i = 0; i < first.length; i++) {
            double t = i / 48000.0;
            first[i] *= t < 6.4 ? 1 : t < 7.1 ? 0 : 1e-3;
            second[i] *= t < 6.3 ? 3e-3 : t < 7.1 ? 0 : 1;
        }
        List<Reading> readings = read(48000, 0, first, second);
        assertThat(readings).hasSize(3);
        assertThat(readings.get(0).status()).isEqualTo(Status.AMBIGUOUS);
        assertThat(readings.get(1).channel()).hasValue(2);
        assertThat(readings.get(1).value().orElseThrow()).isCloseTo(50.46, within(0.02));
        assertThat(readings.get(2).channel()).hasValue(1);
        assertThat(readings.get(2).value().orElseThrow()).isCloseTo(60, within(0.02));
    }

    /** Noise alone on the silent channel, in 60 trials: the limit lies where the residue could just hide. */
    @Test
    void noiseAloneGivesALimitAndNeverAFigure() {
        double[] loud = tone(8000, 6, 1000, Tape::wavering, AMPLITUDE, 0);
        for (int trial = 0; trial < 60; trial++) {
            SeparationMeter meter = new SeparationMeter(8000);
            double[] quiet = noise(loud.length, rms(AMPLITUDE / ratio(50)), trial);
            meter.accept(loud, quiet, 0, loud.length);
            List<Reading> readings = meter.readings();
            assertThat(readings.get(0).value()).as("identity").hasValue(1);
            Reading reading = readings.get(1);
            assertThat(reading.status()).isEqualTo(Status.INSUFFICIENT_DATA);
            assertThat(reading.channel()).isEqualTo(OptionalInt.of(2));
            assertThat(reading.value()).isEqualTo(OptionalDouble.empty());
            assertThat(reading.method()).matches(".*greater than \\d+\\.\\d dB");
            // In the window's 10 Hz of 4 kHz the noise is 26 dB lower, 76 dB; the mean of 20 products some 6 dB more.
            assertThat(meter.leastDecibels(2).orElseThrow()).isBetween(74.0, 92.0);
            assertThat(meter.leastDecibels(1)).isEmpty();
        }
    }

    /** A residue that does stand below the limit: the true 70 dB must exceed it in 57 of 60 trials at 95 %, less 3 sd. */
    @Test
    void theLimitHolds() {
        double[] loud = tone(8000, 4, 1000, Tape::wavering, AMPLITUDE, 0);
        double[] residue = tone(8000, 4, 1000, Tape::wavering, AMPLITUDE / ratio(75), 1);
        int held = 0;
        for (int trial = 0; trial < 60; trial++) {
            SeparationMeter meter = new SeparationMeter(8000, 1000);
            double[] quiet = residue.clone();
            addNoise(quiet, 30 * rms(AMPLITUDE / ratio(75)), 500 + trial);
            meter.accept(loud, quiet, 0, loud.length);
            held += meter.leastDecibels(2).orElseThrow() <= 75 ? 1 : 0;
        }
        assertThat(held).isGreaterThanOrEqualTo(52);
    }

    @Test
    void channelsThatAreAlikeAreAmbiguous() {
        double[] y = tone(48000, 5, 1000, Tape::wavering, AMPLITUDE, 0);
        assertThat(onlyStatus(read(48000, 0, y, y.clone()))).isEqualTo(Status.AMBIGUOUS);
        double[][] nine = recording(48000, 5, 1000, 9, 1e-4, 1);
        assertThat(onlyStatus(read(48000, 0, nine[0], nine[1]))).isEqualTo(Status.AMBIGUOUS);
        double[][] eleven = recording(48000, 5, 1000, 11, 1e-4, 1);
        assertThat(onlyStatus(read(48000, 0, eleven[0], eleven[1]))).isEqualTo(Status.VALID);
        double[][] balanced = recording(48000, 5, 1000, 0, 1e-3, 1);
        assertThat(onlyStatus(read(48000, 0, balanced[0], balanced[1]))).isEqualTo(Status.AMBIGUOUS);
    }

    @Test
    void whatCannotBeReadSaysWhy() {
        double[][] y = recording(48000, 5, 1000, 40, 1e-4, 1);
        double[] silence = new double[y[0].length];
        assertThat(onlyStatus(read(48000, 0, silence, silence))).isEqualTo(Status.NO_CARRIER);
        assertThat(onlyStatus(read(48000, 0, noise(240000, 0.1, 1), noise(240000, 0.01, 2))))
                .isEqualTo(Status.NO_CARRIER);
        assertThat(onlyStatus(read(48000, 315, y[0], y[1]))).isEqualTo(Status.NO_CARRIER);
        assertThat(onlyStatus(read(48000, 0, Arrays.copyOf(y[0], 48000), Arrays.copyOf(y[1], 48000))))
                .isEqualTo(Status.INSUFFICIENT_DATA);
        Reading digital = read(48000, 0, y[0], silence).get(1);
        assertThat(digital.status()).isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(digital.method()).endsWith("no residue at all");
        y[1][200000] = Double.NaN;
        assertThat(onlyStatus(read(48000, 0, y[0], y[1]))).isEqualTo(Status.INVALID_INPUT);
        assertThatThrownBy(() -> new SeparationMeter(7999))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("sampleRateHz 7999.0");
        assertThatThrownBy(() -> new SeparationMeter(48000, 20000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("toneHz 20000.0");
        assertThatThrownBy(() -> new SeparationMeter(48000).leastDecibels(3))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("3");
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 480, 4096, Integer.MAX_VALUE})
    void readingsAreBitIdenticalForAnyBlockAndBothDoors(int block) {
        double[][] y = recording(44100, 5, 1000, 40, 1e-3, 9);
        float[] interleaved = new float[2 * y[0].length];
        for (int i = 0; i < interleaved.length; i++) {
            interleaved[i] = (float) y[i % 2][i / 2];
            y[i % 2][i / 2] = interleaved[i];
        }
        List<Reading> whole = read(44100, 0, y[0], y[1]);
        assertThat(onlyStatus(whole)).isEqualTo(Status.VALID);
        SeparationMeter doubles = new SeparationMeter(44100);
        SeparationMeter floats = new SeparationMeter(44100);
        double[] other = tone(44100, 4, 1150, t -> t, 1, 0);
        floats.accept(other, other, 0, other.length); // another tone, whose tracker must not stay
        floats.reset();
        for (int i = 0, count; i < y[0].length; i += count) {
            count = Math.min(block, y[0].length - i);
            doubles.accept(y[0], y[1], i, count);
            floats.accept(interleaved, 2 * i, 2, count);
        }
        assertThat(doubles.readings()).isEqualTo(whole);
        assertThat(floats.readings()).isEqualTo(whole);
    }

    @Test
    void aBlockAllocatesNothing() {
        double[][] y = recording(8000, 2, 1000, 40, 1e-3, 9);
        SeparationMeter meter = new SeparationMeter(8000);
        for (int i = 0; i < 10; i++) {
            meter.accept(y[0], y[1], 0, 16000);
        }
        assertThat(AllocatedBytes.leastOf(4, round -> meter.accept(y[0], y[1], 0, 16000)))
                .isZero();
        assertThat(meter.toneHz()).isPresent();
    }
}
