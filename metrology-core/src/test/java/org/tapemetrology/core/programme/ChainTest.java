/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.programme.Step.Side;
import org.tapemetrology.core.quantity.WarningCode;

/**
 * Segments laid against steps, and steps named, from lists of segments without a recording: what a segment earns (4 for one that
 * fits in everything), what a chain pays, and what is said of it. The weights are those of the classes themselves.
 */
class ChainTest {
    private static final double BIN = 8;
    private static final Step TONE_A = step("a", new StepSignal.Tone(1000, -20), Side.BOTH, 4);
    private static final Step TONE_B = step("b", new StepSignal.Tone(3000, -20), Side.BOTH, 6);
    private static final Step TONE_C = step("c", new StepSignal.Tone(400, -20), Side.BOTH, 5);
    private static final Step PAUSE = step("pause", new StepSignal.Pause(), Side.BOTH, 3);

    private final List<Segment> segments = new ArrayList<>();
    private Programme programme = programme(TONE_A, TONE_B, TONE_C);
    private double recordingSeconds = 60;

    private static Step step(String name, StepSignal signal, Side side, double seconds) {
        return new Step(name, signal, side, seconds);
    }

    private static Programme programme(Step... steps) {
        return new Programme("test tape", List.of(steps), OptionalDouble.empty());
    }

    /** A steady line. */
    private static Segment line(double from, double to, double hertz, double dbfs, double balance, double rest) {
        return new Segment(
                true, from, to, (from + to) / 2, Math.log(hertz), 0, dbfs, balance, rest, fit(new double[513]));
    }

    private static BroadMatch.Fit fit(double[] power) {
        return new BroadMatch(List.of(TONE_A, TONE_B, TONE_C, PAUSE, TONE_A), BIN, 513).judge(power, 100);
    }

    private static Segment line(double from, double to, double hertz) {
        return line(from, to, hertz, -20, 0, -40);
    }

    private Alignment alignment(boolean pair) {
        return new Alignment(programme, segments, BIN, pair);
    }

    private Alignment.Chain best() {
        return alignment(true).best();
    }

    private Recognition named() {
        return new StepNaming(programme, segments, alignment(true), recordingSeconds).recognition();
    }

    private void add(Segment... some) {
        segments.addAll(Arrays.asList(some));
    }

    @Test
    void whatFitsEarnsFourEach() {
        add(line(10, 14, 1000), line(14, 20, 3000), line(20, 25, 400));
        Alignment.Chain chain = best();
        assertThat(chain.score()).isCloseTo(12, within(1e-9));
        assertThat(chain.lnRatio()).isCloseTo(0, within(1e-12));
        assertThat(chain.swapped()).isFalse();
        assertThat(chain.jumps()).containsExactly(true, false, false);
        assertThat(chain.nodes()).extracting(Alignment.Node::step).containsExactly(0, 1, 2);
        assertThat(chain.nodes()).extracting(Alignment.Node::segment).containsExactly(0, 1, 2);
        for (Alignment.Node node : chain.nodes()) {
            assertThat(node.reward()).isCloseTo(4, within(1e-9));
            assertThat(node.gain()).isCloseTo(0, within(1e-9));
            assertThat(node.early()).isCloseTo(10, within(1e-9));
            assertThat(node.late()).isCloseTo(10, within(1e-9));
        }
    }

    /** A machine 3 % fast plays everything 3 % shorter and higher. */
    @Test
    void theSpeedIsThatOfAllSteps() {
        double ratio = 1.03;
        add(
                line(10, 10 + 4 / ratio, ratio * 1000),
                line(10 + 4 / ratio, 10 + 10 / ratio, ratio * 3000),
                line(10 + 10 / ratio, 10 + 15 / ratio, ratio * 400));
        Alignment.Chain chain = best();
        // Half of a step of 0.15 % costs next to nothing against spreads of 0.4 % and more.
        assertThat(chain.lnRatio()).isCloseTo(Math.log(ratio), within(0.0008));
        assertThat(chain.score()).isBetween(11.8, 12.0);
        assertThat(chain.nodes().get(1).lnRatio()).isCloseTo(Math.log(ratio), within(1e-9));
        Recognition recognition = named();
        assertThat(recognition.speedRatio().orElseThrow()).isCloseTo(ratio, within(0.001));
        assertThat(recognition.found()).extracting(RecognisedStep::name).containsExactly("a", "b", "c");
        assertThat(recognition.found().get(1).speedRatio()).isCloseTo(ratio, within(1e-9));
    }

    /** From 70 % of its length on a segment is whole; a shorter one earns as much less. */
    @Test
    void piecesEarnByTheirLength() {
        programme = programme(TONE_A);
        add(line(10, 12.8, 1000));
        assertThat(best().score()).isCloseTo(4, within(1e-9));
        segments.set(0, line(10, 11.4, 1000));
        assertThat(best().score()).isCloseTo(2, within(1e-9));
        // Two pieces of one step: a tenth for the second, and together not longer than the step.
        add(line(12.4, 13.8, 1000));
        assertThat(best().score()).isCloseTo(2 + 2 - 0.1, within(1e-9));
        add(line(14, 15.9, 1000));
        assertThat(best().nodes()).hasSize(2);
        // What is longer than 1 % and a third of a second above is none at all.
        segments.clear();
        add(line(10, 14.3, 1000));
        assertThat(best().score()).isCloseTo(4, within(0.2));
        segments.set(0, line(10, 14.8, 1000));
        // A slower machine may have taken so long, but would have a lower frequency.
        assertThat(best().nodes()).isEmpty();
        assertThat(best().score()).isZero();
    }

    @Test
    void whatElseIsBesideTheLineCosts() {
        programme = programme(TONE_A);
        add(line(10, 14, 1000, -20, 0, -4));
        assertThat(best().score()).isCloseTo(4, within(1e-9));
        segments.set(0, line(10, 14, 1000, -20, 0, 0));
        assertThat(best().score()).isCloseTo(3, within(1e-9));
        segments.set(0, line(10, 14, 1000, -20, 0, 7));
        assertThat(best().score()).isCloseTo(1.5, within(1e-9));
        Segment broad = new Segment(false, 10, 14, 12, Math.log(1000), 0, -20, 0, -40, fit(new double[513]));
        segments.set(0, broad);
        assertThat(best().nodes()).isEmpty();
        Segment glides = new Segment(true, 10, 14, 12, Math.log(1000), 0.02, -20, 0, -40, fit(new double[513]));
        segments.set(0, glides);
        assertThat(best().nodes()).isEmpty();
        segments.set(0, line(10, 14, 1080));
        assertThat(best().nodes()).isEmpty();
    }

    /** Half the square of what the balance is beyond 5 dB, in 3 dB; more than 15 dB is another side. */
    @Test
    void theSideCounts() {
        programme = programme(TONE_A);
        double[][] both = {{5, 4}, {-5, 4}, {8, 3.5}, {-11, 2}, {-14, 0}};
        for (double[] one : both) {
            segments.clear();
            add(line(10, 14, 1000, -20, one[0], -40));
            assertThat(best().score()).as("%s dB", one[0]).isCloseTo(one[1], within(1e-9));
        }
        programme = programme(step("left", new StepSignal.Tone(1000, -20), Side.LEFT, 4));
        double[][] left = {{30, 4}, {12, 4}, {9, 3.5}, {6, 2}, {3.9, 0}, {-9, 0.5}, {-30, 1}};
        for (double[] one : left) {
            segments.clear();
            add(line(10, 14, 1000, -20, one[0], -40));
            Alignment.Chain chain = best();
            assertThat(chain.score()).as("%s dB", one[0]).isCloseTo(one[1], within(1e-9));
            // On the other channel it earns 3 less: the channels are swapped.
            assertThat(chain.swapped()).isEqualTo(one[0] < 0);
        }
        // A single channel tells no side.
        assertThat(alignment(false).best().score()).isCloseTo(4, within(1e-9));
        assertThat(alignment(false).best().swapped()).isFalse();
    }

    /** A step that is missing costs 0.7, a pause nothing. */
    @Test
    void missingStepsCost() {
        add(line(10, 14, 1000), line(20, 25, 400));
        assertThat(best().score()).isCloseTo(8 - 0.7, within(1e-9));
        programme = programme(TONE_A, PAUSE, TONE_C);
        segments.set(1, line(17, 22, 400));
        assertThat(best().score()).isCloseTo(8, within(1e-9));
        assertThat(best().nodes()).extracting(Alignment.Node::step).containsExactly(0, 2);
    }

    /** Where the tape was stopped the chain jumps, for 2.2; small disagreements cost half the square of their share in 0.2 s. */
    @Test
    void stopsCost() {
        programme = programme(TONE_A, TONE_B);
        add(line(10, 14, 1000), line(24, 30, 3000));
        Alignment.Chain chain = best();
        assertThat(chain.score()).isCloseTo(8 - 2.2, within(1e-9));
        assertThat(chain.jumps()).containsExactly(true, true);
        segments.set(1, line(14.1, 20.1, 3000));
        // The time from the one to the other, 0.1 s, widens the 0.2 s by 0.4 %.
        double share = 0.1 / (0.2 + 0.004 * 0.1);
        assertThat(best().score()).isCloseTo(8 - share * share / 2, within(1e-9));
        assertThat(best().jumps()).containsExactly(true, false);
    }

    /** Up to 6 dB between steps cost nothing; then the square of what is beyond, in 6 dB, at most 3. */
    @Test
    void levelsCost() {
        programme = programme(TONE_A, TONE_B);
        for (double[] one : new double[][] {{-25.9, 0}, {-32, 1}, {-14.1, 0}, {-8, 1}, {-48, 3}}) {
            segments.clear();
            add(line(10, 14, 1000), line(14, 20, 3000, one[0], 0, -40));
            double most = Math.max(8 - one[1], 4);
            assertThat(best().score()).as("%s dBFS", one[0]).isCloseTo(most, within(1e-9));
        }
        // Steps of one frequency are told apart by their levels alone: half the square of what is off, in 1.5 dB.
        programme = programme(TONE_A, step("low", new StepSignal.Tone(1000, -30), Side.BOTH, 6));
        for (double[] one : new double[][] {{-30, 0}, {-31.5, 0.5}, {-27, 2}}) {
            segments.clear();
            add(line(10, 14, 1000), line(14, 20, 1000, one[0], 0, -40));
            assertThat(best().score()).as("%s dBFS", one[0]).isCloseTo(8 - one[1], within(1e-9));
        }
    }

    /** A sweep is told by its growth and its place in it. */
    @Test
    void aSweepIsToldByItsGrowth() {
        programme = programme(step("sweep", new StepSignal.Sweep(100, 3200, -20), Side.BOTH, 10));
        double growth = Math.log(32) / 10;
        Segment swept = swept(10, 20, growth);
        segments.add(swept);
        Alignment.Chain chain = best();
        assertThat(chain.score()).isBetween(3.99, 4.0);
        assertThat((chain.nodes().get(0).early() + chain.nodes().get(0).late()) / 2)
                .isCloseTo(10, within(0.1));
        assertThat(chain.nodes().get(0).late() - chain.nodes().get(0).early()).isCloseTo(0.2, within(1e-9));
        // Half of it is whole.
        segments.set(0, swept(10, 15.2, growth));
        assertThat(best().score()).isBetween(3.9, 4.0);
        // The growth tells the speed too, so a tenth off is none within 6 % of it.
        segments.set(0, swept(10, 15.2, 1.2 * growth));
        assertThat(best().nodes()).isEmpty();
        segments.set(0, swept(10, 10.3, growth)); // sweeps by a tenth only
        assertThat(best().nodes()).isEmpty();
        Recognition recognition = new StepNaming(
                        programme, List.of(swept), new Alignment(programme, List.of(swept), BIN, true), 60)
                .recognition();
        assertThat(recognition.found()).hasSize(1);
        assertThat(recognition.found().get(0).fromSeconds()).isCloseTo(10, within(0.1));
        assertThat(recognition.found().get(0).toSeconds()).isCloseTo(20, within(0.1));
        assertThat(recognition.found().get(0).complete()).isTrue();
    }

    private static Segment swept(double from, double to, double growth) {
        double middle = (from + to) / 2;
        return new Segment(
                true,
                from,
                to,
                middle,
                Math.log(100) + growth * (middle - 10),
                growth,
                -20,
                0,
                -40,
                fit(new double[513]));
    }

    /** Noise and many tones earn what their spectra fit. */
    @Test
    void spectraCount() {
        Step noise = step("noise", new StepSignal.Noise(false, 40, 4000, -20), Side.BOTH, 5);
        Step many = step("many", new StepSignal.Multitone(List.of(400.0, 1000.0, 2800.0), -20), Side.BOTH, 5);
        programme = programme(noise, many);
        double[] white = new double[513];
        Arrays.fill(white, 1);
        double[] lines = new double[513];
        Arrays.fill(lines, 1e-9);
        for (int bin : new int[] {51, 128, 357}) { // 2 % fast
            lines[bin] = 1;
        }
        BroadMatch match = new BroadMatch(programme.steps(), BIN, 513);
        add(
                new Segment(false, 10, 14.9, 12.5, Math.log(1000), 0, -20, 0, 0, match.judge(white, 1000)),
                new Segment(false, 14.9, 19.8, 17.4, Math.log(1000), 0, -15.2, 0, 0, match.judge(lines, 1000)));
        Alignment.Chain chain = best();
        assertThat(chain.nodes()).extracting(Alignment.Node::step).containsExactly(0, 1);
        assertThat(chain.nodes().get(0).reward()).isBetween(3.8, 4.0);
        assertThat(chain.nodes().get(1).reward()).isBetween(3.8, 4.0);
        assertThat(chain.nodes().get(1).lnRatio()).isCloseTo(Math.log(1.02), within(0.003));
        assertThat(chain.nodes().get(1).gain()).isCloseTo(-15.2 + 20 - 10 * Math.log10(3), within(1e-9));
        assertThat(chain.lnRatio()).isCloseTo(Math.log(1.02), within(0.004));
        // Noise 31 dB weaker than it was sent may be that of the tape.
        segments.set(0, new Segment(false, 10, 14.9, 12.5, 7, 0, -51, 0, 0, match.judge(white, 1000)));
        assertThat(best().nodes()).extracting(Alignment.Node::step).containsExactly(1);
    }

    /** The margin is what the best chain has ahead of the best one that does without. */
    @Test
    void theMarginIsToTheNextBestChain() {
        add(line(10, 14, 1000), line(14, 20, 3000), line(20, 25, 400));
        Alignment alignment = alignment(true);
        Alignment.Chain chain = alignment.best();
        assertThat(alignment.margin(chain, 0)).isCloseTo(4, within(1e-9));
        // In the middle a missing step costs besides.
        assertThat(alignment.margin(chain, 1)).isCloseTo(4.7, within(1e-9));
        assertThat(alignment.margin(chain, 2)).isCloseTo(4, within(1e-9));
    }

    @Test
    void stepsAreNamedWithTheirPlaces() {
        programme = programme(TONE_A, PAUSE, TONE_B, TONE_C);
        add(line(10.01, 14, 1000), line(17, 23.02, 3000), line(23, 28, 400));
        Recognition recognition = named();
        assertThat(recognition.missing()).isEmpty();
        assertThat(recognition.warnings()).isEmpty();
        assertThat(recognition.swapped()).isFalse();
        assertThat(recognition.found()).extracting(RecognisedStep::name).containsExactly("a", "pause", "b", "c");
        assertThat(recognition.found()).extracting(RecognisedStep::index).containsExactly(0, 1, 2, 3);
        RecognisedStep first = recognition.find("a").orElseThrow();
        assertThat(first.fromSeconds()).isEqualTo(10.01);
        assertThat(first.toSeconds()).isEqualTo(14);
        assertThat(first.complete()).isTrue();
        assertThat(first.confidence()).isCloseTo(1 - Math.exp(-4), within(0.01));
        RecognisedStep pause = recognition.find("pause").orElseThrow();
        assertThat(pause.fromSeconds()).isCloseTo(14, within(0.02));
        assertThat(pause.toSeconds()).isCloseTo(17, within(0.02));
        assertThat(pause.complete()).isTrue();
        assertThat(pause.confidence()).isCloseTo(first.confidence(), within(0.05));
        assertThat(pause.speedRatio()).isCloseTo(1, within(1e-9));
    }

    @Test
    void aPauseWithSomethingLoudInItIsNone() {
        programme = programme(TONE_A, PAUSE, TONE_B, TONE_C);
        add(line(10, 14, 1000), line(15, 16, 700, -30, 0, -40), line(17, 23, 3000), line(23, 28, 400));
        assertThat(named().missing()).containsExactly("pause");
        assertThat(named().warnings())
                .anyMatch(w ->
                        w.code() == WarningCode.STEP_MISSING && w.message().equals("step pause was not found after a"));
        // Hum 30 dB below the steps is allowed, and so is something at the edges.
        segments.set(1, line(15, 16, 50, -50, 0, -40));
        assertThat(named().missing()).isEmpty();
        segments.set(1, line(14, 14.15, 700, -20, 0, -40));
        assertThat(named().missing()).isEmpty();
    }

    /** Longer or shorter by more than 0.15 s it holds a stop or a cut. */
    @Test
    void aPauseOfAnotherLengthIsNone() {
        programme = programme(TONE_A, PAUSE, TONE_B);
        add(line(10, 14, 1000), line(17.14, 23.14, 3000));
        assertThat(named().missing()).isEmpty();
        segments.set(1, line(17.17, 23.17, 3000));
        assertThat(named().missing()).containsExactly("pause");
        segments.set(1, line(20, 26, 3000));
        assertThat(named().missing()).containsExactly("pause");
    }

    @Test
    void whyAStepIsMissingIsSaid() {
        add(line(4, 10, 3000));
        recordingSeconds = 60;
        Recognition middle = named();
        assertThat(middle.missing()).containsExactly("a", "c");
        assertThat(middle.warnings().stream().map(w -> w.message()))
                .contains("step a was not found at the start", "step c was not found after b");
        segments.set(0, line(0, 6, 3000));
        recordingSeconds = 6.1;
        assertThat(named().warnings().stream().map(w -> w.message()))
                .contains(
                        "step a is missing: the recording begins after it",
                        "step c is missing: the recording ends before it");
        segments.clear();
        Recognition nothing = named();
        assertThat(nothing.found()).isEmpty();
        assertThat(nothing.missing()).containsExactly("a", "b", "c");
        assertThat(nothing.speedRatio()).isEmpty();
        assertThat(nothing.warnings()).hasSize(1);
        assertThat(nothing.warnings().get(0).message())
                .isEqualTo("no step of the programme test tape was recognised: is this another tape?");
    }

    /** Less than the length by 0.3 s and 3 % is cut short; the words say how much stands there. */
    @Test
    void whatIsCutShortIsTold() {
        add(line(10, 14, 1000), line(14, 20, 3000), line(20, 22.5, 400));
        Recognition recognition = named();
        assertThat(recognition.find("c").orElseThrow().complete()).isFalse();
        assertThat(recognition.warnings()).hasSize(1);
        assertThat(recognition.warnings().get(0).code()).isEqualTo(WarningCode.STEP_CUT_SHORT);
        assertThat(recognition.warnings().get(0).message())
                .isEqualTo("step c is not whole: 2.5 s of 5.0 s stand here, or it has gaps");
        segments.set(2, line(20, 24.6, 400));
        assertThat(named().find("c").orElseThrow().complete()).isTrue();
        segments.set(2, line(20, 24.5, 400));
        assertThat(named().find("c").orElseThrow().complete()).isFalse();
    }

    /** A dropout of a tenth of the step makes it incomplete; a gap of half a second ends what is measured. */
    @Test
    void gapsAreTold() {
        add(line(10, 14, 1000), line(14, 15.5, 3000), line(15.9, 20, 3000), line(20, 25, 400));
        assertThat(named().find("b").orElseThrow().complete()).isTrue();
        assertThat(named().find("b").orElseThrow().fromSeconds()).isEqualTo(14);
        segments.set(1, line(14, 15.2, 3000));
        segments.set(2, line(15.8, 20, 3000));
        RecognisedStep longer = named().find("b").orElseThrow();
        assertThat(longer.fromSeconds()).isEqualTo(15.8);
        assertThat(longer.toSeconds()).isEqualTo(20);
        assertThat(longer.complete()).isFalse();
        segments.set(1, line(14, 14.9, 3000));
        segments.set(2, line(15.1, 19.1, 3000));
        segments.add(3, line(19.5, 20, 3000));
        assertThat(named().find("b").orElseThrow().complete()).isTrue();
    }

    /** A step that stands alone must have its length, to 0.12 s and 1.5 %. */
    @Test
    void aStepAloneNeedsItsLength() {
        add(line(10, 15.85, 3000));
        assertThat(named().found()).extracting(RecognisedStep::name).containsExactly("b");
        segments.set(0, line(10, 15.7, 3000));
        Recognition recognition = named();
        assertThat(recognition.found()).isEmpty();
        assertThat(recognition.warnings())
                .anyMatch(w -> w.code() == WarningCode.STEP_UNCERTAIN
                        && w.message()
                                .equals("what stands here may be step b, but other explanations are as good: it was"
                                        + " not named"));
    }

    /** Two steps that differ in nothing are as good one as the other. */
    @Test
    void whatMayBeEitherIsNotNamed() {
        programme = programme(TONE_A, step("again", new StepSignal.Tone(1000, -20), Side.BOTH, 4));
        add(line(10, 14, 1000));
        assertThat(named().found()).isEmpty();
        assertThat(named().warnings()).anyMatch(w -> w.code() == WarningCode.STEP_UNCERTAIN);
    }

    /**
     * Two steps of one tone, of 3 s and 5 s: after a stop in the first the rest of it and half of the second, without a gap, are as long
     * as the second, and all that follows may agree with that. By truth neither is there alone.
     */
    @Test
    void aStretchOfTwoStepsThatSoundAlikeIsNotNamed() {
        StepSignal tone = new StepSignal.Tone(1000, -20);
        programme = programme(TONE_B, step("one", tone, Side.BOTH, 3), step("other", tone, Side.BOTH, 5), TONE_C);
        add(line(10, 16, 3000), line(16, 16.5, 1000), line(19, 24, 1000), line(24.8, 26.5, 1000), line(26.5, 27, 400));
        Recognition recognition = named();
        assertThat(recognition.found()).extracting(RecognisedStep::name).doesNotContain("one", "other");
        assertThat(recognition.find("b")).isPresent();
        assertThat(recognition.warnings())
                .anyMatch(w ->
                        w.code() == WarningCode.STEP_UNCERTAIN && w.message().contains("other"));
        // A pause, 3 dB, another side or another tone tells them apart.
        Step next = step("other", tone, Side.BOTH, 5);
        programme = programme(step("one", tone, Side.BOTH, 3), PAUSE, next, TONE_C);
        segments.clear();
        add(line(10, 13, 1000), line(16, 21, 1000), line(21, 26, 400));
        assertThat(named().found()).hasSize(4);
        for (Step first : List.of(
                step("one", new StepSignal.Tone(1000, -23), Side.BOTH, 3),
                step("one", new StepSignal.Tone(1020, -20), Side.BOTH, 3),
                step("one", tone, Side.LEFT, 3))) {
            programme = programme(first, next, TONE_C);
            segments.clear();
            double hertz = first.signal() instanceof StepSignal.Tone sent ? sent.frequencyHz() : 0;
            double balance = first.side() == Side.LEFT ? 40 : 0;
            add(line(10, 13, hertz, first.levelDbfs(), balance, -40), line(13, 18, 1000), line(18, 23, 400));
            assertThat(named().found()).as("%s", first).hasSize(3);
        }
    }

    @Test
    void swappedChannelsAreTold() {
        programme = programme(
                step("left", new StepSignal.Tone(1000, -20), Side.LEFT, 4),
                TONE_C,
                step("right", new StepSignal.Tone(1000, -20), Side.RIGHT, 6));
        add(line(10, 14, 1000, -20, -40, -40), line(14, 19, 400, -20, 0, -40), line(19, 25, 1000, -20, 40, -40));
        Recognition recognition = named();
        assertThat(recognition.swapped()).isTrue();
        assertThat(recognition.found()).hasSize(3);
        assertThat(recognition.warnings())
                .anyMatch(w -> w.code() == WarningCode.CHANNELS_SWAPPED
                        && w.message()
                                .equals("what was sent on one channel stands on the other: the channels are"
                                        + " swapped"));
    }

    /** Of a step that the tape was stopped in the longer part is named. */
    @Test
    void ofAStoppedStepTheLongerPartCounts() {
        add(line(10, 14, 1000), line(14, 16, 3000), line(30, 34, 3000), line(34, 39, 400));
        RecognisedStep named = named().find("b").orElseThrow();
        assertThat(named.fromSeconds()).isEqualTo(30);
        assertThat(named.toSeconds()).isEqualTo(34);
        assertThat(named.complete()).isFalse();
    }
}
