/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
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

    /** Closed form; 1 % of the value is what the distortion meter promises. */
    @Test
    void aToneGivesItsDistortionAndNoNoise() {
        Measurement measured = measure(5, distorted(1000, 1));
        assertThat(value(measured, Quantity.DISTORTION_THIRD_HARMONIC)).isCloseTo(1, within(0.01));
        assertThat(measured.find(Quantity.NOISE_A_WEIGHTED)).isEmpty();
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

    @Test
    void blocksDoNotMatter() {
        Signal signal =
                Sequence.of(new Section(new WhiteNoise(1, 1e-3, RATE), 1.5), new Section(distorted(1000, 1), 3));
        int frames = (int) (4.5 * RATE);
        float[] samples = new float[frames];
        SampledSignal.of(signal, RATE).fill(0, samples, 0, frames);
        List<Reading> whole = null;
        for (int block : new int[] {frames, 1, 7, 480, 4096}) {
            RecordingMeter meter = RecordingMeter.builder(RATE, 1).build();
            for (int at = 0; at < frames; at += block) {
                meter.accept(samples, at, Math.min(block, frames - at));
            }
            List<Reading> readings = meter.reading().readings();
            if (whole == null) {
                whole = readings;
            }
            assertThat(readings).as("block of %d", block).isEqualTo(whole);
        }
    }
}
