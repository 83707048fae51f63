/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.flutter.Recordings.value;

import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Quantiser;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.WhiteNoise;

/** Recordings that look like one good tone and are not, each of a kind that damaged recordings at random have brought up. */
class DoubtfulToneTest {
    private static final int RATE = 16_000;

    private static Measurement measured(Signal signal, double seconds, OptionalDouble nominalHz) {
        RecordingMeter.Builder builder = RecordingMeter.builder(RATE, 1);
        nominalHz.ifPresent(builder::nominalHz);
        RecordingMeter meter = builder.build();
        float[] samples = new float[(int) (seconds * RATE)];
        SampledSignal.of(signal, RATE).fill(0, samples, 0, samples.length);
        meter.accept(samples, 0, samples.length);
        return meter.reading();
    }

    private static Measurement measured(Signal signal, double seconds) {
        return measured(signal, seconds, OptionalDouble.empty());
    }

    private static Signal tone(double amplitude) {
        return FmTone.builder(3150).amplitude(amplitude).sine(4, 0.001).build();
    }

    /** A tone of 10 steps whose file gives no dither: rounding reads as flutter. One of 40 steps is 6 dB above the bound. */
    @ParameterizedTest
    @ValueSource(ints = {8, 16})
    void aToneOfAFewStepsIsToldOf(int bits) {
        double step = Math.scalb(1.0, 1 - bits);
        assertThat(stepped(10 * step, bits).warnsOf(WarningCode.COARSE_STEPS)).isTrue();
        assertThat(stepped(40 * step, bits).warnsOf(WarningCode.COARSE_STEPS)).isFalse();
    }

    private static Measurement stepped(double amplitude, int bits) {
        return Recordings.measure(tone(amplitude), RATE, 3, Quantiser.plain(bits));
    }

    /** Samples that are no whole numbers of any step, however faint. */
    @Test
    void aFaintToneInFloatingPointIsNotCoarse() {
        assertThat(measured(tone(1e-4), 3).warnsOf(WarningCode.COARSE_STEPS)).isFalse();
    }

    /** The figures are those of the tone of the nominal frequency, which a band filter takes out; but who plays two tones? */
    @Test
    void aToneAsStrongOutsideTheRangeOfTheNominalIsToldOf() {
        Signal one = FmTone.builder(1000)
                .amplitude(0.2)
                .speedError(0.01)
                .sine(4, 0.001)
                .build();
        Measurement alone = measured(one, 8, OptionalDouble.of(1000));
        assertThat(alone.warnings()).isEmpty();
        Measurement two = measured(one.plus(new Sine(3295, 0.17)), 8, OptionalDouble.of(1000));
        assertThat(two.warnsOf(WarningCode.SECOND_TONE)).isTrue();
        // In per cent of speed: a hundredth of what may be off without a warning (0.02 %).
        assertThat(value(two, Quantity.SPEED_ERROR)).isCloseTo(value(alone, Quantity.SPEED_ERROR), within(0.0002));
    }

    /** Two tones 6 dB apart, of which the weaker stands alone for two seconds: that it is there at all is no sign of its being the one. */
    @Test
    void aToneThatIsAloneInAGapOfAnotherIsToldOf() {
        Signal first = tone(0.3);
        Signal second = new Sine(3466, 0.155);
        Measurement measured = measured(t -> (t > 6 && t < 8 ? 0 : first.at(t)) + second.at(t), 10);
        assertThat(measured.warnsOf(WarningCode.SECOND_TONE)).isTrue();
    }

    /** Wow spreads a high tone over many lines, each of which is lower than that of hum, 6 dB below the whole. */
    @Test
    void aToneIsFoundBesideANarrowerOne() {
        Signal spread = FmTone.builder(6000).amplitude(0.2).sine(4, 0.01).build();
        Measurement measured = measured(spread.plus(new Sine(152, 0.1)), 8);
        // 60 Hz of deviation at 4 Hz leave 60 / (pi 4 8) = 0.6 Hz in the mean of 8 s and a part of a period at most.
        assertThat(value(measured, Quantity.TONE_FREQUENCY)).isCloseTo(6000, within(0.6));
        assertThat(measured.warnsOf(WarningCode.SECOND_TONE)).isTrue();
    }

    /** 3 % and -32 dB: 0.073 % RMS of deviation in one of 0.16 to 0.22 %, which reads 6 to 10 % too high. */
    @Test
    void aWeakSecondToneIsToldOfWhereWowHidesIt() {
        Signal fluttering = FmTone.builder(3150)
                .amplitude(0.3)
                .sine(6.3, 0.002)
                .sine(20, 0.0023)
                .build();
        assertThat(measured(fluttering, 20).warnings()).isEmpty();
        Measurement two = measured(fluttering.plus(new Sine(3020, 0.3 * 0.025)), 20);
        assertThat(two.warnsOf(WarningCode.SECOND_TONE)).isTrue();
    }

    /**
     * The ripple of the demodulator lets clean flutter move the power too, in step and by a few parts in 10^7: a second tone that moved
     * it so little for so much deviation would stand farther off than there are tones.
     */
    @ParameterizedTest
    @ValueSource(doubles = {20, 100, 200})
    void cleanFlutterIsNoSecondTone(double rate) {
        for (double carrier : new double[] {3000, 3150}) {
            Signal clean =
                    FmTone.builder(carrier).amplitude(0.5).sine(rate, 0.003).build();
            float[] samples = new float[12 * 48_000];
            SampledSignal.of(clean, 48_000).fill(0, samples, 0, samples.length);
            ToneMeter meter = ToneMeter.builder(48_000).nominalHz(carrier).build();
            meter.accept(samples, 0, samples.length);
            assertThat(meter.reading().warnings()).isEmpty();
            assertThat(meter.reading()
                            .find(Quantity.FLUTTER_WEIGHTED_RMS)
                            .orElseThrow()
                            .isValid())
                    .isTrue();
        }
    }

    /** Side bands of the second order stand 400 Hz from the tone: 17 dB above this hiss where they are taken for noise. */
    @Test
    void fastFlutterIsNoNoise() {
        double sigma = 3e-5;
        Signal signal =
                FmTone.builder(3083).amplitude(0.08).sine(200, 0.006).build().plus(new WhiteNoise(3, sigma, RATE));
        Reading noise = measured(signal, 12).find(Quantity.NOISE_UNWEIGHTED).orElseThrow();
        // A sine of full scale is 0 dBFS, so that an RMS value of 1 is 3.01 dBFS; the band of 8 kHz lacks its lowest 22
        // Hz.
        double expected = 20 * Math.log10(sigma * Math.sqrt(2));
        double halfWidth =
                noise.uncertainty().map(ExpandedUncertainty::halfWidth).orElseThrow();
        assertThat(noise.value().orElseThrow()).isCloseTo(expected, within(halfWidth + 0.1));
    }

    /** The same on a tone with harmonics, to which the followed phase itself may add: 0.127 % of a harmonic, and hiss. */
    @Test
    void fastFlutterIsNoDistortionBeyondTheUncertainty() {
        Signal signal = FmTone.builder(3128)
                .amplitude(0.4)
                .sine(200, 0.005)
                .harmonic(2, 0.00127)
                .build()
                .plus(new WhiteNoise(3, 4e-5, RATE));
        Measurement measured = measured(signal, 12);
        Reading all = measured.find(Quantity.DISTORTION_THD_PLUS_NOISE).orElseThrow();
        double noise = 4e-5 * Math.sqrt(2) / 0.4;
        // All that stands there is flutter, and the interval holds 95 % of what that may add.
        assertThat(all.value().orElseThrow())
                .isCloseTo(
                        100 * Math.hypot(0.00127, noise),
                        within(1.1 * all.uncertainty().orElseThrow().halfWidth()));
        Reading rest = measured.find(Quantity.NOISE_UNWEIGHTED).orElseThrow();
        // A tenth of a decibel for the band that lacks its lowest 22 Hz and the places of tone and harmonic.
        assertThat(rest.value().orElseThrow())
                .isCloseTo(
                        20 * Math.log10(4e-5 * Math.sqrt(2)),
                        within(rest.uncertainty().orElseThrow().halfWidth() + 0.1));
    }

    /** 9 % at 0.63 Hz carry 3 kHz over more than is followed within a frame: 1.4 % and 1.2 % all the same, or no figure. */
    @Test
    void strongWowIsNoLossOfHarmonics() {
        Signal signal = FmTone.builder(3020)
                .amplitude(0.13)
                .sine(0.63, 0.092)
                .harmonic(2, 0.0143)
                .harmonic(3, 0.012)
                .build();
        RecordingMeter meter = RecordingMeter.builder(48_000, 1).build();
        float[] samples = new float[9 * 48_000];
        SampledSignal.of(signal, 48_000).fill(0, samples, 0, samples.length);
        meter.accept(samples, 0, samples.length);
        Reading third = meter.reading().find(Quantity.DISTORTION_THIRD_HARMONIC).orElseThrow();
        // 5 % is what may be wrong in silence.
        assertThat(third.value())
                .satisfiesAnyOf(
                        value -> assertThat(value).isEmpty(),
                        value -> assertThat(value.orElseThrow()).isCloseTo(1.2, within(0.06)));
    }

    /** Two tones whose sum is cut off at full scale have the distortion of the converter. */
    @Test
    void twoClippedTonesHaveNoDistortion() {
        Signal two = new Sine(1503, 0.5).plus(new Sine(1757, 0.5));
        assertThat(measured(two.scaledBy(0.9), 3)
                        .find(Quantity.DISTORTION_DIFFERENCE_FREQUENCY)
                        .orElseThrow()
                        .isValid())
                .isTrue();
        // Hardly cut off, and so much that the tones no longer prevail.
        for (double gain : new double[] {1.5, 3}) {
            assertThat(measured(two.scaledBy(gain).clippedAt(1), 3)
                            .find(Quantity.DISTORTION_DIFFERENCE_FREQUENCY)
                            .filter(Reading::isValid))
                    .as("gain %s", gain)
                    .isEmpty();
        }
    }

    /** What can be taken for two test tones: hiss beside a tone, a tone that swings by 8 %, a harmonic, one that is folded back. */
    @Test
    void nothingElseIsTwoTones() {
        Random random = new Random(2);
        Signal hissing = tone(0.3).plus(new WhiteNoise(random.nextLong(), 0.08, RATE));
        Signal swinging = FmTone.builder(1000).amplitude(0.3).sine(4, 0.083).build();
        Signal harmonic = new Sine(1000, 0.3).plus(new Sine(3000, 0.2));
        // The third harmonic of 6000 Hz, 18 kHz, folded at 8 kHz onto 2000 Hz, 10 dB below.
        Signal folded = new Sine(6010, 0.3).plus(new Sine(2030, 0.1));
        for (Signal signal : List.of(hissing, swinging, harmonic, folded)) {
            Measurement measured = measured(signal, 8);
            for (Quantity quantity :
                    List.of(Quantity.DISTORTION_DIFFERENCE_FREQUENCY, Quantity.DISTORTION_MODULATION)) {
                assertThat(measured.find(quantity).filter(Reading::isValid))
                        .as(quantity.id())
                        .isEmpty();
            }
        }
    }
}
