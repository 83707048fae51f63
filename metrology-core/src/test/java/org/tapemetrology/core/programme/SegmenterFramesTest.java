/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Segments of frames whose bins are written down: 513 bins of 8 Hz, a frame every 0.1 s, the middle of the first at 0.2 s. */
class SegmenterFramesTest {
    private static final double BIN = 8;
    private static final double HOP = 0.1;
    private static final double FIRST = 0.2;

    private final PairSpectrum spectrum = new PairSpectrum(1024);
    private final Segmenter segmenter = segmenter(new StepSignal.Tone(1000, -20));

    private static Segmenter segmenter(StepSignal signal) {
        Programme programme =
                new Programme("p", List.of(new Step("s", signal, Step.Side.BOTH, 5)), OptionalDouble.empty());
        return new Segmenter(programme, BIN, 513, HOP, FIRST);
    }

    /** Frames of so many bins, each with a power, of which channel 1 has a part. */
    private void sided(int frames, double part, double... binsAndPowers) {
        for (int n = 0; n < frames; n++) {
            Arrays.fill(spectrum.both(), 0);
            for (int i = 0; i < binsAndPowers.length; i += 2) {
                spectrum.both()[(int) binsAndPowers[i]] += binsAndPowers[i + 1];
            }
            split(part);
            segmenter.accept(spectrum);
        }
    }

    private void split(double part) {
        for (int k = 0; k < 513; k++) {
            spectrum.of(0)[k] = part * spectrum.both()[k];
            spectrum.of(1)[k] = (1 - part) * spectrum.both()[k];
        }
    }

    private void feed(int frames, double... binsAndPowers) {
        sided(frames, 0.5, binsAndPowers);
    }

    /** White noise, as it were. */
    private void broad(int frames, double power) {
        for (int n = 0; n < frames; n++) {
            Arrays.fill(spectrum.both(), power);
            spectrum.both()[0] = 0;
            split(0.5);
            segmenter.accept(spectrum);
        }
    }

    private static double middle(double frame) {
        return FIRST + frame * HOP;
    }

    private void assertPlace(int segment, double firstFrame, double lastFrame) {
        Segment found = segmenter.segments().get(segment);
        assertThat(found.fromSeconds()).isCloseTo(Math.max(0, middle(firstFrame - 0.5)), within(1e-9));
        assertThat(found.toSeconds()).isCloseTo(middle(lastFrame + 0.5), within(1e-9));
    }

    private int count() {
        return segmenter.segments().size();
    }

    @Test
    void aLineHasItsNumbers() {
        feed(3);
        sided(20, 0.8, 200, 0.1, 300, 0.001);
        feed(2);
        Segment line = segmenter.segments().get(0);
        assertThat(line.line()).isTrue();
        assertPlace(0, 3, 22);
        assertThat(line.seconds()).isCloseTo(2, within(1e-9));
        assertThat(line.middleSeconds()).isCloseTo(middle(12.5), within(1e-9));
        assertThat(line.lnHz()).isCloseTo(Math.log(1600), within(1e-12));
        assertThat(line.glide()).isCloseTo(0, within(1e-12));
        // A sine of full scale has a mean square of a half.
        assertThat(line.levelDbfs()).isCloseTo(10 * Math.log10(2 * 0.08), within(1e-9));
        assertThat(line.balanceDb()).isCloseTo(10 * Math.log10(4), within(1e-9));
        assertThat(line.restDb()).isCloseTo(-20, within(1e-9));
        sided(5, 0.1, 200, 0.1);
        assertThat(segmenter.segments().get(1).levelDbfs()).isCloseTo(10 * Math.log10(2 * 0.09), within(1e-9));
        segmenter.reset();
        assertThat(count()).isZero();
        feed(5, 200, 0.1);
        assertPlace(0, 0, 4);
    }

    @ParameterizedTest
    @CsvSource({"1.01e-9, 1", "0.99e-9, 0"})
    void silenceIsOneBillionth(double power, int segments) {
        feed(6, 200, power);
        assertThat(count()).isEqualTo(segments);
        segmenter.reset();
        feed(6, 1, 1); // what is in the lowest bins is no signal
        assertThat(count()).isZero();
    }

    @ParameterizedTest
    @CsvSource({"3, 0", "4, 1"})
    void aSegmentHasFourFrames(int frames, int segments) {
        feed(frames, 200, 1);
        assertThat(count()).isEqualTo(segments);
        feed(1);
        assertThat(count()).isEqualTo(segments);
    }

    /**
     * To begin, a line has 8 times the power of what is from 0.7 to 1.4 of it, beside 6 % of it; to go on, 4 times. The peak
     * of a single bin is found in the one after it, 201: three bins together, weighted by frequency.
     */
    @Test
    void aLineStandsOut() {
        for (int beside : new int[] {140, 187, 215, 281}) {
            segmenter.reset();
            feed(6, 200, 1, beside, 0.12);
            assertThat(segmenter.segments().get(0).line()).as("bin %d", beside).isTrue();
            segmenter.reset();
            feed(6, 200, 1, beside, 0.13);
            assertThat(segmenter.segments().get(0).line()).as("bin %d", beside).isFalse();
        }
        for (int within : new int[] {188, 214}) {
            segmenter.reset();
            feed(6, 200, 1, within, 0.5);
            assertThat(segmenter.segments().get(0).line()).as("bin %d", within).isTrue();
        }
        for (int outside : new int[] {139, 282}) {
            segmenter.reset();
            feed(6, 200, 1, outside, 0.3);
            assertThat(segmenter.segments().get(0).line()).as("bin %d", outside).isTrue();
        }
        segmenter.reset();
        feed(6, 200, 1);
        feed(6, 200, 1, 150, 0.24);
        assertThat(count()).isEqualTo(1);
        feed(6, 200, 1, 150, 0.26);
        assertThat(count()).isEqualTo(2);
        assertThat(segmenter.segments().get(1).line()).isFalse();
    }

    /** It has 60 % of the power weighted by frequency to begin, 40 % to go on. */
    @Test
    void aLinePrevails() {
        feed(6, 200, 1, 50, 2.6);
        assertThat(segmenter.segments().get(0).line()).isTrue();
        segmenter.reset();
        feed(6, 200, 1, 50, 2.7);
        assertThat(segmenter.segments().get(0).line()).isFalse();
        segmenter.reset();
        feed(6, 200, 1);
        feed(6, 200, 1, 50, 3.9, 30, 3.3);
        assertThat(count()).isEqualTo(1);
        feed(6, 200, 1, 50, 3.9, 30, 3.8);
        assertThat(count()).isEqualTo(2);
    }

    /** Low lines are three bins wide either way, and what is beside them reaches nine bins. */
    @Test
    void lowLinesAreAsWideAsTheWindow() {
        for (int[] bin : new int[][] {
            {20, 24, 1}, {20, 25, 0}, {20, 30, 0}, {20, 31, 1}, {20, 18, 1}, {20, 17, 0}, {20, 12, 0}, {20, 11, 1}
        }) {
            segmenter.reset();
            feed(6, bin[0], 1, bin[1], 0.14);
            assertThat(segmenter.segments().get(0).line()).as("bin %d", bin[1]).isEqualTo(bin[2] == 1);
        }
    }

    /** In the first three frames a line may jump by 8 %, then by 2.5 % from where it glides to, or by 1.2 bins. */
    @Test
    void aLineDoesNotJump() {
        feed(2, 400, 1);
        feed(6, 432, 1);
        assertThat(count()).isEqualTo(1);
        segmenter.reset();
        feed(2, 400, 1);
        feed(6, 434, 1);
        assertThat(count()).isEqualTo(1); // two frames are none
        assertPlace(0, 2, 7);
        segmenter.reset();
        feed(5, 400, 1);
        feed(6, 410, 1);
        assertThat(count()).isEqualTo(1);
        segmenter.reset();
        feed(5, 400, 1);
        feed(6, 411, 1);
        assertThat(count()).isEqualTo(2);
        segmenter.reset();
        feed(5, 20, 1);
        feed(6, 21, 1); // 4.9 %, less than 1.2 bins
        assertThat(count()).isEqualTo(1);
        feed(6, 20, 1);
        assertThat(count()).isEqualTo(1);
        feed(6, 22, 1);
        assertThat(count()).isEqualTo(2);
    }

    /** Lines between bins are at the centre of their power; one that glides by 1 % a frame goes on. */
    @Test
    void aGlideIsFollowed() {
        int frames = 40;
        for (int n = 0; n < frames; n++) {
            double line = 200 * Math.exp(0.012 * n);
            int below = (int) line;
            feed(1, below, 1 - (line - below), below + 1, line - below);
        }
        assertThat(count()).isEqualTo(1);
        Segment glide = segmenter.segments().get(0);
        assertThat(glide.glide()).isCloseTo(0.12, within(1e-3));
        assertThat(glide.lnHz()).isCloseTo(Math.log(1600) + 0.012 * (frames - 1) / 2, within(1e-3));
        assertPlace(0, 0, frames - 1);
    }

    /** A change of 8 dB between the channels is another segment, once there are four frames. */
    @ParameterizedTest
    @CsvSource({"0.85, 1", "0.87, 2", "0.15, 1", "0.13, 2"})
    void anotherSideIsAnotherSegment(double part, int segments) {
        // 10 lg(0.85/0.15) = 7.5, 10 lg(0.87/0.13) = 8.3.
        sided(8, 0.5, 200, 1);
        sided(1, part, 200, 1);
        sided(6, part, 200, 1);
        assertThat(count()).isEqualTo(segments);
        segmenter.reset();
        sided(3, 0.5, 200, 1);
        sided(8, part, 200, 1);
        assertThat(count()).isEqualTo(1);
    }

    /**
     * The mean of four frames is held against a slow mean, from twelve frames on: 6 dB less are seen with the third new
     * frame, 10 lg(0.4375/0.834) = -2.8, and the last four frames are not counted to what was before.
     */
    @Test
    void anotherLevelIsSeenAfterThreeFrames() {
        feed(20, 200, 1);
        feed(20, 200, 0.25);
        assertThat(count()).isEqualTo(2);
        assertPlace(0, 0, 18);
        assertPlace(1, 23, 39);
        segmenter.reset();
        feed(20, 200, 1);
        feed(20, 200, 1.5); // 1.8 dB
        assertThat(count()).isEqualTo(1);
        segmenter.reset();
        // Before twelve frames a level is not known.
        feed(8, 200, 1);
        feed(3, 200, 0.25);
        assertThat(count()).isEqualTo(1);
        assertPlace(0, 0, 10);
    }

    /** Of a glide the level is no guide. */
    @Test
    void theLevelOfASweepMayChange() {
        for (int n = 0; n < 40; n++) {
            double line = 200 * Math.exp(0.015 * n);
            int below = (int) line;
            double power = n < 20 ? 1 : 0.2;
            feed(1, below, power * (1 - (line - below)), below + 1, power * (line - below));
        }
        assertThat(count()).isEqualTo(1);
    }

    /** Frames at the ends with less than a quarter of the mean power are filled in part: three at most, and none of a sweep. */
    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2, 3})
    void framesInPartAreCutOff(int weak) {
        feed(weak, 200, 0.2);
        feed(20, 200, 1);
        feed(weak, 200, 0.2);
        feed(1);
        // Of the slow mean three weak frames at the end are no change yet.
        assertThat(count()).isEqualTo(1);
        assertPlace(0, weak, weak + 19);
        segmenter.reset();
        feed(1, 200, 0.26);
        feed(10, 200, 1);
        feed(1, 200, 0.26);
        feed(1);
        assertPlace(0, 0, 11);
    }

    @Test
    void aBroadSegmentHasItsNumbers() {
        broad(12, 1e-4);
        feed(3);
        assertThat(count()).isEqualTo(1);
        Segment broad = segmenter.segments().get(0);
        assertThat(broad.line()).isFalse();
        assertPlace(0, 0, 11);
        // Bins 2 to 512 of either channel, half the power each.
        assertThat(broad.levelDbfs()).isCloseTo(10 * Math.log10(511 * 1e-4), within(1e-9));
        assertThat(broad.balanceDb()).isCloseTo(0, within(1e-9));
    }

    /** A frame that is 8 dB from the slow mean ends it at once; 3 dB are seen after some frames, from the eighth on. */
    @Test
    void anotherLevelOfNoiseIsAnotherSegment() {
        broad(12, 1e-4);
        broad(12, 6.5e-4);
        assertThat(count()).isEqualTo(2);
        assertPlace(0, 0, 11);
        assertPlace(1, 12, 23);
        segmenter.reset();
        broad(12, 6.5e-4);
        broad(12, 1e-4);
        assertThat(count()).isEqualTo(2);
        assertPlace(0, 0, 11);
        segmenter.reset();
        broad(20, 1e-4);
        broad(12, 4e-4);
        // 6 dB more: with the second new frame the mean of four is 10 lg(2.5/1.46) = 2.3 dB above, with the third 10
        // lg(3.25/1.66) = 2.9, with the fourth 3.4.
        assertThat(count()).isEqualTo(2);
        assertPlace(0, 0, 19);
        assertPlace(1, 24, 31);
        segmenter.reset();
        broad(20, 1e-4);
        broad(20, 1.7e-4); // 2.3 dB
        assertThat(count()).isEqualTo(1);
        segmenter.reset();
        broad(4, 1e-4);
        broad(3, 4e-4);
        assertThat(count()).isEqualTo(1);
    }

    /** A spectrum that changes by 4.5 dB in the mean of the octaves from 180 Hz on is another. */
    @ParameterizedTest
    @CsvSource({"25, 2", "10, 1"})
    void anotherColourIsAnotherSegment(double decibels, int segments) {
        // Octaves up and down in turns, and the weighted power brought back to what it was.
        broad(20, 1e-4);
        double[] power = new double[513];
        double weighted = 0;
        for (int k = 1; k < 513; k++) {
            int octave = (int) Math.floor(Math.log(k * BIN / 180) / Math.log(2));
            power[k] = 1e-4 * Math.pow(10, (octave % 2 == 0 ? 0 : -decibels) / 10);
            weighted += k >= 2 && k < 512 ? k * power[k] : 0;
        }
        double before = 1e-4 * (511.0 * 512 / 2 - 1);
        for (int n = 0; n < 20; n++) {
            for (int k = 0; k < 513; k++) {
                spectrum.both()[k] = power[k] * before / weighted;
            }
            split(0.5);
            segmenter.accept(spectrum);
        }
        assertThat(count()).isEqualTo(segments);
    }

    /** Noise and line follow each other at once; asking for segments leaves the spectra as they are. */
    @Test
    void aLineAfterNoiseIsAnotherSegment() {
        Segmenter noise = segmenter(new StepSignal.Noise(false, 20, 4000, -20));
        for (int n = 0; n < 10; n++) {
            Arrays.fill(spectrum.both(), 1e-4);
            split(0.5);
            noise.accept(spectrum);
        }
        double cost = noise.segments().get(0).fit().cost(0);
        assertThat(cost).isLessThan(1);
        assertThat(noise.segments().get(0).fit().cost(0)).isEqualTo(cost);
        broad(6, 1e-4);
        feed(6, 200, 1);
        broad(6, 1e-4);
        assertThat(segmenter.segments()).extracting(Segment::line).containsExactly(false, true, false);
        assertPlace(0, 0, 5);
        assertPlace(1, 6, 11);
        assertPlace(2, 12, 17);
    }

    /** What a spectrum fits is of its own frames, whatever was before. */
    @Test
    void aSegmentIsOfItsOwnFrames() {
        double[] costs = new double[2];
        for (int before = 0; before < 2; before++) {
            Segmenter noise = segmenter(new StepSignal.Noise(false, 20, 4000, -20));
            for (int n = 0; n < 20 * before; n++) {
                Arrays.fill(spectrum.both(), 0);
                spectrum.both()[200] = 1;
                split(0.5);
                noise.accept(spectrum);
            }
            for (int n = 0; n < 20; n++) {
                Arrays.fill(spectrum.both(), 1e-4);
                split(0.5);
                noise.accept(spectrum);
            }
            assertThat(noise.segments()).hasSize(1 + before);
            costs[before] = noise.segments().get(before).fit().cost(0);
        }
        assertThat(costs[1]).isLessThan(1).isEqualTo(costs[0]);
    }

    /** Of more than 8192 segments those of half the length are forgotten. */
    @Test
    void theShortestAreForgotten() {
        PairSpectrum small = new PairSpectrum(64);
        Programme programme = new Programme(
                "p", List.of(new Step("s", new StepSignal.Tone(1000, -20), Step.Side.BOTH, 5)), OptionalDouble.empty());
        Segmenter many = new Segmenter(programme, 125, 33, HOP, FIRST);
        for (int segment = 0; segment < 8193; segment++) {
            int frames = segment % 3 == 0 ? 6 : 4;
            for (int n = 0; n <= frames; n++) {
                double power = n < frames ? 1 : 0;
                small.both()[8] = power;
                small.of(0)[8] = power;
                many.accept(small);
            }
            if (segment == 8191) {
                assertThat(many.segments()).hasSize(8192);
            }
        }

        // The median is the shorter length: of the two thirds that have it at least half of all go, to the last bit of
        // a length.
        assertThat(many.segments()).hasSizeLessThanOrEqualTo(4097);
        assertThat(many.segments().stream().filter(segment -> segment.seconds() > 0.5))
                .hasSize(2731);
    }
}
