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
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.AllocatedBytes;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.tone.FrameSpectrum;

class ErasureMeterTest {
    private static final double AMPLITUDE = 0.5;

    private static RecordedTone given(double hz) {
        return new RecordedTone(DigitalLevel.ofSine(AMPLITUDE), hz);
    }

    private static RecordedTone recorded(double rate, double hz) {
        RecordedToneMeter meter = new RecordedToneMeter(rate, hz);
        double[] y = tone(rate, 6, hz, Tape::wavering, AMPLITUDE, 0);
        addNoise(y, 1e-3, 1);
        meter.accept(y, 0, y.length);
        return meter.tone().orElseThrow();
    }

    private static Reading read(double rate, RecordedTone tone, double[] y) {
        ErasureMeter meter = new ErasureMeter(rate, tone, 2);
        meter.accept(y, 0, y.length);
        return meter.reading();
    }

    private static double[] erased(double rate, double seconds, double hz, double erasure, double noiseDb, long seed) {
        double[] y = tone(rate, seconds, hz, Tape::wavering, AMPLITUDE / ratio(erasure), 1);
        addNoise(y, rms(AMPLITUDE / ratio(erasure)) * ratio(noiseDb), seed);
        return y;
    }

    /**
     * Erasure at 1 kHz, and at 315 Hz as earlier (IEC 60094-3, memory); the limit of DIN 45500 sheet 4 is 60 dB
     * (second-hand). The noise is 20 dB above the residue. The amplitude's Cramer-Rao bound over 20 s is 0.089 dB
     * (IEEE Std 1057; computed); the noise in the band, and that beside it which is taken off, add 0.09 dB at 1 kHz: 0.4 dB
     * are three standard deviations.
     */
    @ParameterizedTest
    @CsvSource({"1000, 50", "1000, 60", "1000, 70", "315, 60", "315, 70", "6300, 60"})
    void erasureIsReadWellUnderTheNoise(double hz, double erasure) {
        Reading reading = read(48000, recorded(48000, hz), erased(48000, 20, hz, erasure, 20, 45500));
        assertThat(reading.quantity()).isEqualTo(Quantity.ERASURE);
        assertThat(reading.channel()).hasValue(2);
        assertThat(reading.atFrequencyHz().orElseThrow()).isCloseTo(1.03 * hz, within(0.003 * hz));
        assertThat(reading.value().orElseThrow()).isCloseTo(erasure, within(0.4));
        assertThat(reading.uncertainty().orElseThrow().halfWidth()).isBetween(0.1, 0.6);
    }

    /** Negative control: without the noise taken off, a third octave (IEC 61260-1) reads the noise. */
    @Test
    void aThirdOctaveReadsTheNoise() {
        double[] y = erased(48000, 2, 1000, 70, 20, 45500);
        FrameSpectrum spectrum = new FrameSpectrum(48000, 65536);
        spectrum.take(y, 0);
        double third = spectrum.band(891, 1122);
        assertThat(10 * Math.log10(rms(AMPLITUDE) * rms(AMPLITUDE) / third)).isLessThan(68);
    }

    /** No noise to speak of: a residue as strong as the tone is no erasure, and the two doors agree. */
    @Test
    void aToneThatWasNotErasedReadsZero() {
        Reading reading = read(48000, recorded(48000, 1000), erased(48000, 6, 1000, 0, -60, 1));
        assertThat(reading.value().orElseThrow()).isCloseTo(0, within(0.02));
    }

    /** Three frequencies, 60 trials each: the widest search has some four bands to pick the strongest of. */
    @ParameterizedTest
    @ValueSource(doubles = {315, 1000, 3000})
    void noiseAloneIsNeverValid(double hz) {
        for (int trial = 0; trial < 60; trial++) {
            ErasureMeter meter = new ErasureMeter(8000, given(hz), 1);
            double[] y = noise(64000, rms(AMPLITUDE / ratio(50)), trial);
            meter.accept(y, 0, y.length);
            Reading reading = meter.reading();
            assertThat(reading.status()).isEqualTo(Status.INSUFFICIENT_DATA);
            assertThat(reading.method()).matches(".*greater than \\d+\\.\\d dB");
            // In a band of 50 Hz of 4 kHz 69 dB; the mean of 60 frames is known some 6 to 16 dB better.
            assertThat(meter.leastDecibels().orElseThrow()).isBetween(65.0, 95.0);
        }
    }

    /**
     * Of 100 trials, 95 are to be covered; 88 is three standard deviations (2.2) below. The residue lies 16 dB under the
     * noise of half the rate of 4 kHz, so that noise and residue share the band.
     */
    @Test
    void theUncertaintyCoversTheTruth() {
        double[] residue = tone(8000, 12, 1000, t -> t, AMPLITUDE / ratio(60), 1);
        int covered = 0;
        double squares = 0;
        for (int trial = 0; trial < 100; trial++) {
            double[] y = residue.clone();
            addNoise(y, rms(AMPLITUDE / ratio(60 - 16)), trial);
            Reading reading = read(8000, given(1000), y);
            assertThat(reading.status()).as(reading.method()).isEqualTo(Status.VALID);
            double off = (reading.value().orElseThrow() - 60)
                    / reading.uncertainty().orElseThrow().halfWidth();
            covered += Math.abs(off) <= 1 ? 1 : 0;
            squares += off * off;
        }
        assertThat(covered).isGreaterThanOrEqualTo(88);
        // Gaussian errors that fill the interval: 0.5.
        assertThat(Math.sqrt(squares / 100)).isBetween(0.3, 0.65);
    }

    /** A line of hum 50 Hz beside the band is no noise: 0.2 dB is a third of the half-width. */
    @Test
    void aLineBesideTheBandIsPassedOver() {
        double[] y = erased(48000, 10, 1000 / 1.03, 60, 10, 7);
        double[] hum = tone(48000, 10, 950, t -> t, AMPLITUDE / ratio(55), 0);
        for (int i = 0; i < y.length; i++) {
            y[i] += hum[i];
        }
        assertThat(read(48000, given(1000), y).value().orElseThrow()).isCloseTo(60, within(0.2));
    }

    @Test
    void whatCannotBeReadSaysWhy() {
        double[] y = erased(48000, 10, 1000, 60, 10, 7);
        RecordedTone tone = recorded(48000, 1000);
        assertThat(read(48000, tone, Arrays.copyOf(y, 96000)).status()).isEqualTo(Status.INSUFFICIENT_DATA);
        Reading silent = read(48000, tone, new double[480000]);
        assertThat(silent.status()).isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(silent.method()).endsWith("no residue at all");
        y[400000] = Double.POSITIVE_INFINITY;
        assertThat(read(48000, tone, y).status()).isEqualTo(Status.INVALID_INPUT);
        assertThatThrownBy(() -> new ErasureMeter(48000, given(50), 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("tone.frequencyHz 50.0");
        assertThatThrownBy(() -> new ErasureMeter(48000, given(1000), 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("channel 0");
        assertThatThrownBy(() -> new RecordedTone(DigitalLevel.ofSine(1), Double.NaN))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("frequencyHz NaN");
    }

    /** Level of a sine of 0.5: -6.02 dBFS (AES17, second-hand). 0.01 dB is what flutter puts beyond the band. */
    @Test
    void theRecordedToneIsMeasuredOrRefused() {
        RecordedTone tone = recorded(48000, 1000);
        assertThat(tone.level().dbfs()).isCloseTo(-6.0206, within(0.01));
        assertThat(tone.frequencyHz()).isCloseTo(1030, within(0.5));
        RecordedToneMeter meter = new RecordedToneMeter(48000, 1000);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INSUFFICIENT_DATA);
        double[] y = noise(480000, 0.1, 3);
        meter.accept(y, 0, y.length);
        assertThat(meter.tone()).isEmpty();
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.NO_CARRIER);
        y[5] = Double.NaN;
        meter.accept(y, 0, y.length);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INVALID_INPUT);
        meter.reset();
        double[] paused = tone(48000, 9, 1000, Tape::wavering, AMPLITUDE, 0);
        Arrays.fill(paused, 0, 70000, 0);
        Arrays.fill(paused, 350000, paused.length, 0);
        meter.accept(paused, 0, paused.length);
        assertThat(meter.readings().get(0).value().orElseThrow()).isCloseTo(-6.0206, within(0.01));
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 480, 4096, Integer.MAX_VALUE})
    void readingsAreBitIdenticalForAnyBlockAndBothDoors(int block) {
        double[] y = erased(44100, 8, 1000, 50, 10, 3);
        float[] interleaved = new float[2 * y.length];
        for (int i = 0; i < y.length; i++) {
            interleaved[2 * i + 1] = (float) y[i];
            y[i] = interleaved[2 * i + 1];
        }
        RecordedTone tone = recorded(44100, 1000);
        Reading whole = read(44100, tone, y);
        assertThat(whole.status()).isEqualTo(Status.VALID);
        ErasureMeter doubles = new ErasureMeter(44100, tone, 2);
        ErasureMeter floats = new ErasureMeter(44100, tone, 2);
        floats.accept(y, 0, 200000);
        floats.reset();
        RecordedToneMeter first = new RecordedToneMeter(44100, 1000);
        RecordedToneMeter second = new RecordedToneMeter(44100, 1000);
        for (int i = 0, count; i < y.length; i += count) {
            count = Math.min(block, y.length - i);
            doubles.accept(y, i, count);
            floats.accept(interleaved, 2 * i + 1, 2, count);
            first.accept(y, i, count);
            second.accept(interleaved, 2 * i + 1, 2, count);
        }
        assertThat(doubles.reading()).isEqualTo(whole);
        assertThat(floats.reading()).isEqualTo(whole);
        assertThat(first.readings()).isEqualTo(second.readings());
    }

    /** Long enough that batches are merged meanwhile: at 8 kHz a frame comes every 0.128 s, 64 of them in 8 s. */
    @Test
    void aBlockAllocatesNothing() {
        double[] y = erased(8000, 10, 1000, 50, 10, 3);
        ErasureMeter meter = new ErasureMeter(8000, given(1030), 1);
        RecordedToneMeter reference = new RecordedToneMeter(8000, 1000);
        for (int i = 0; i < 3; i++) {
            meter.accept(y, 0, y.length);
            reference.accept(y, 0, y.length);
        }
        assertThat(AllocatedBytes.leastOf(4, round -> {
                    meter.accept(y, 0, y.length);
                    reference.accept(y, 0, y.length);
                }))
                .isZero();
        assertThat(meter.reading().isValid()).isTrue();
    }
}
