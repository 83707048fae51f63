/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;

/** Jumps of the phase, glides at the ends and crests cut off between samples: no transport makes the one, all spoil figures. */
class DiscontinuityTest {
    private static final int RATE = 16_000;
    private static final double SECONDS = 12;

    private static FmTone tone() {
        return FmTone.builder(3150)
                .amplitude(0.4)
                .speedError(0.003)
                .sine(4, 0.001)
                .sine(40, 0.0004)
                .build();
    }

    private static Measurement measured(Signal signal) {
        return Recordings.measure(signal, RATE, SECONDS);
    }

    /** Shares of a period by which the tape jumps; half a period takes the tone away for a moment and is a gap. */
    @ParameterizedTest
    @ValueSource(doubles = {0.03, 0.1, 0.25, -0.2})
    void aJumpIsToldWithItsMoment(double periods) {
        FmTone tone = tone();
        double jump = periods / 3159;
        Measurement measured = measured(t -> tone.at(t < 6 ? t : t + jump));
        Warning warning = measured.warnings().stream()
                .filter(w -> w.code() == WarningCode.TIME_JUMP)
                .findFirst()
                .orElseThrow();
        // Cells of 1 to 2 ms, and the delay of the demodulator's filters.
        assertThat(warning.fromSeconds().orElseThrow()).isCloseTo(6, within(0.005));
    }

    /** Wherever it is: what is looked at moves on in its memory, and is moved back there at times. */
    @ParameterizedTest
    @ValueSource(doubles = {2.5, 3.71, 4.9, 7.3, 9.07})
    void aJumpIsToldWhereverItIs(double moment) {
        FmTone tone = tone();
        Measurement measured = measured(t -> tone.at(t < moment ? t : t + 0.1 / 3159));
        Warning warning = measured.warnings().stream()
                .filter(w -> w.code() == WarningCode.TIME_JUMP)
                .findFirst()
                .orElseThrow();
        assertThat(warning.fromSeconds().orElseThrow()).isCloseTo(moment, within(0.005));
    }

    /** The steepest flutter that is published, pulses of 10 ms, a scrape line and a burst are no jumps. */
    @Test
    void flutterIsNoJump() {
        Measurement pulses = measured(
                FmTone.builder(3150).amplitude(0.4).pulses(0.004, 0.01, 1, 3.5).build());
        Measurement lines = measured(FmTone.builder(3150)
                .amplitude(0.4)
                .sine(200, 0.003)
                .sine(333, 0.001)
                .build());
        assertThat(pulses.warnsOf(WarningCode.TIME_JUMP)).isFalse();
        assertThat(lines.warnsOf(WarningCode.TIME_JUMP)).isFalse();
        assertThat(measured(tone()).warnings()).isEmpty();
    }

    @Test
    void glidesAreToldWhereTheyAre() {
        // From 8 % low to the right speed within the first 0.15 s, as closed phase: the integral of a straight line.
        FmTone tone = tone();
        double low = 0.08;
        double end = 0.15;
        Signal starting = t -> tone.at(t < end ? t - low * (t - t * t / (2 * end)) : t - low * end / 2);
        Measurement started = measured(starting);
        assertThat(started.warnsOf(WarningCode.SPEED_GLIDE)).isTrue();
        assertThat(started.warnings().get(0).fromSeconds().orElseThrow()).isLessThan(0.1);
        double last = SECONDS - 0.15;
        Signal stopping = t -> tone.at(t < last ? t : t - low * (t - last) * (t - last) / (2 * end));
        Measurement stopped = measured(stopping);
        assertThat(stopped.warnsOf(WarningCode.SPEED_GLIDE)).isTrue();
        assertThat(stopped.warnings().get(0).toSeconds().orElseThrow()).isCloseTo(SECONDS, within(0.1));
    }

    /** A tone of 0.95 s, hardly long enough for a figure, of which the last 0.1 s are those of a machine that stops. */
    @Test
    void theEndOfAShortToneMayGlide() {
        FmTone tone = tone();
        double last = 0.87;
        Signal stopping = t -> t > 0.95 ? 0 : tone.at(t < last ? t : t - (t - last) * (t - last) / (2 * 0.8));
        float[] samples = new float[(int) (1.2 * RATE)];
        SampledSignal.of(stopping, RATE).fill(0, samples, 0, samples.length);
        ToneMeter meter = ToneMeter.builder(RATE).nominalHz(3150).build();
        meter.accept(samples, 0, samples.length);
        Measurement measured = meter.reading();
        assertThat(measured.find(Quantity.TONE_FREQUENCY).orElseThrow().isValid())
                .isTrue();
        assertThat(measured.warnsOf(WarningCode.SPEED_GLIDE)).isTrue();
    }

    /** 16 kHz puts five samples on a period: no three of them ever stand on a crest that is cut off at 0.85. */
    @Test
    void crestsCutOffBetweenSamplesAreOverload() {
        FmTone tone = tone();
        Measurement clipped = measured(t -> Math.max(-0.34, Math.min(0.34, tone.at(t))));
        assertThat(clipped.find(Quantity.LEVEL).orElseThrow().status()).isEqualTo(Status.OVERLOAD);
        // A tone that a whole number of samples fits has equal crests without being clipped.
        Measurement commensurate = measured(FmTone.builder(3200).amplitude(0.4).build());
        assertThat(commensurate.find(Quantity.LEVEL).orElseThrow().status()).isEqualTo(Status.VALID);
    }
}
