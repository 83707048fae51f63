/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.programme.Step.Side;

/** What a programme and its steps accept, and which of them belong together. */
class ProgrammeTest {
    private static int number;

    private static Step tone(double hertz, double dbfs, Side side) {
        return new Step("step " + number++, new StepSignal.Tone(hertz, dbfs), side, 2);
    }

    private static Step tone(double hertz) {
        return tone(hertz, -20, Side.BOTH);
    }

    private static Step pause() {
        return new Step("step " + number++, new StepSignal.Pause(), Side.BOTH, 3);
    }

    private static Programme programme(Step... steps) {
        return new Programme("p", List.of(steps), OptionalDouble.empty());
    }

    @Test
    void stepsFollowEachOther() {
        Programme programme = programme(tone(315), pause(), tone(1000));
        assertThat(programme.startSeconds(0)).isZero();
        assertThat(programme.startSeconds(1)).isEqualTo(2);
        assertThat(programme.startSeconds(2)).isEqualTo(5);
        assertThat(programme.startSeconds(3)).isEqualTo(7);
        assertThat(programme.seconds()).isEqualTo(7);
    }

    @Test
    void programmesAreChecked() {
        assertThatThrownBy(() -> programme()).hasMessage("the programme has 0 steps, allowed: 1 to 200");
        List<Step> many = new ArrayList<>();
        for (int i = 0; i < 200; i++) {
            many.add(tone(1000));
        }
        assertThat(new Programme("p", many, OptionalDouble.empty()).steps()).hasSize(200);
        many.add(tone(1000));
        assertThatThrownBy(() -> new Programme("p", many, OptionalDouble.empty()))
                .hasMessageContaining("201 steps");
        assertThatThrownBy(() -> programme(pause())).hasMessage("the programme has nothing but pauses");
        List<Step> one = List.of(tone(1000));
        assertThatThrownBy(() -> new Programme("p", one, OptionalDouble.of(19))).hasMessageContaining("referenceHz 19");
        assertThat(new Programme("p", one, OptionalDouble.of(20)).referenceHz()).hasValue(20);
    }

    /** Tones of one level on the same channels, with nothing but pauses between, of three frequencies or more. */
    @Test
    void tonesOfOneResponseBelongTogether() {
        assertThat(programme(tone(315), tone(1000), tone(8000)).toneSequences()).containsExactly(List.of(0, 1, 2));
        assertThat(programme(tone(315), tone(1000)).toneSequences()).isEmpty();
        assertThat(programme(tone(315), tone(1000), tone(315)).toneSequences()).isEmpty();
        assertThat(programme(tone(315), tone(1000), tone(315), tone(8000)).toneSequences())
                .containsExactly(List.of(0, 1, 2, 3));
        assertThat(programme(pause(), tone(315), pause(), tone(1000), tone(8000), pause())
                        .toneSequences())
                .containsExactly(List.of(1, 3, 4));
        Step noise = new Step("noise", new StepSignal.Noise(true, 20, 20_000, -20), Side.BOTH, 4);
        assertThat(programme(tone(315), tone(1000), noise, tone(8000), tone(315), tone(1000))
                        .toneSequences())
                .containsExactly(List.of(3, 4, 5));
        assertThat(programme(
                                tone(315),
                                tone(1000),
                                tone(8000),
                                tone(315, -10, Side.BOTH),
                                tone(1000, -10, Side.BOTH),
                                tone(8000, -10, Side.BOTH))
                        .toneSequences())
                .containsExactly(List.of(0, 1, 2), List.of(3, 4, 5));
        assertThat(programme(tone(315), tone(1000, -20, Side.LEFT), tone(8000)).toneSequences())
                .isEmpty();
    }

    @Test
    void stepsAreChecked() {
        assertThatThrownBy(() -> new Step(" ", new StepSignal.Pause(), Side.BOTH, 3))
                .hasMessage("name of the step is blank");
        assertThat(new Step("a", new StepSignal.Pause(), Side.BOTH, 1).seconds())
                .isEqualTo(1);
        assertThat(new Step("a", new StepSignal.Pause(), Side.BOTH, 3600).seconds())
                .isEqualTo(3600);
        assertThatThrownBy(() -> new Step("a", new StepSignal.Pause(), Side.BOTH, 3601))
                .hasMessageContaining("seconds 3601");
    }

    @Test
    void sidesCarryTheirChannels() {
        assertThat(Side.BOTH.carries(1) && Side.BOTH.carries(2)).isTrue();
        assertThat(Side.LEFT.carries(1)).isTrue();
        assertThat(Side.LEFT.carries(2)).isFalse();
        assertThat(Side.RIGHT.carries(1)).isFalse();
        assertThat(Side.RIGHT.carries(2)).isTrue();
        assertThat(Side.LEFT.swapped()).isEqualTo(Side.RIGHT);
        assertThat(Side.RIGHT.swapped()).isEqualTo(Side.LEFT);
        assertThat(Side.BOTH.swapped()).isEqualTo(Side.BOTH);
    }

    /** n tones of a level have n times its power. */
    @Test
    void levelsOfSignals() {
        assertThat(tone(1000, -12, Side.BOTH).levelDbfs()).isEqualTo(-12);
        assertThat(new Step("s", new StepSignal.Sweep(20, 20_000, -13), Side.BOTH, 9).levelDbfs())
                .isEqualTo(-13);
        assertThat(new Step("n", new StepSignal.Noise(true, 20, 20_000, -14), Side.BOTH, 9).levelDbfs())
                .isEqualTo(-14);
        Step many = new Step("m", new StepSignal.Multitone(List.of(100.0, 200.0, 400.0, 800.0), -26), Side.BOTH, 9);
        assertThat(many.levelDbfs()).isCloseTo(-26 + 6.0206, within(1e-4));
        assertThat(pause().levelDbfs()).isEqualTo(Double.NEGATIVE_INFINITY);
        assertThat(pause().isPause()).isTrue();
        assertThat(many.isPause()).isFalse();
    }

    @Test
    void signalsAreChecked() {
        assertThat(new StepSignal.Tone(20, -80)).isNotEqualTo(new StepSignal.Tone(40_000, 0));
        assertThatThrownBy(() -> new StepSignal.Tone(1000, 0.1)).hasMessageContaining("levelDbfs 0.1");
        assertThatThrownBy(() -> new StepSignal.Tone(40_001, 0)).hasMessageContaining("frequencyHz 40001");
        assertThat(new StepSignal.Sweep(10_000, 40_000, -20).endHz()).isEqualTo(40_000);
        assertThatThrownBy(() -> new StepSignal.Sweep(1000, 3999, -20)).hasMessageContaining("endHz 3999");
        assertThatThrownBy(() -> new StepSignal.Sweep(10_001, 40_000, -20)).hasMessageContaining("startHz");
        assertThatThrownBy(() -> new StepSignal.Sweep(20, 40_000, -81)).hasMessageContaining("levelDbfs");
        assertThat(new StepSignal.Noise(false, 10_000, 40_000, -20).fromHz()).isEqualTo(10_000);
        assertThatThrownBy(() -> new StepSignal.Noise(true, 1000, 3999, -20)).hasMessageContaining("toHz 3999");
        assertThatThrownBy(() -> new StepSignal.Noise(true, 19, 3999, -20)).hasMessageContaining("fromHz 19");
        assertThatThrownBy(() -> new StepSignal.Noise(true, 20, 3999, 1)).hasMessageContaining("levelDbfs");
        assertThat(new StepSignal.Multitone(List.of(1000.0, 1100.0, 1210.0), -20).frequenciesHz())
                .hasSize(3);
        assertThatThrownBy(() -> new StepSignal.Multitone(List.of(1000.0, 2000.0), -20))
                .hasMessage("frequenciesHz has 2 tones, allowed: 3 or more");
        // 1.1 times 200 is 220.00000000000003 in binary numbers.
        assertThat(new StepSignal.Multitone(List.of(200.0, 220.0, 242.0), -20).frequenciesHz())
                .hasSize(3);
        assertThatThrownBy(() -> new StepSignal.Multitone(List.of(1000.0, 1099.0, 2000.0), -20))
                .hasMessage("frequenciesHz 1 of 1099.0 Hz is not at least 1.1 times the one below, 1000.0 Hz");
        assertThatThrownBy(() -> new StepSignal.Multitone(List.of(19.0, 1099.0, 2000.0), -20))
                .hasMessageContaining("frequenciesHz 0");
        assertThatThrownBy(() -> new StepSignal.Multitone(List.of(190.0, 1099.0, 2000.0), 1))
                .hasMessageContaining("levelDbfs");
    }

    @Test
    void aRecognitionFindsItsStepsByName() {
        RecognisedStep first = new RecognisedStep(0, "a", 0, 1, 1, 1, true);
        RecognisedStep second = new RecognisedStep(1, "b", 1, 2, 1, 1, true);
        Recognition recognition = new Recognition(
                List.of(first, second), List.of("c"), OptionalDouble.of(1), false, Collections.emptyList());
        assertThat(recognition.find("b")).contains(second);
        assertThat(recognition.find("c")).isEmpty();
    }

    @Test
    void recognisersAreChecked() {
        Programme programme = programme(tone(1000));
        assertThatThrownBy(() -> new ProgrammeRecogniser(programme, 7999, 1)).hasMessageContaining("sampleRateHz 7999");
        assertThatThrownBy(() -> new ProgrammeRecogniser(programme, 48_000, 3))
                .hasMessage("channels 3 is not in 1 to 2");
        assertThatThrownBy(() -> new ProgrammeRecogniser(programme, 48_000, 0)).hasMessageContaining("channels 0");
        assertThatThrownBy(() -> new ProgrammeRecogniser(programme, 48_000, 2).accept(new double[4], 0, 4))
                .hasMessage("samples of 1 channels were given, the recogniser has 2");
        assertThatThrownBy(
                        () -> new ProgrammeRecogniser(programme, 48_000, 1).accept(new double[4], new double[4], 0, 4))
                .hasMessageContaining("samples of 2 channels");
    }
}
