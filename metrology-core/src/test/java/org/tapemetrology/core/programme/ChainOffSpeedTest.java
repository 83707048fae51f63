/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.programme.Step.Side;
import org.tapemetrology.core.quantity.WarningCode;

/**
 * Segments of a machine 3 % fast, exactly one of the speeds that are tried: what fits earns all of 4 and stands at its place.
 * Everything in the recording is shorter by that, and every frequency higher.
 */
class ChainOffSpeedTest {
    private static final double BIN = 8;
    /** Twenty steps of 0.15 %. */
    private static final double RATIO = Math.exp(20 * 0.0015);

    private static final double START = 10;
    private static final Step A = tone("a", 1000, -20, 4);
    private static final Step B = tone("b", 3000, -20, 6);
    private static final Step C = tone("c", 400, -20, 5);
    private static final Step SWEEP = step("sweep", new StepSignal.Sweep(100, 3200, -20), 10);
    private static final Step PAUSE = step("pause", new StepSignal.Pause(), 3);
    private static final Step WHITE = step("white", new StepSignal.Noise(false, 40, 4000, -20), 5);
    private static final List<Double> MANY = List.of(400.0, 1000.0, 2800.0);

    private final List<Segment> segments = new ArrayList<>();
    private Programme programme = programme(A, B, C);
    private double recordingSeconds = 60;

    private static Step step(String name, StepSignal signal, double seconds) {
        return new Step(name, signal, Side.BOTH, seconds);
    }

    private static Step tone(String name, double hertz, double dbfs, double seconds) {
        return step(name, new StepSignal.Tone(hertz, dbfs), seconds);
    }

    private static Programme programme(Step... steps) {
        return new Programme("test tape", List.of(steps), OptionalDouble.empty());
    }

    /** A moment of the recording by that of the programme. */
    private static double at(double seconds) {
        return START + seconds / RATIO;
    }

    private BroadMatch.Fit fit(double[] power) {
        return new BroadMatch(programme.steps(), BIN, 513).judge(power, 1000);
    }

    private Segment line(double from, double to, double hertz, double dbfs) {
        return new Segment(
                true,
                at(from),
                at(to),
                at((from + to) / 2),
                Math.log(RATIO * hertz),
                0,
                dbfs,
                0,
                -40,
                fit(new double[513]));
    }

    private Segment line(double from, double to, double hertz) {
        return line(from, to, hertz, -20);
    }

    private Segment broad(double from, double to, double dbfs, double[] power) {
        return new Segment(false, at(from), at(to), at((from + to) / 2), 7, 0, dbfs, 0, 0, fit(power));
    }

    /** Part of a sweep of 100 Hz to 3.2 kHz in 10 s that begins at a moment of the programme. */
    private Segment swept(double begin, double from, double to) {
        double growth = Math.log(32) / 10 * RATIO;
        double middle = at((from + to) / 2);
        return new Segment(
                true,
                at(from),
                at(to),
                middle,
                Math.log(100 * RATIO) + growth * (middle - at(begin)),
                growth,
                -20,
                0,
                -40,
                fit(new double[513]));
    }

    private void add(Segment... some) {
        segments.addAll(Arrays.asList(some));
    }

    private Alignment alignment() {
        return new Alignment(programme, segments, BIN, true);
    }

    private Alignment.Chain best() {
        return alignment().best();
    }

    private Recognition named() {
        return new StepNaming(programme, segments, alignment(), recordingSeconds).recognition();
    }

    private static double[] white() {
        double[] white = new double[513];
        Arrays.fill(white, 1);
        return white;
    }

    private static double[] many() {
        double[] lines = new double[513];
        Arrays.fill(lines, 1e-9);
        for (double hertz : MANY) {
            lines[(int) Math.round(RATIO * hertz / BIN)] = 1;
        }
        return lines;
    }

    @Test
    void everyStepStandsAtItsPlace() {
        programme = programme(A, PAUSE, B, C);
        add(line(0, 4, 1000), line(7, 13, 3000), line(13, 18, 400));
        Alignment.Chain chain = best();
        assertThat(chain.score()).isCloseTo(12, within(1e-9));
        assertThat(chain.lnRatio()).isCloseTo(0.03, within(1e-12));
        for (Alignment.Node node : chain.nodes()) {
            assertThat(node.early()).isCloseTo(START, within(1e-9));
            assertThat(node.late()).isCloseTo(START, within(1e-9));
            assertThat(node.lnRatio()).isCloseTo(0.03, within(1e-9));
        }
        Alignment alignment = alignment();
        chain = alignment.best();
        assertThat(alignment.margin(chain, 0)).isCloseTo(4, within(1e-9));
        assertThat(alignment.margin(chain, 2)).isCloseTo(4.7, within(1e-9));
        // Asked a second time it says the same.
        assertThat(alignment.best()).isEqualTo(chain);
        assertThat(alignment.margin(chain, 2)).isCloseTo(4.7, within(1e-9));
        Recognition recognition = named();
        assertThat(recognition.warnings()).isEmpty();
        assertThat(recognition.speedRatio().orElseThrow()).isCloseTo(RATIO, within(1e-12));
        double[][] places = {{0, 4}, {4, 7}, {7, 13}, {13, 18}};
        for (int i = 0; i < 4; i++) {
            RecognisedStep found = recognition.found().get(i);
            assertThat(found.index()).isEqualTo(i);
            assertThat(found.fromSeconds()).isCloseTo(at(places[i][0]), within(1e-9));
            assertThat(found.toSeconds()).isCloseTo(at(places[i][1]), within(1e-9));
            assertThat(found.speedRatio()).isCloseTo(RATIO, within(1e-9));
            assertThat(found.complete()).isTrue();
        }
        // What the margin makes of confidence; that of a pause is the lesser of its neighbours'.
        assertThat(recognition.found().get(0).confidence()).isCloseTo(1 - Math.exp(-4), within(1e-9));
        assertThat(recognition.found().get(2).confidence()).isCloseTo(1 - Math.exp(-4.7), within(1e-9));
        assertThat(recognition.found().get(1).confidence()).isCloseTo(1 - Math.exp(-4), within(1e-9));
    }

    /** Half the square of what a frequency is off, in its spread: 0.4 % and 0.12 of a bin. */
    @Test
    void aFrequencyThatIsOffCosts() {
        add(line(0, 4, 1000), line(4, 10, 3000), line(10, 15, 400 * Math.exp(0.006)));
        double least = Double.POSITIVE_INFINITY;
        for (int n = -5; n <= 10; n++) {
            double cost = 0;
            double[] hertz = {1000, 3000, 400};
            for (int i = 0; i < 3; i++) {
                double spread = Math.hypot(0.004, 0.12 * BIN / (Math.exp(0.03 + n * 0.0015) * hertz[i]));
                double off = (i == 2 ? 0.006 : 0) - n * 0.0015;
                cost += off * off / (2 * spread * spread);
            }
            least = Math.min(least, cost);
        }
        // Times agree less at another speed, for some thousandths of it.
        assertThat(best().score()).isCloseTo(12 - least, within(0.02));
        assertThat(least).isGreaterThan(0.2);
        // Three spreads off it is no such tone: 1.4 % at 400 Hz.
        segments.set(2, line(10, 15, 400 * Math.exp(0.03)));
        assertThat(best().nodes()).hasSize(2);
    }

    @Test
    void aSweepStandsAtItsPlace() {
        programme = programme(A, SWEEP, B);
        add(line(0, 4, 1000), swept(4, 4, 14), line(14, 20, 3000));
        Alignment.Chain chain = best();
        assertThat(chain.score()).isCloseTo(12, within(1e-9));
        Alignment.Node node = chain.nodes().get(1);
        assertThat(node.early()).isCloseTo(START - 0.1, within(1e-9));
        assertThat(node.late()).isCloseTo(START + 0.1, within(1e-9));
        Recognition recognition = named();
        assertThat(recognition.found()).hasSize(3);
        assertThat(recognition.found().get(1).fromSeconds()).isCloseTo(at(4), within(1e-9));
        assertThat(recognition.found().get(1).toSeconds()).isCloseTo(at(14), within(1e-9));
        // Half of it is whole; a quarter earns the half.
        segments.set(1, swept(4, 6, 11));
        assertThat(best().score()).isCloseTo(12, within(1e-9));
        segments.set(1, swept(4, 6, 8.5));
        assertThat(best().score()).isCloseTo(10, within(1e-9));
    }

    /** Half the square of what its growth is off, in 1.5 % and 2 % over what it sweeps. */
    @Test
    void aGrowthThatIsOffCosts() {
        programme = programme(A, SWEEP, B);
        Segment exact = swept(4, 4, 14);
        for (double off : new double[] {0.03, -0.03}) {
            Segment steep = new Segment(
                    true,
                    exact.fromSeconds(),
                    exact.toSeconds(),
                    exact.middleSeconds(),
                    exact.lnHz(),
                    exact.glide() * (1 + off),
                    -20,
                    0,
                    -40,
                    exact.fit());
            segments.clear();
            add(line(0, 4, 1000), steep, line(14, 20, 3000));
            double spread = 0.015 + 0.02 / (Math.log(32) * (1 + off));
            assertThat(best().score()).isCloseTo(12 - off * off / (2 * spread * spread), within(0.05));
        }
        Segment other = new Segment(
                true,
                exact.fromSeconds(),
                exact.toSeconds(),
                exact.middleSeconds(),
                exact.lnHz(),
                exact.glide() * 1.15,
                -20,
                0,
                -40,
                exact.fit());
        segments.set(1, other);
        assertThat(best().nodes()).hasSize(2);
    }

    /** What is lost of a sweep's ends is taken for there: 0.5 of the logarithm at the start, 0.8 at the end, half of what is heard at most. */
    @ParameterizedTest
    @CsvSource({
        "1.3, 8.0, 0, 10", // 0.45 above the start, 0.69 below the end
        "1.6, 8.0, 1.6, 10", // 0.55 above
        "1.3, 7.6, 0, 7.6", // 0.83 below
        "0.8, 2.6, 0, 2.6", // 0.8 s lost of 1.8 s
        "1.2, 3.0, 1.2, 3.0" // 1.2 s
    })
    void whatIsLostOfASweepIsTakenForThere(double from, double to, double placedFrom, double placedTo) {
        programme = programme(A, SWEEP, B);
        add(line(0, 4, 1000), swept(4, 4 + from, 4 + to), line(14, 20, 3000));
        RecognisedStep sweep = named().find("sweep").orElseThrow();
        assertThat(sweep.fromSeconds()).isCloseTo(at(4 + placedFrom), within(0.01));
        assertThat(sweep.toSeconds()).isCloseTo(at(4 + placedTo), within(0.01));
        assertThat(sweep.complete()).isEqualTo(placedTo - placedFrom > 9.4);
    }

    /** Neither before the recording begins nor after it ends. */
    @Test
    void aSweepIsNotPlacedOutsideTheRecording() {
        programme = programme(A, SWEEP, B);
        add(line(0, 4, 1000), swept(4, 4.2, 12.5));
        recordingSeconds = at(13);
        assertThat(named().find("sweep").orElseThrow().toSeconds()).isCloseTo(at(13), within(1e-9));
        programme = programme(SWEEP, B);
        segments.clear();
        // The recording begins 1 s into the sweep.
        for (Segment each : List.of(swept(0, 1.1, 9.5), line(10, 16, 3000))) {
            segments.add(new Segment(
                    each.line(),
                    each.fromSeconds() - at(1),
                    each.toSeconds() - at(1),
                    each.middleSeconds() - at(1),
                    each.lnHz(),
                    each.glide(),
                    -20,
                    0,
                    -40,
                    each.fit()));
        }
        recordingSeconds = 60;
        assertThat(named().find("sweep").orElseThrow().fromSeconds()).isZero();
    }

    /** A sweep that stands alone must be heard over half of its length. */
    @Test
    void aSweepAloneNeedsHalfItsLength() {
        programme = programme(SWEEP);
        add(swept(0, 2, 7.1));
        assertThat(named().found()).hasSize(1);
        segments.set(0, swept(0, 2, 6.9));
        assertThat(named().found()).isEmpty();
        assertThat(named().warnings()).anyMatch(w -> w.code() == WarningCode.STEP_UNCERTAIN);
    }

    /**
     * A segment that runs on into its neighbour is cut 0.15 s beyond the place that the others leave it. What it is too long by
     * puts its own place off by a half, and the mean of all by a quarter.
     */
    @Test
    void aStepEndsWhereItsPlaceDoes() {
        add(line(0, 4, 1000), line(4, 10, 3000), line(10, 15.3, 400));
        RecognisedStep late = named().find("c").orElseThrow();
        assertThat(late.toSeconds()).isCloseTo(at(15) + 0.15 + 0.3 / RATIO / 4, within(1e-9));
        assertThat(late.fromSeconds()).isCloseTo(at(10), within(1e-9));
        segments.set(2, line(9.7, 15, 400));
        segments.set(1, line(4, 9.7, 3000));
        RecognisedStep early = named().find("c").orElseThrow();
        assertThat(early.fromSeconds()).isCloseTo(at(10) - 0.15 - 0.3 / RATIO / 4, within(1e-9));
        assertThat(early.toSeconds()).isCloseTo(at(15), within(1e-9));
    }

    /** Three pieces may not be longer together than their step by 1 % and 0.35 s. */
    @Test
    void piecesAreNoLongerThanTheirStep() {
        programme = programme(B);
        add(line(0, 2.1, 3000), line(2.1, 4.2, 3000), line(4, 6.1, 3000));
        assertThat(best().nodes()).hasSize(3);
        // Each earns by its length, of which 70 % of the step is the whole; the second and the third cost a tenth each.
        assertThat(best().score()).isCloseTo(3 * 4 * 2.1 / (0.7 * 6) - 0.2, within(0.2));
        // 6.45 s of the programme are 6.26 s of the recording.
        segments.set(2, line(3.85, 6.1, 3000));
        assertThat(best().nodes()).hasSize(2);
    }

    /** Pieces of a sweep may fade, for the square of what is beyond 6 dB, in 6 dB, and 3 at most. */
    @Test
    void aSweepMayFade() {
        programme = programme(SWEEP);
        Segment late = swept(0, 5.1, 10);
        Segment quiet = new Segment(
                true,
                late.fromSeconds(),
                late.toSeconds(),
                late.middleSeconds(),
                late.lnHz(),
                late.glide(),
                -40,
                0,
                -40,
                late.fit());
        add(swept(0, 0, 5), quiet);
        assertThat(best().nodes()).hasSize(2);
    }

    /** Steps of one spectrum are told by their levels: half the square of what is off, in 1.5 dB, at most 4. */
    @Test
    void stepsThatSoundAlikeAreToldByTheirLevels() {
        for (StepSignal[] pair : new StepSignal[][] {
            {new StepSignal.Multitone(MANY, -20), new StepSignal.Multitone(MANY, -30)},
            {new StepSignal.Noise(false, 40, 4000, -20), new StepSignal.Noise(false, 40, 4000, -30)},
            {new StepSignal.Tone(1000, -20), new StepSignal.Tone(1200, -30)}
        }) {
            boolean alike = true;
            for (double off : new double[] {0, 1.5, 2.4}) {
                programme = programme(step("one", pair[0], 5), step("other", pair[1], 5), B);
                segments.clear();
                double own = pair[0] instanceof StepSignal.Multitone ? 10 * Math.log10(3) : 0;
                if (pair[0] instanceof StepSignal.Tone) {
                    add(line(0, 5, 1000), line(5, 10, 1200, -30 + off), line(10, 16, 3000));
                } else {
                    double[] power = pair[0] instanceof StepSignal.Noise ? white() : many();
                    add(broad(0, 5, -20 + own, power), broad(5, 10, -30 + own + off, power), line(10, 16, 3000));
                }
                double score = best().score();
                double wanted = alike ? off * off / 4.5 : 0;
                if (off == 0) {
                    assertThat(score).isBetween(11.5, 12.0);
                } else {
                    programme = programme(step("one", pair[0], 5), step("other", pair[1], 5), B);
                    double exact = exactScore(pair, own);
                    assertThat(score).as("%s, %s dB", pair[0], off).isCloseTo(exact - wanted, within(1e-6));
                }
            }
        }
    }

    private double exactScore(StepSignal[] pair, double own) {
        List<Segment> kept = new ArrayList<>(segments);
        segments.clear();
        if (pair[0] instanceof StepSignal.Tone) {
            add(line(0, 5, 1000), line(5, 10, 1200, -30), line(10, 16, 3000));
        } else {
            double[] power = pair[0] instanceof StepSignal.Noise ? white() : many();
            add(broad(0, 5, -20 + own, power), broad(5, 10, -30 + own, power), line(10, 16, 3000));
        }
        double score = best().score();
        segments.clear();
        segments.addAll(kept);
        return score;
    }

    /** Another colour, other tones or 22 % of frequency are another sound: 6 dB off cost nothing. */
    @Test
    void stepsThatSoundDifferentMayDifferInLevel() {
        programme = programme(tone("low", 1000, -20, 5), tone("high", 1230, -30, 5));
        add(line(0, 5, 1000), line(5, 10, 1230, -24.1));
        assertThat(best().score()).isCloseTo(8, within(1e-9));
        programme = programme(
                WHITE,
                step("many", new StepSignal.Multitone(MANY, -20), 5),
                step("more", new StepSignal.Multitone(List.of(400.0, 1000.0, 2800.0, 3300.0), -20), 5));
        segments.clear();
        double own = 10 * Math.log10(3);
        add(broad(0, 5, -20, white()), broad(5, 10, -20 + own + 5.9, many()));
        double off = best().score();
        segments.set(1, broad(5, 10, -20 + own, many()));
        assertThat(best().score()).isCloseTo(off, within(1e-9));
    }

    /** Noise that is 25 dB off what is beside it is not that of the programme, nor is it so far below the loudest segment. */
    @Test
    void theNoiseOfTheTapeIsNoStep() {
        // The loudest step is not there, so noise may be 30 dB below what was sent; beside a step it may be 25 dB.
        programme = programme(A, tone("quiet", 3000, -30, 6), WHITE);
        add(line(4, 10, 3000, -30), broad(10, 15, -44.9, white()));
        assertThat(best().nodes()).extracting(Alignment.Node::step).containsExactly(1, 2);
        segments.set(1, broad(10, 15, -45.1, white()));
        assertThat(best().nodes()).extracting(Alignment.Node::step).containsExactly(1);
        // A loud segment that is no step, of more than half a second, raises what noise must have.
        programme = programme(A, B, WHITE);
        segments.clear();
        add(line(0, 4, 1000), line(4, 10, 3000), broad(10, 15, -44.5, white()), line(30, 30.4, 2000, -10));
        assertThat(best().nodes()).extracting(Alignment.Node::step).containsExactly(0, 1, 2);
        segments.set(3, line(30, 30.7, 2000, -10));
        assertThat(best().nodes()).extracting(Alignment.Node::step).containsExactly(0, 1);
        // 30 dB is the most, whatever is loud.
        programme = programme(WHITE);
        segments.clear();
        add(broad(0, 5, -49.9, white()));
        assertThat(best().nodes()).hasSize(1);
        segments.set(0, broad(0, 5, -50.1, white()));
        assertThat(best().nodes()).isEmpty();
    }

    /** A quarter of the square of what its own speed is off, in 0.4 %; and a line is no multitone's only noise. */
    @Test
    void aMultitoneHasItsOwnSpeed() {
        programme = programme(A, B, step("many", new StepSignal.Multitone(MANY, -20), 5));
        Segment fits = broad(10, 15, -20 + 10 * Math.log10(3), many());
        double own = fits.fit().lnRatio(2);
        add(line(0, 4, 1000), line(4, 10, 3000), fits);
        double off = (own - 0.03) / 0.004;
        assertThat(best().score()).isCloseTo(12 - fits.fit().cost(2) - off * off / 4, within(0.05));
        assertThat(best().nodes().get(2).lnRatio()).isCloseTo(own, within(1e-9));
        programme = programme(WHITE);
        segments.clear();
        Segment noise = broad(0, 5, -20, white());
        segments.add(new Segment(
                true, noise.fromSeconds(), noise.toSeconds(), noise.middleSeconds(), 7, 0, -20, 0, -40, noise.fit()));
        assertThat(best().nodes()).isEmpty();
    }

    /** A pause must be as long as it was sent at this speed, half a second at least, and quiet. */
    @Test
    void pausesAreNamedAtThisSpeed() {
        programme = programme(A, PAUSE, B);
        add(line(0, 4, 1000), line(7, 13, 3000));
        assertThat(named().missing()).isEmpty();
        segments.set(1, line(7 - 0.16 * RATIO, 13 - 0.16 * RATIO, 3000));
        assertThat(named().missing()).containsExactly("pause");
        segments.set(1, line(7 - 0.14 * RATIO, 13 - 0.14 * RATIO, 3000));
        assertThat(named().missing()).isEmpty();
        assertThat(named().find("pause").orElseThrow().complete()).isTrue();
        // Something as loud as 20 dB below the steps, 0.2 s inside.
        segments.add(1, line(5, 5.6, 700, -39));
        assertThat(named().missing()).containsExactly("pause");
        segments.set(1, line(5, 5.6, 700, -41));
        assertThat(named().missing()).isEmpty();
        segments.set(1, line(4, 4.19, 700, -20));
        assertThat(named().missing()).isEmpty();
        segments.set(1, line(4, 4.3, 700, -20));
        assertThat(named().missing()).containsExactly("pause");
        segments.set(1, line(6.82, 6.99, 700, -20));
        assertThat(named().missing()).isEmpty();
        segments.set(1, line(6.6, 6.99, 700, -20));
        assertThat(named().missing()).containsExactly("pause");
    }

    @Test
    void whyAStepIsMissingIsSaidAtThisSpeed() {
        programme = programme(A, B, C);
        segments.add(line(4, 10, 3000));
        recordingSeconds = at(10) + 0.19;
        assertThat(messages()).contains("step c is missing: the recording ends before it");
        recordingSeconds = at(10) + 0.21;
        assertThat(messages()).contains("step c was not found after b", "step a was not found at the start");
        for (double early : new double[] {0.19, 0.21}) {
            // The programme begins so that its first step ends at this moment.
            Segment b = line(4, 10, 3000);
            double shift = at(4) - early;
            segments.set(
                    0,
                    new Segment(
                            true,
                            b.fromSeconds() - shift,
                            b.toSeconds() - shift,
                            b.middleSeconds() - shift,
                            b.lnHz(),
                            0,
                            -20,
                            0,
                            -40,
                            b.fit()));
            recordingSeconds = 60;
            assertThat(messages())
                    .contains(
                            early < 0.2
                                    ? "step a is missing: the recording begins after it"
                                    : "step a was not found at the start");
        }
        segments.set(0, line(4, 8, 3000));
        segments.add(line(10, 15, 400));
        assertThat(messages()).contains("step b is not whole: 3.9 s of 5.8 s stand here, or it has gaps");
    }

    private List<String> messages() {
        return named().warnings().stream().map(w -> w.message()).toList();
    }

    /** A tone may glide by 1.5 % a second and 0.3 bins over its length. */
    @ParameterizedTest
    @CsvSource({
        "1000, 4, 0.0154, 1",
        "1000, 4, 0.0158, 0",
        "400, 1, 0.0205, 1",
        "400, 1, 0.0215, 0",
        "400, 1, -0.0215, 0"
    })
    void aToneHardlyGlides(double hertz, double seconds, double glide, int nodes) {
        programme = programme(tone("t", hertz, -20, Math.max(1, seconds)));
        Segment steady = line(0, seconds * RATIO, hertz);
        add(new Segment(
                true,
                steady.fromSeconds(),
                steady.toSeconds(),
                steady.middleSeconds(),
                steady.lnHz(),
                glide,
                -20,
                0,
                -40,
                steady.fit()));
        assertThat(best().nodes()).hasSize(nodes);
    }

    /** What is 14 dB weaker altogether is as good. */
    @Test
    void theGainOfTheWholeDoesNotCount() {
        programme = programme(A, WHITE, B);
        for (double gain : new double[] {0, -14, 8}) {
            segments.clear();
            add(line(0, 4, 1000, -20 + gain), broad(4, 9, -20 + gain, white()), line(9, 15, 3000, -20 + gain));
            assertThat(best().nodes()).hasSize(3);
            assertThat(best().score()).isCloseTo(12 - segments.get(1).fit().cost(1), within(1e-9));
        }
        programme = programme(A, tone("again", 1000, -20, 6));
        segments.clear();
        add(line(0, 4, 1000, -25), line(4, 10, 1000, -25));
        assertThat(best().score()).isCloseTo(8, within(1e-9));
    }
}
