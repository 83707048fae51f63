/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.tapemetrology.signals.Decibels;

class MaladjustedTest {
    @Test
    void machinesAreOutOfAdjustmentWithinTheReachOfTheirTrimmers() {
        int mono = 0;
        int threeHeads = 0;
        int reels = 0;
        for (long seed = 0; seed < 200; seed++) {
            VirtualRecorder machine = VirtualRecorder.maladjusted(seed);
            mono += machine.channels() == 1 ? 1 : 0;
            threeHeads += machine.threeHeads() ? 1 : 0;
            reels += machine.speedMmPerSecond() > 100 ? 1 : 0;
            assertThat(machine.truth().unreachable()).isEmpty();
            double worst = 0;
            for (Trimmer trimmer : machine.trimmers()) {
                worst = Math.max(worst, Math.abs(trimmer.truth().error()));
            }
            // Of ten or more uniform errors up to 2.5 or more, the largest is hardly ever below 0.5: (0.2)^10.
            assertThat(worst).isBetween(0.5, 12.0);
        }
        // Binomial of 200: 20, 60 and 30 expected; 4 standard deviations and more.
        assertThat(mono).isBetween(3, 40);
        assertThat(threeHeads).isBetween(34, 86);
        assertThat(reels).isBetween(9, 52);
    }

    @Test
    void wornHeadLosesTrebleBeyondItsTrimmer() {
        VirtualRecorder machine = VirtualRecorder.wornHead(1);
        Heads heads = machine.heads();

        // 10 kHz at 47.6 mm/s; the treble control reaches 5 dB.
        double lost = Decibels.ofRatio(heads.ratioAt(4.76));
        assertThat(lost).isLessThan(-10);
        assertThat(lost + machine.trimmer("replay-equalisation-1").truth().errorAtClockwiseStop())
                .isLessThan(-4);
    }

    @Test
    void weakMotorStaysSlowAtTheStop() {
        for (long seed = 0; seed < 20; seed++) {
            VirtualRecorder machine = VirtualRecorder.weakMotor(seed);
            assertThat(machine.truth().unreachable()).containsExactly("speed");
            machine.trimmer("speed").turn(5);
            assertThat(machine.trimmer("speed").atStop()).isTrue();
            assertThat(machine.truth().speedErrorPercent()).isBetween(-3.6, -1.4);
        }
        assertThat(VirtualRecorder.worn(1).truth().unreachable()).containsExactly("speed");
        assertThat(VirtualRecorder.worn(1).truth().parts().get(0).peakPercent()).isGreaterThan(0.1);
    }
}
