/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.Distribution;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.WhiteNoise;

/** Against loop-back recordings made of signals with known balance, delay, distortion, noise and clock. */
class ConverterCheckTest {
    private static final int RATE_HZ = 48_000;

    private static Measurement measured(Content content, double seconds, Signal... channels) {
        RecordingMeter meter = RecordingMeter.builder(RATE_HZ, channels.length)
                .content(content)
                .nominalHz(1000)
                .build();
        int frames = (int) Math.round(seconds * RATE_HZ);
        float[] samples = new float[frames * channels.length];
        for (int c = 0; c < channels.length; c++) {
            double[] one = SampledSignal.of(channels[c], RATE_HZ).samples(0, frames);
            for (int i = 0; i < frames; i++) {
                samples[i * channels.length + c] = (float) one[i];
            }
        }
        meter.accept(samples, 0, frames);
        return meter.reading();
    }

    private static FmTone tone(double hz) {
        return FmTone.builder(hz).amplitude(0.5).build();
    }

    private static final Signal FIRST = tone(1000).plus(new WhiteNoise(1, 1e-5, RATE_HZ));

    /** Channel 2 is 0.2 dB weaker and 3 us late; distortion 0.02 %. */
    private static final Signal SECOND = FmTone.builder(1000)
            .amplitude(0.5 * Math.pow(10, -0.2 / 20))
            .harmonic(3, 2e-4)
            .build()
            .delayedBy(3e-6)
            .plus(new WhiteNoise(2, 1e-5, RATE_HZ));

    /** Noise 94 dB below the tone leaves 0.0002 dB, 0.003 us and 0.001 % of distortion over 20 s. */
    @Test
    void loopShowsBalanceDelayAndDistortion() {
        Converter found = new ConverterCheck(measured(Content.TONE, 20, FIRST, SECOND)).result("loop");
        assertThat(found.balance().value()).isCloseTo(-0.2, within(0.002));
        assertThat(found.delay().value()).isCloseTo(3, within(0.02));
        assertThat(found.distortion().halfWidth()).isCloseTo(0.02, within(0.001));
        assertThat(found.ownFlutter().halfWidth()).isLessThan(0.001);
        assertThat(found.balance().assumed()).isFalse();
        // What no loop shows stays assumed.
        assertThat(found.gain()).isEqualTo(Converter.assumed().gain());
        assertThat(found.clock()).isEqualTo(Converter.assumed().clock());
        assertThat(found.name()).isEqualTo("loop");
    }

    /**
     * White noise of RMS r up to 24 kHz behind fourth-order Butterworth edges at 22.4 Hz and 22.4 kHz: 20 lg(sqrt 2 r) less
     * 0.5022 dB, by numerical integration of the squared magnitude.
     */
    @Test
    void silenceShowsTheNoise() {
        Converter found = new ConverterCheck(measured(Content.TONE, 12, FIRST, SECOND))
                .silence(
                        measured(Content.NOISE, 12, new WhiteNoise(3, 1e-4, RATE_HZ), new WhiteNoise(4, 1e-4, RATE_HZ)))
                .result("loop");
        double wanted = 20 * Math.log10(Math.sqrt(2) * 1e-4) - 0.5022;
        assertThat(found.noiseDbfs()).isCloseTo(wanted, within(0.05)); // 12 s of noise scatter by 0.01 dB
    }

    /** This converter's clock is 80 ppm fast: a tone of 1000 Hz reads 80 ppm low. */
    @Test
    void secondRecorderShowsTheClock() {
        Measurement here = measured(Content.TONE, 20, tone(1000 / 1.00008));
        Measurement there = measured(Content.TONE, 20, tone(1000));
        Converter found = new ConverterCheck(here).clockAgainst(here, there, 10).result("loop");
        assertThat(found.clock().value()).isCloseTo(80, within(0.01)); // far below the 10 ppm of the other one
        assertThat(found.clock().halfWidth()).isCloseTo(10 / Math.sqrt(3), within(0.01));
        assertThat(found.clock().distribution()).isEqualTo(Distribution.NORMAL);
    }

    /** 600.03 s of samples in 600 s: 50 ppm fast; 3 ms are 5 ppm. */
    @Test
    void intervalShowsTheClock() {
        Converter found = new ConverterCheck(measured(Content.TONE, 5, FIRST))
                .clockByInterval(600.03, 600, 0.003)
                .result("loop");
        assertThat(found.clock().value()).isCloseTo(50, within(1e-6));
        assertThat(found.clock().halfWidth()).isCloseTo(5, within(1e-9));
    }

    @Test
    void recordingWithoutAToneIsRefused() {
        Measurement noise = measured(Content.TONE, 5, new WhiteNoise(3, 1e-2, RATE_HZ));
        assertThatThrownBy(() -> new ConverterCheck(noise))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("tone.frequency");
    }

    /** The same recording again, corrected by what was found: balance and delay are 0 to rounding. */
    @Test
    void readingsAreCorrectedByWhatWasFound() {
        Measurement loop = measured(Content.TONE, 20, FIRST, SECOND);
        ReadingBudgets budgets = new ReadingBudgets(TestTape.assumed(), new ConverterCheck(loop).result("loop"));
        Measurement again = budgets.applied(loop);
        assertThat(again.find(Quantity.CHANNEL_BALANCE).orElseThrow().value().orElseThrow())
                .isCloseTo(0, within(1e-12));
        assertThat(again.find(Quantity.AZIMUTH_DELAY).orElseThrow().value().orElseThrow())
                .isCloseTo(0, within(1e-12));
    }
}
