/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.signals.PinkNoise;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.WhiteNoise;

/** Tones of the low end of a response recording, 20 Hz to 150 Hz, which are followed where they are asked for. */
class LowToneTest {
    private static final int RATE = 48000;

    private static Measurement measure(Signal signal, int rate, double nominalHz, double seconds) {
        return Recordings.measure(
                SampledSignal.of(signal, rate),
                seconds,
                ToneMeter.builder(rate).nominalHz(nominalHz).build());
    }

    /** Closed form. Noise of -60 dB in the whole band moves a level of 10 s by 0.001 dB; the band's ripple is 5e-6. */
    @ParameterizedTest
    @CsvSource({
        "20, 48000",
        "20, 8000",
        "31.5, 48000",
        "40, 44100",
        "63, 96000",
        "63, 192000",
        "100, 48000",
        "125, 8000",
        "149, 48000",
        "151, 48000"
    })
    void frequencyAndLevelOfALowTone(double hz, int rate) {
        double played = 1.03 * hz;
        Signal tone = new Sine(played, 0.1, 0).plus(new WhiteNoise(7, 1e-4, rate));
        Measurement measured = measure(tone, rate, hz, 10);
        assertThat(measured.find(Quantity.TONE_FREQUENCY).orElseThrow().value().orElseThrow())
                .isCloseTo(played, within(1e-4 * played));
        assertThat(measured.find(Quantity.SPEED_ERROR).orElseThrow().value().orElseThrow())
                .isCloseTo(3, within(0.01));
        assertThat(measured.find(Quantity.LEVEL).orElseThrow().value().orElseThrow())
                .isCloseTo(-20, within(0.01));
        assertThat(measured.readings())
                .filteredOn(reading -> reading.quantity().id().startsWith("flutter"))
                .as("no room for flutter rates")
                .noneMatch(reading -> reading.isValid());
    }

    /** A narrow band of noise looks like a tone for a moment: it must not be taken for one. */
    @ParameterizedTest
    @ValueSource(doubles = {20, 40, 63, 125})
    void noiseIsNoLowTone(double hz) {
        for (int seed = 0; seed < 5; seed++) {
            for (Signal noise : new Signal[] {new WhiteNoise(seed, 0.05, RATE), new PinkNoise(seed, 0.05, RATE)}) {
                assertThat(measure(noise, RATE, hz, 20)
                                .find(Quantity.LEVEL)
                                .orElseThrow()
                                .status())
                        .as("%s, expected at %s Hz", noise, hz)
                        .isEqualTo(Status.NO_CARRIER);
            }
        }
    }

    @Test
    void mainsHumIsNoToneOfARecordingWhereNoneWasAskedFor() {
        Measurement measured = Recordings.measure(new Sine(50, 0.1, 0).plus(new WhiteNoise(7, 1e-3, RATE)), RATE, 10);
        assertThat(measured.find(Quantity.LEVEL).orElseThrow().status()).isEqualTo(Status.NO_CARRIER);
    }
}
