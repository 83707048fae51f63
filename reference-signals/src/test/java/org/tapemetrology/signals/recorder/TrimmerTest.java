/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.apache.commons.math3.stat.descriptive.SummaryStatistics;
import org.junit.jupiter.api.Test;

class TrimmerTest {
    private static final TrimmerLaw TAPERED = new TrimmerLaw("dB", -8, 6, 1.5, 10, 0);
    private static final TrimmerLaw SLACK = new TrimmerLaw("dB", -10, 10, 0, 100, 2);

    @Test
    void taperMakesEqualTurnsUnequal() {
        double firstTurn = TAPERED.effectAt(1) - TAPERED.effectAt(0);
        double lastTurn = TAPERED.effectAt(10) - TAPERED.effectAt(9);

        assertThat(TAPERED.effectAt(0)).isEqualTo(-8);
        assertThat(TAPERED.effectAt(10)).isCloseTo(6, within(1e-12));
        // An exponential over a travel of ten turns: nine turns apart, the steps have the ratio e^(1.5 * 9/10).
        assertThat(lastTurn / firstTurn).isCloseTo(Math.exp(1.35), within(1e-9));
        // Negative control: without taper all turns are equal.
        assertThat(SLACK.effectAt(1) - SLACK.effectAt(0))
                .isCloseTo(SLACK.effectAt(100) - SLACK.effectAt(99), within(1e-12));
    }

    @Test
    void placeOfAnEffectIsTheInverseAndEndsAtTheStops() {
        for (double effect = -8; effect <= 6; effect += 0.5) {
            assertThat(TAPERED.effectAt(TAPERED.turnsFor(effect))).isCloseTo(effect, within(1e-12));
        }
        assertThat(TAPERED.turnsFor(-20)).isEqualTo(0);
        assertThat(TAPERED.turnsFor(20)).isEqualTo(10);
        TrimmerLaw falling = new TrimmerLaw("arcmin", 40, -40, -0.5, 3, 0);
        assertThat(falling.effectAt(falling.turnsFor(7))).isCloseTo(7, within(1e-12));
    }

    @Test
    void handMissesByTenPerCentOfTheTurn() {
        SummaryStatistics ratios = new SummaryStatistics();
        for (int seed = 0; seed < 2000; seed++) {
            Trimmer trimmer = new Trimmer("t", new TrimmerLaw("dB", 0, 10, 0, 10, 0), 0, 5, new SplittableRandom(seed));
            trimmer.turn(-0.5);
            ratios.addValue((5 - trimmer.truth().placeTurns()) / 0.5);
        }

        // The mean of 2000 scatters by 0.0022, the standard deviation by 0.0016: four times that.
        assertThat(ratios.getMean()).isCloseTo(1, within(0.009));
        assertThat(ratios.getStandardDeviation()).isCloseTo(0.1, within(0.007));
        assertThat(ratios.getMax()).isLessThanOrEqualTo(1.3 + 1e-9);
    }

    @Test
    void reversedDirectionHasADeadZone() {
        Trimmer trimmer = new Trimmer("t", SLACK, 0, 0, new SplittableRandom(4));
        trimmer.turn(10);
        double reached = trimmer.truth().placeTurns();

        trimmer.turn(-1);
        assertThat(trimmer.truth().placeTurns()).isEqualTo(reached);
        trimmer.turn(-4);
        // Five turns back, each 10 % at worst 30 % off, less two turns of play.
        assertThat(reached - trimmer.truth().placeTurns()).isBetween(5 * 0.7 - 2, 5 * 1.3 - 2);
        double back = trimmer.truth().placeTurns();
        trimmer.turn(-1);
        // On in the same direction it acts at once.
        assertThat(back - trimmer.truth().placeTurns()).isBetween(0.7, 1.3);
    }

    @Test
    void stopsEndTheTravel() {
        Trimmer trimmer = new Trimmer("speed", TAPERED, -1, 0, new SplittableRandom(1));
        assertThat(trimmer.truth().error()).isCloseTo(0, within(1e-12));
        assertThat(trimmer.truth().reachable()).isTrue();

        trimmer.turn(50);

        assertThat(trimmer.atStop()).isTrue();
        assertThat(trimmer.truth().placeTurns()).isEqualTo(10);
        assertThat(trimmer.truth().error()).isCloseTo(5, within(1e-12));
        trimmer.turn(-1);
        assertThat(trimmer.atStop()).isFalse();
        assertThat(trimmer.truth().placeTurns()).isBetween(8.7, 9.3);
    }

    @Test
    void errorsOfComponentsMayBeBeyondItsReach() {
        Trimmer trimmer = new Trimmer("speed", TAPERED, -7, 0, new SplittableRandom(1));

        assertThat(trimmer.truth().error()).isCloseTo(-1, within(1e-12));
        assertThat(trimmer.truth().reachable()).isFalse();
    }

    @Test
    void badTurnAndBadLawAreRefused() {
        Trimmer trimmer = new Trimmer("bias-1", TAPERED, 0, 0, new SplittableRandom(1));

        assertThatThrownBy(() -> trimmer.turn(Double.NaN))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("turn of bias-1 is NaN, allowed: finite");
        assertThatThrownBy(() -> new TrimmerLaw("dB", 1, 1, 0, 1, 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("allowed: not the lowest");
    }
}
