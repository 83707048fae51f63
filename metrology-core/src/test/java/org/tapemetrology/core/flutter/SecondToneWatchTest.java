/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Sequence;
import org.tapemetrology.signals.Sequence.Section;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.WhiteNoise;

/** What may and what may not be taken for a second tone. */
class SecondToneWatchTest {
    private static final int RATE = 48_000;

    private static Signal tone(double phase) {
        return FmTone.builder(3150)
                .amplitude(0.3)
                .startPhase(phase)
                .sine(4, 0.001)
                .build();
    }

    private static Status flutter(Signal signal) {
        return measured(signal)
                .find(Quantity.FLUTTER_WEIGHTED_RMS)
                .orElseThrow()
                .status();
    }

    private static List<WarningCode> warnings(Signal signal) {
        return measured(signal).warnings().stream().map(Warning::code).toList();
    }

    private static Measurement measured(Signal signal) {
        RecordingMeter meter = RecordingMeter.builder(RATE, 1).build();
        float[] samples = new float[30 * RATE];
        SampledSignal.of(signal.plus(new WhiteNoise(5, 2e-4, RATE)), RATE).fill(0, samples, 0, samples.length);
        meter.accept(samples, 0, samples.length);
        return meter.reading();
    }

    /** Whatever the angle by which the tone is off after the splice. */
    @Test
    void aSpliceIsNoSecondTone() {
        for (double phase : List.of(0.7, 1.6, 2.5, 3.1, 4.4, 5.6)) {
            Signal spliced = Sequence.of(new Section(tone(0), 15), new Section(tone(phase), 15));
            assertThat(flutter(spliced)).as("turned by %s rad", phase).isNotEqualTo(Status.AMBIGUOUS);
        }
    }

    /** One of 3 % (-30 dB) moves the tone as 3 % of flutter at their distance would: the figures are not those of the tape. */
    @Test
    void aSecondToneIsToldThatStaysOrComesLate() {
        Signal second = new Sine(3210, 0.01);
        assertThat(flutter(tone(0).plus(second))).isEqualTo(Status.AMBIGUOUS);
        Signal late = Sequence.of(new Section(moment -> 0, 15), new Section(second, 15));
        assertThat(flutter(tone(0).plus(late))).isEqualTo(Status.AMBIGUOUS);
    }

    /**
     * A level that swings by 24 % sixteen times a second hides one of -37 dB from the correlation of all movement. It still swings the
     * frequency by {@code 170 Hz x 0.0141 / sqrt 2} RMS, 0.054 % of 3150 Hz, which the flutter of 0.08 % here has in it.
     */
    @Test
    void aWeakSecondToneIsToldBesideALevelThatSwings() {
        Signal swinging =
                FmTone.builder(3150).amplitude(0.3).sine(40, 0.0012).build().amplitudeModulated(0.24, 16.5);
        assertThat(warnings(swinging)).doesNotContain(WarningCode.SECOND_TONE);
        assertThat(warnings(swinging.plus(new Sine(2980, 0.3 * 0.0141)))).contains(WarningCode.SECOND_TONE);
    }

    /** 17 Hz beside and 8 dB below the tone: level and frequency swing at 17 Hz. */
    @Test
    void aStrongSecondToneThatIsNearIsTold() {
        assertThat(flutter(tone(0).plus(new Sine(3133, 0.12)))).isEqualTo(Status.AMBIGUOUS);
    }

    /** An eccentric roller moves speed and level at once: 0.2 % with 1.5 dB either way at 6 Hz is no tone 6 Hz away, which makes 0.03 %. */
    @Test
    void aPartThatMovesSpeedAndLevelIsNoSecondTone() {
        Signal both = FmTone.builder(3150).amplitude(0.3).sine(6, 0.002).build().amplitudeModulated(0.17, 6);
        assertThat(flutter(both)).isEqualTo(Status.VALID);
    }
}
