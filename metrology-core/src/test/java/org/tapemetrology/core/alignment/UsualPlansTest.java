/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The usual plans, and what trimmers are called. */
class UsualPlansTest {
    private static final List<Double> RESPONSE = List.of(100.0, 1000.0, 10_000.0);
    private static final Tolerances TOLERANCES = Tolerances.commonPractice();

    /** Levels, treble and bias are read out of the response, so it has to hold their frequencies. */
    @ParameterizedTest
    @CsvSource({"999, 10000, 10000, 999.0", "1000, 8000, 10000, 8000.0", "1000, 10000, 6300, 6300.0"})
    void theResponseHoldsTheOtherFrequencies(double referenceHz, double trebleHz, double biasHz, String lacks) {
        assertThatThrownBy(() -> new AlignmentPlan(
                        2, 2, referenceHz, -12, 3000, 10_000, trebleHz, biasHz, 2, RESPONSE, TOLERANCES))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("responseHz [100.0, 1000.0, 10000.0] lacks " + lacks + " Hz");
    }

    /** The tones of the usual tapes (IEC 60094-2, from memory): 315 Hz and 3150 Hz of a cassette, 1 kHz of a reel. */
    @Test
    void theUsualPlans() {
        AlignmentPlan cassette = AlignmentPlan.cassette(3, 1, -14, 2.6);
        assertThat(cassette.heads()).isEqualTo(3);
        assertThat(cassette.channels()).isEqualTo(1);
        assertThat(cassette.referenceDbfs()).isEqualTo(-14);
        assertThat(cassette.overBiasDropDb()).isEqualTo(2.6);
        assertThat(cassette.referenceHz()).isEqualTo(315);
        assertThat(cassette.speedHz()).isEqualTo(3150);
        assertThat(cassette.azimuthHz()).isEqualTo(10_000);
        assertThat(cassette.trebleHz()).isEqualTo(10_000);
        assertThat(cassette.biasHz()).isEqualTo(6300);
        assertThat(cassette.tolerances()).isEqualTo(TOLERANCES);
        AlignmentPlan reel = AlignmentPlan.openReel(2, 2, -9, 3);
        assertThat(reel.heads()).isEqualTo(2);
        assertThat(reel.channels()).isEqualTo(2);
        assertThat(reel.referenceDbfs()).isEqualTo(-9);
        assertThat(reel.overBiasDropDb()).isEqualTo(3);
        assertThat(reel.referenceHz()).isEqualTo(1000);
        assertThat(reel.speedHz()).isEqualTo(3150);
        assertThat(reel.azimuthHz()).isEqualTo(10_000);
        assertThat(reel.trebleHz()).isEqualTo(12_500);
        assertThat(reel.biasHz()).isEqualTo(10_000);
        assertThat(reel.tolerances()).isEqualTo(TOLERANCES);
    }

    @Test
    void aTurnIsFinite() {
        assertThat(new Turn("speed", -0.25).turns()).isEqualTo(-0.25);
        assertThatThrownBy(() -> new Turn("speed", Double.NEGATIVE_INFINITY))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("speed: -Infinity turns are not finite");
    }

    /** A machine has one motor and one screw a head, and the others once a channel. */
    @Test
    void trimmersAreNamedByChannelWhereThereIsOneEach() {
        assertThat(Arrays.stream(TrimmerKind.values()).map(kind -> kind.id(2)))
                .containsExactly(
                        "speed",
                        "replay-azimuth",
                        "record-azimuth",
                        "replay-level-2",
                        "replay-equalisation-2",
                        "bias-2",
                        "record-level-2",
                        "record-equalisation-2");
        assertThat(TrimmerKind.REPLAY_AZIMUTH.guess().isSenseKnown()).isFalse();
        assertThat(TrimmerKind.RECORD_AZIMUTH.guess().isSenseKnown()).isFalse();
        assertThat(TrimmerKind.SPEED.guess().isSenseKnown()).isTrue();
        assertThat(TrimmerKind.SPEED.guess().perTurn()).isEqualTo(16);
    }
}
