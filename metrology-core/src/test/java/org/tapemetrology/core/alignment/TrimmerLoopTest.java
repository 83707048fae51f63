/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/** Against trimmers whose law is not that which the loop assumes: taper, dead travel, end stops, an unsure hand. */
class TrimmerLoopTest {
    private static final Target LEVEL = Target.of(Quantity.CHANNEL_BALANCE, 0, 0.5);

    /** A gain in dB over the track of a trimmer, steeper to one end, with dead travel and a hand. */
    private static final class Bench {
        private final Random random;
        private final double perTurn;
        private final double taper;
        private final double dead;
        private final double scatter;
        private double wiper;
        private double slack;
        private double offset;

        Bench(long seed, double start, double scatter) {
            random = new Random(seed);
            perTurn = (random.nextBoolean() ? 1 : -1) * (4 + 12 * random.nextDouble());
            taper = 0.8 * random.nextDouble();
            dead = 0.08 * random.nextDouble();
            this.scatter = scatter;
            offset = start - gain();
        }

        private double gain() {
            return perTurn * wiper * (1 + taper * wiper);
        }

        double sign() {
            return Math.signum(perTurn);
        }

        void turn(double asked) {
            double made = asked * (1 + 0.1 * random.nextGaussian());
            double before = slack;
            slack = Math.max(0, Math.min(dead, slack + made));
            double moved = made - (slack - before);
            wiper = Math.max(-0.5, Math.min(0.5, wiper + moved));
        }

        double truth() {
            return offset + gain();
        }

        Reading read() {
            return Reading.valid(Quantity.CHANNEL_BALANCE, truth() + scatter * random.nextGaussian(), "bench")
                    .withTypeA(StandardUncertainty.of(scatter))
                    .withUncertainty(new ExpandedUncertainty(Math.hypot(0.1, 1.96 * scatter), 0.95));
        }
    }

    /**
     * 500 trimmers off by up to 3 dB, of which only the sense and the order of magnitude are known. 95 % is what a guided
     * alignment is asked for; the binomial deviation of that is 1 %.
     */
    @Test
    void comesWithinTheToleranceInFiveRounds() {
        int within = 0;
        int rounds = 0;
        for (int trial = 0; trial < 500; trial++) {
            Random random = new Random(trial);
            Bench bench = new Bench(1000 + trial, 6 * random.nextDouble() - 3, 0.05);
            TrimmerLoop loop = new TrimmerLoop("record level", LEVEL, new TrimmerLaw(8 * bench.sign(), 0.5));
            Instruction instruction = loop.next(bench.read());
            for (int round = 0; round < 5 && instruction.state() == State.TURN; round++) {
                bench.turn(instruction.turns().orElseThrow());
                instruction = loop.next(bench.read());
            }
            boolean done = instruction.state() == State.DONE || instruction.state() == State.AS_NEAR_AS_KNOWN;
            within += done && Math.abs(bench.truth()) <= 0.5 ? 1 : 0;
            rounds += loop.rounds();
        }
        assertThat(within / 500.0).isGreaterThan(0.95);
        assertThat(rounds / 500.0).isLessThan(4);
    }

    /** A linear trimmer without noise: after one turn its slope is known to the hand's tenth or better. */
    @Test
    void learnsWhatATurnDoes() {
        TrimmerLaw law = new TrimmerLaw(5, 1);
        assertThat(law.turnsFor(10)).isCloseTo(2, within(1e-12));
        for (int i = 0; i < 20; i++) {
            law.observe(0.2, 0.2 * 8, 1e-3);
        }
        assertThat(law.perTurn()).isCloseTo(8, within(0.2));
        assertThat(law.perTurnDeviation()).isLessThan(0.8);
        assertThat(law.observed()).isEqualTo(20);
    }

    /** Dead travel of 0.05 turns shows where the direction reverses, and is then added to the turn. */
    @Test
    void learnsTheDeadTravel() {
        TrimmerLaw law = new TrimmerLaw(10, 0.2);
        double sign = 1;
        for (int i = 0; i < 30; i++) {
            law.observe(sign * 0.3, sign * (0.3 - (i == 0 ? 0 : 0.05)) * 10, 1e-3);
            sign = -sign;
        }
        // Each turn is blurred by a tenth of the hand, 0.03 turns; thirty of them leave some 0.01.
        assertThat(law.deadTravel()).isCloseTo(0.05, within(0.02));
        double forth = law.turnsFor(-1);
        double back = law.turnsFor(1);
        assertThat(Math.abs(Math.abs(forth) - Math.abs(back))).isCloseTo(law.deadTravel(), within(1e-9));
    }

    /** A trimmer that does nothing is found out, not turned for ever. */
    @Test
    void saysWhereTheMachineCannot() {
        TrimmerLoop loop = new TrimmerLoop("speed", LEVEL, new TrimmerLaw(8, 0.5));
        Reading stuck = Reading.valid(Quantity.CHANNEL_BALANCE, 3, "bench")
                .withTypeA(StandardUncertainty.of(0.02))
                .withUncertainty(new ExpandedUncertainty(0.1, 0.95));
        Instruction instruction = loop.next(stuck);
        int turns = 0;
        while (instruction.state() == State.TURN && turns < 10) {
            turns++;
            instruction = loop.next(stuck);
        }
        assertThat(instruction.state()).isEqualTo(State.OUT_OF_REACH);
        assertThat(turns).isEqualTo(2);
        assertThat(instruction.sentence()).contains("out of reach");
    }

    @Test
    void stopsWhereItIsGoodEnoughOrNotKnownBetter() {
        TrimmerLoop loop = new TrimmerLoop("level", LEVEL, new TrimmerLaw(8, 0.5));
        Reading good = Reading.valid(Quantity.CHANNEL_BALANCE, 0.3, "bench")
                .withUncertainty(new ExpandedUncertainty(0.1, 0.95));
        assertThat(loop.next(good).state()).isEqualTo(State.DONE);
        Reading doubtful = Reading.valid(Quantity.CHANNEL_BALANCE, 0.3, "bench")
                .withUncertainty(new ExpandedUncertainty(0.7, 0.95));
        assertThat(loop.next(doubtful).state()).isEqualTo(State.AS_NEAR_AS_KNOWN);
        assertThat(loop.canBeDone(0.7)).isFalse();
        Instruction turn = loop.next(Reading.valid(Quantity.CHANNEL_BALANCE, -2, "bench")
                .withUncertainty(new ExpandedUncertainty(0.1, 0.95)));
        assertThat(turn.sentence()).contains("clockwise").contains("rise by 2.00 dB");
        assertThat(turn.change()).isEqualTo(2);
    }

    /** One turn by Bayes' rule, by hand: prior 5 with deviation 5 a turn, a hand of a tenth, dead travel of 0.05 turns. */
    @Test
    void aTurnIsWeighedByWhatIsKnown() {
        TrimmerLaw law = new TrimmerLaw(5, 1);
        assertThat(law.isSenseKnown()).isFalse();
        // A turn of 2 for a change of 10: the hand is off by 0.2 turns of 5, and the slope by 5 a turn.
        assertThat(law.deviationAfter(10)).isCloseTo(Math.sqrt(1 + 100), within(1e-12));
        law.observe(0.5, 4, 0.3);
        double prior = 25 + Math.pow(0.3 * 5 * 0.5, 2);
        double noise = 0.09 + Math.pow(0.1 * 5 * 0.5, 2) + Math.pow(0.05 * 5, 2);
        double gain = prior * 0.5 / (prior * 0.25 + noise);
        assertThat(law.perTurn()).isCloseTo(5 + gain * (4 - 2.5), within(1e-12));
        assertThat(law.perTurnDeviation()).isCloseTo(Math.sqrt(prior - gain * prior * 0.5), within(1e-12));
        assertThat(law.isSenseKnown()).isTrue();
        assertThat(law.deadTravel()).isZero();
        // Back again the dead travel may be in it.
        double slope = law.perTurn();
        double turns = -1 / slope;
        double deviation = Math.sqrt(
                Math.pow(0.1 * slope * turns, 2) + Math.pow(law.perTurnDeviation() * turns, 2) + Math.pow(0.05 * 5, 2));
        assertThat(law.deviationAfter(-1)).isCloseTo(deviation, within(1e-12));
        assertThat(law.turnsFor(1)).isCloseTo(1 / slope, within(1e-12));
    }

    @Test
    void whatTellsNothingIsRefused() {
        TrimmerLaw law = new TrimmerLaw(5, 1);
        assertThatThrownBy(() -> law.observe(0, 1, 0.1)).hasMessage("a turn of 0.0 with a change of 1.0 tells nothing");
        assertThatThrownBy(() -> law.observe(1, Double.NaN, 0.1)).hasMessageContaining("tells nothing");
        assertThatThrownBy(() -> law.observe(1, 1, -0.1)).hasMessageContaining("standardUncertainty");
        assertThatThrownBy(() -> new TrimmerLaw(Double.NaN, 1)).hasMessage("perTurn NaN is no change");
        assertThatThrownBy(() -> new TrimmerLaw(5, 0)).hasMessageContaining("doubt");
    }

    /** Where the sense is not known a quarter of the turn comes first, but no less than three times the dead travel. */
    @Test
    void theFirstTurnIsSmallWhereTheSenseIsNotKnown() {
        for (double[] one : new double[][] {{-10, 0.5}, {10, -0.5}, {-2, 0.15}, {2, -0.15}}) {
            TrimmerLoop loop = new TrimmerLoop("screw", LEVEL, new TrimmerLaw(5, 2));
            Instruction says = loop.next(Reading.valid(Quantity.CHANNEL_BALANCE, one[0], "bench"));
            assertThat(says.turns().orElseThrow()).isCloseTo(one[1], within(1e-12));
            assertThat(loop.rounds()).isEqualTo(1);
            assertThat(loop.law().observed()).isZero();
        }
        TrimmerLoop loop = new TrimmerLoop("screw", LEVEL, new TrimmerLaw(5, 2));
        assertThat(loop.canBeDone(0.49)).isTrue();
        assertThat(loop.canBeDone(0.5)).isFalse();
    }

    @Test
    void wrongReadingsAreRefused() {
        TrimmerLoop loop = new TrimmerLoop("level", LEVEL, new TrimmerLaw(8, 0.5));
        assertThat(loop.next(Reading.without(Quantity.CHANNEL_BALANCE, Status.NO_CARRIER, "bench"))
                        .state())
                .isEqualTo(State.NO_READING);
        assertThatThrownBy(() -> loop.next(Reading.valid(Quantity.SPEED_ERROR, 1, "bench")))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("speed.error");
        assertThatThrownBy(() -> new TrimmerLaw(0, 1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new TrimmerLaw(5, 1).observe(0, 1, 1)).isInstanceOf(IllegalArgumentException.class);
    }
}
