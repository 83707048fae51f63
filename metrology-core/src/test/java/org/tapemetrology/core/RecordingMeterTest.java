/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Unit;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.separation.RecordedTone;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Sequence;
import org.tapemetrology.signals.Sequence.Section;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.WhiteNoise;

/** Which figures the facade gives of which recording. */
class RecordingMeterTest {
    private static final int RATE = 48000;

    private static Measurement measure(double seconds, Signal... channels) {
        return measure(RecordingMeter.builder(RATE, channels.length).build(), seconds, channels);
    }

    private static Measurement measure(RecordingMeter meter, double seconds, Signal... channels) {
        int frames = (int) (seconds * RATE);
        float[] interleaved = new float[frames * channels.length];
        float[] one = new float[frames];
        for (int c = 0; c < channels.length; c++) {
            SampledSignal.of(channels[c], RATE).fill(0, one, 0, frames);
            for (int i = 0; i < frames; i++) {
                interleaved[i * channels.length + c] = one[i];
            }
        }
        meter.accept(interleaved, 0, frames);
        return meter.reading();
    }

    private static Signal distorted(double hz, double thirdPercent) {
        return new Sine(hz, 0.2, 0).plus(new Sine(3 * hz, 0.2 * thirdPercent / 100, 0));
    }

    private static double value(Measurement measurement, Quantity quantity) {
        return measurement.find(quantity).orElseThrow().value().orElseThrow();
    }

    /**
     * Every frequency that a response tape may hold, with flutter, told and not told: a level within 0.1 dB (the meter's own
     * figure is far below; the ends of the stretch count) or a status, and never an error of the meters beside it.
     */
    @ParameterizedTest
    @ValueSource(
            doubles = {
                20, 31.5, 40, 50, 63, 70, 79, 84, 90, 100, 125, 160, 250, 315, 500, 1000, 3150, 6300, 6667, 8000,
                10_000, 12_500, 14_000, 16_000, 18_000, 20_000
            })
    void aToneOfAnyFrequencyIsMeasured(double hz) {
        Signal tone = FmTone.builder(hz)
                .amplitude(0.25)
                .sine(4, 0.003)
                .harmonic(3, 0.01)
                .build();
        for (RecordingMeter meter : List.of(
                RecordingMeter.builder(RATE, 2)
                        .nominalHz(hz)
                        .content(Content.TONE)
                        .build(),
                RecordingMeter.builder(RATE, 2).build())) {
            Measurement measured = measure(meter, 4, tone, tone);
            measured.find(Quantity.LEVEL, 1)
                    .flatMap(level -> level.value().isPresent() ? Optional.of(level) : Optional.empty())
                    .ifPresent(level -> assertThat(level.value().orElseThrow()).isCloseTo(-12.04, within(0.1)));
        }
    }

    /** Closed form; 1 % of the value is what the distortion meter promises. */
    @Test
    void aToneGivesItsDistortionAndNoNoise() {
        Measurement measured = measure(5, distorted(1000, 1));
        assertThat(value(measured, Quantity.DISTORTION_THIRD_HARMONIC)).isCloseTo(1, within(0.01));
        assertThat(measured.find(Quantity.NOISE_QUASI_PEAK)).isEmpty();
    }

    /**
     * The same noise with a tone and without it: 10 s of it are known to 0.05 dB, and a tenth of its band is filled from
     * its neighbourhood.
     */
    @Test
    void noiseBesideAToneIsThatWithoutTheTone() {
        Signal noise = new WhiteNoise(11, 1e-3, RATE);
        Signal tone = FmTone.builder(1000)
                .amplitude(0.3)
                .sine(4, 0.003)
                .harmonic(3, 0.01)
                .build();
        Measurement with = measure(10, tone.plus(noise));
        Measurement alone = measure(10, noise);
        for (Quantity quantity : List.of(Quantity.NOISE_A_WEIGHTED, Quantity.NOISE_UNWEIGHTED)) {
            assertThat(value(with, quantity)).as(quantity.id()).isCloseTo(value(alone, quantity), within(0.2));
        }
    }

    @Test
    void aRecordingWithoutAToneGivesItsNoise() {
        Measurement measured = measure(8, new WhiteNoise(3, 1e-3, RATE));
        assertThat(measured.find(Quantity.NOISE_A_WEIGHTED).orElseThrow().isValid())
                .isTrue();
        assertThat(measured.find(Quantity.LEVEL).orElseThrow().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(measured.find(Quantity.DISTORTION_THD)).isEmpty();
    }

    /** Mains hum is part of the noise, whatever it is found to be. */
    @Test
    void humIsNoTestTone() {
        for (double hz : new double[] {50, 150, 180}) {
            Measurement measured = measure(8, new Sine(hz, 0.01, 0).plus(new WhiteNoise(3, 1e-4, RATE)));
            assertThat(measured.find(Quantity.NOISE_UNWEIGHTED).orElseThrow().isValid())
                    .as("%s Hz", hz)
                    .isTrue();
        }
    }

    /** The distortion must be that of the stretch that the other figures are taken from. */
    @Test
    void distortionBelongsToTheStretchThatCounts() {
        Signal shortThenLong =
                Sequence.of(new Section(distorted(315, 5), 4), Section.silence(2), new Section(distorted(1000, 1), 8));
        Measurement measured = measure(14, shortThenLong);
        assertThat(value(measured, Quantity.TONE_FREQUENCY)).isCloseTo(1000, within(0.01));
        assertThat(value(measured, Quantity.DISTORTION_THIRD_HARMONIC)).isCloseTo(1, within(0.01));

        Signal longThenShort =
                Sequence.of(new Section(distorted(1000, 1), 8), Section.silence(2), new Section(distorted(315, 5), 4));
        measured = measure(14, longThenShort);
        assertThat(value(measured, Quantity.TONE_FREQUENCY)).isCloseTo(1000, within(0.01));
        assertThat(value(measured, Quantity.DISTORTION_THIRD_HARMONIC)).isCloseTo(1, within(0.01));
    }

    /** Two tones through y = x + q x^2: the modulation is 2 q times the lower tone's amplitude (closed form), 4 %. */
    @Test
    void twoTonesGiveTheirDistortion() {
        Signal tones = new Sine(250, 0.4, 0).plus(new Sine(8000, 0.1, 0));
        Signal replayed = seconds -> tones.at(seconds) + 0.05 * tones.at(seconds) * tones.at(seconds);
        Measurement measured = measure(6, replayed);
        assertThat(value(measured, Quantity.DISTORTION_MODULATION)).isCloseTo(4, within(0.04));
        assertThat(measured.find(Quantity.DISTORTION_THD_PLUS_NOISE).filter(Reading::isValid))
                .as("the second tone is no noise of the first")
                .isEmpty();
        measured = measure(6, new Sine(11000, 0.25, 0).plus(new Sine(11700, 0.25, 0)));
        assertThat(value(measured, Quantity.DISTORTION_DIFFERENCE_FREQUENCY)).isCloseTo(0, within(0.001));
        assertThat(measured.find(Quantity.DISTORTION_MODULATION)).isEmpty();
        assertThat(measure(6, distorted(1000, 1)).find(Quantity.DISTORTION_MODULATION))
                .as("one tone with a strong harmonic is one tone")
                .isEmpty();
    }

    @Test
    void clippingLeavesNoDistortionFigureOfTheTape() {
        Measurement measured = measure(5, new Sine(1000, 1.5, 0).clippedAt(1));
        assertThat(measured.find(Quantity.DISTORTION_THIRD_HARMONIC)
                        .orElseThrow()
                        .status())
                .isEqualTo(Status.OVERLOAD);
    }

    @Test
    void contentDecidesWhatIsMeasured() {
        Measurement tone = measure(
                RecordingMeter.builder(RATE, 1).content(Content.TONE).build(), 8, new WhiteNoise(3, 1e-3, RATE));
        assertThat(tone.find(Quantity.NOISE_A_WEIGHTED)).isEmpty();
        Measurement noise = measure(
                RecordingMeter.builder(RATE, 2).content(Content.NOISE).build(),
                8,
                new Sine(1000, 0.1, 0),
                new Sine(1000, 0.1, 0));
        assertThat(noise.find(Quantity.LEVEL)).isEmpty();
        assertThat(noise.find(Quantity.NOISE_A_WEIGHTED, 2).orElseThrow().isValid())
                .isTrue();
    }

    /** Closed form; the whole-cycle question of a single tone is told. */
    @Test
    void twoChannelsOfAToneGiveBalanceAndAzimuth() {
        Signal tone = new Sine(1000, 0.2, 0);
        RecordingMeter meter = RecordingMeter.builder(RATE, 2)
                .tracks(TrackGeometry.CASSETTE_STEREO, 4.76, 10_000)
                .build();
        Measurement measured = measure(meter, 5, tone, tone.scaledBy(0.5).delayedBy(20e-6));
        assertThat(value(measured, Quantity.CHANNEL_BALANCE)).isCloseTo(-6.0206, within(1e-3));
        // Single-precision samples of a tone of 0.1 resolve some 1e-3 us.
        assertThat(value(measured, Quantity.AZIMUTH_DELAY)).isCloseTo(20, within(0.01));
        // atan(20 us 47.6 mm/s / 0.9 mm) = 1.0578 mrad = 3.6364 minutes of arc.
        assertThat(value(measured, Quantity.AZIMUTH_ANGLE)).isCloseTo(3.6364, within(0.002));
        assertThat(measured.warnsOf(WarningCode.WHOLE_CYCLE)).isTrue();
        assertThat(measured.find(Quantity.SEPARATION)).isEmpty();
    }

    @Test
    void aSilentChannelGivesTheSeparationAndNoAzimuth() {
        Signal tone = new Sine(1000, 0.2, 0);
        Measurement measured = measure(
                20, tone.scaledBy(0.01).plus(new WhiteNoise(5, 1e-4, RATE)), tone.plus(new WhiteNoise(6, 1e-4, RATE)));
        // The residue of -54 dBFS is 12 dB above the noise in the frames' band of some 10 Hz, for 20 s.
        assertThat(measured.find(Quantity.SEPARATION, 1).orElseThrow().value().orElseThrow())
                .isCloseTo(40, within(0.1));
        assertThat(value(measured, Quantity.CHANNEL_IDENTITY)).isEqualTo(2);
        assertThat(measured.find(Quantity.AZIMUTH_DELAY)).isEmpty();
    }

    @Test
    void noiseOfEachChannelSaysNothingOfTheAzimuth() {
        Measurement measured = measure(8, new WhiteNoise(3, 1e-3, RATE), new WhiteNoise(4, 1e-3, RATE));
        assertThat(measured.find(Quantity.AZIMUTH_DELAY)).isEmpty();
        Signal programme = new WhiteNoise(3, 1e-1, RATE);
        Measurement common = measure(8, programme, programme.delayedBy(2.0 / RATE));
        assertThat(value(common, Quantity.AZIMUTH_DELAY)).isCloseTo(2e6 / RATE, within(0.01));
    }

    /** Noise and level refer to the tone of the reference recording, and so does erasure. */
    @Test
    void aReferenceIsWhatNoiseLevelAndErasureReferTo() {
        RecordedTone reference = new RecordedTone(new DigitalLevel(-14), 1000);
        RecordingMeter meter =
                RecordingMeter.builder(RATE, 1).reference(List.of(reference)).build();
        Signal residue = new Sine(1000, 2e-4, 0);
        Measurement measured = measure(meter, 30, residue.plus(new WhiteNoise(9, 1e-3, RATE)));
        Reading noise = measured.find(Quantity.NOISE_UNWEIGHTED).orElseThrow();
        assertThat(noise.unit()).isEqualTo(Unit.DECIBEL);
        // 20 lg(sqrt(2) 1e-3) = -56.99 dBFS and 22.4/24 of its power, re -14 dBFS; 0.2 dB for the edge of the band.
        assertThat(noise.value().orElseThrow()).isCloseTo(-56.99 - 0.30 + 14, within(0.2));
        // 2e-4 is -73.98 dBFS.
        assertThat(measured.find(Quantity.ERASURE, 1).orElseThrow().value().orElseThrow())
                .isCloseTo(73.98 - 14, within(1.0));
    }

    @Test
    void blocksDoNotMatter() {
        Signal signal =
                Sequence.of(new Section(new WhiteNoise(1, 1e-3, RATE), 1.5), new Section(distorted(1000, 1), 3));
        int frames = (int) (4.5 * RATE);
        float[] mono = new float[frames];
        SampledSignal.of(signal, RATE).fill(0, mono, 0, frames);
        float[] samples = new float[2 * frames];
        for (int i = 0; i < frames; i++) {
            samples[2 * i] = mono[i];
            samples[2 * i + 1] = 0.5f * mono[i];
        }
        List<Reading> whole = null;
        for (int block : new int[] {frames, 1, 7, 480, 4096}) {
            RecordingMeter meter = RecordingMeter.builder(RATE, 2).build();
            for (int at = 0; at < frames; at += block) {
                meter.accept(samples, 2 * at, Math.min(block, frames - at));
            }
            List<Reading> readings = meter.reading().readings();
            if (whole == null) {
                whole = readings;
            }
            assertThat(readings).as("block of %d", block).isEqualTo(whole);
        }
    }
}
