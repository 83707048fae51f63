/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Recordings of known parts are cut where they change. Frames follow each other after 64 ms, so a change is known to half of
 * that, and to 64 ms where the recording ends within a frame.
 */
class SegmenterTest {
    private static final int RATE = 16_000;
    private static final int SIZE = 2048;
    private static final double HOP = SIZE / 2.0 / RATE;
    private static final double EDGE = 0.065;

    private final List<double[]> first = new ArrayList<>();
    private final List<double[]> second = new ArrayList<>();
    private final Segmenter segmenter = new Segmenter(
            new Programme(
                    "p",
                    List.of(new Step("noise", new StepSignal.Noise(false, 20, 7000, -20), Step.Side.BOTH, 5)),
                    OptionalDouble.empty()),
            (double) RATE / SIZE,
            SIZE / 2 + 1,
            HOP,
            HOP);

    private void part(double seconds, double left, double right, DoubleUnaryOperator signal) {
        double[] one = new double[(int) (seconds * RATE)];
        double[] other = new double[one.length];
        for (int i = 0; i < one.length; i++) {
            double value = signal.applyAsDouble((double) i / RATE);
            one[i] = left * value;
            other[i] = right * value;
        }
        first.add(one);
        second.add(other);
    }

    private static DoubleUnaryOperator tone(double hertz) {
        return t -> Math.sin(2 * Math.PI * hertz * t);
    }

    private static DoubleUnaryOperator noise(long seed) {
        Random random = new Random(seed);
        return t -> random.nextGaussian();
    }

    private static double silence(double ignored) {
        return 0;
    }

    private List<Segment> cut() {
        double[] left = joined(first);
        double[] right = joined(second);
        PairSpectrum spectrum = new PairSpectrum(SIZE);
        double[][] frame = new double[2][SIZE];
        for (int at = 0; at + SIZE <= left.length; at += SIZE / 2) {
            System.arraycopy(left, at, frame[0], 0, SIZE);
            System.arraycopy(right, at, frame[1], 0, SIZE);
            spectrum.take(frame);
            segmenter.accept(spectrum);
        }
        return segmenter.segments();
    }

    private static double[] joined(List<double[]> parts) {
        return parts.stream().flatMapToDouble(java.util.Arrays::stream).toArray();
    }

    private static void assertPlace(Segment segment, double from, double to) {
        assertThat(segment.fromSeconds()).isCloseTo(from, within(EDGE));
        assertThat(segment.toSeconds()).isCloseTo(to, within(EDGE));
        assertThat(segment.seconds()).isCloseTo(to - from, within(2 * EDGE));
        assertThat(segment.middleSeconds()).isCloseTo((from + to) / 2, within(EDGE));
    }

    @Test
    void tonesBeginAndEndWhereTheyDo() {
        part(1, 0, 0, SegmenterTest::silence);
        part(2, 0.5, 0.25, tone(1000));
        part(1, 0, 0, SegmenterTest::silence);
        part(3, 0.1, 0.1, tone(440));
        List<Segment> segments = cut();
        assertThat(segments).hasSize(2);
        Segment one = segments.get(0);
        assertThat(one.line()).isTrue();
        assertPlace(one, 1, 3);
        assertThat(Math.exp(one.lnHz())).isCloseTo(1000, within(1.0)); // an eighth of a bin
        assertThat(one.glide()).isCloseTo(0, within(1e-3));
        // The frames at the ends are filled in part: of 31 frames two, which hold half or less. 20 lg 0.5.
        assertThat(one.levelDbfs()).isCloseTo(-6.02, within(0.3));
        assertThat(one.balanceDb()).isCloseTo(6.02, within(0.01));
        assertThat(one.restDb()).isLessThan(-30);
        // The recording ends within it: the last frame holds nothing but the tone.
        assertPlace(segments.get(1), 4, 7);
        assertThat(segments.get(1).balanceDb()).isCloseTo(0, within(0.01));
        assertThat(segments.get(1).levelDbfs()).isCloseTo(-20, within(0.2));
    }

    @Test
    void anotherFrequencyAnotherLevelAndAnotherSideAreAnotherSegment() {
        part(2, 0.2, 0.2, tone(1000));
        part(2, 0.2, 0.2, tone(1200));
        part(2, 0.5, 0.5, tone(1200)); // 8 dB more
        part(2, 0.5, 0.005, tone(1200));
        List<Segment> segments = cut();
        assertThat(segments).hasSize(4);
        for (int i = 0; i < 4; i++) {
            // A change of level alone is seen from the mean of four frames, of which it takes a part.
            assertThat(segments.get(i).fromSeconds()).isCloseTo(2 * i, within(i == 2 ? 0.3 : 0.1));
        }
        // The frames that tell of the change still count in the mean of what was before.
        assertThat(segments.get(1).levelDbfs()).isCloseTo(-13.98, within(1.3));
        assertThat(segments.get(2).levelDbfs()).isCloseTo(-6.02, within(0.3));
        assertThat(segments.get(3).balanceDb()).isGreaterThan(25);
    }

    /** A sweep is one line whose logarithm of the frequency grows evenly. */
    @Test
    void aSweepIsOneSegmentThatGlides() {
        double growth = Math.log(6000 / 100.0) / 10;
        part(0.5, 0, 0, SegmenterTest::silence);
        part(10, 0.3, 0.3, t -> Math.sin(2 * Math.PI * 100 / growth * Math.exp(growth * t)));
        part(0.5, 0, 0, SegmenterTest::silence);
        List<Segment> segments = cut();
        assertThat(segments).hasSize(1);
        assertThat(segments.get(0).line()).isTrue();
        assertThat(segments.get(0).fromSeconds()).isCloseTo(0.5, within(EDGE));
        // Of a sweep a frame that is filled in part counts whole.
        assertThat(segments.get(0).toSeconds()).isCloseTo(10.5, within(0.1));
        assertThat(segments.get(0).glide()).isCloseTo(growth, within(0.02 * growth));
        assertThat(segments.get(0).lnHz()).isCloseTo(Math.log(100) + 5 * growth, within(0.03));
    }

    /** White noise of one channel, then a line in it; its level is that of the noise. */
    @Test
    void noiseIsNoLine() {
        DoubleUnaryOperator noise = noise(1);
        part(3, 0.1, 0, noise);
        part(3, 0.02, 0, noise);
        List<Segment> segments = cut();
        assertThat(segments).hasSize(2);
        assertThat(segments).noneMatch(Segment::line);
        // Of white noise of 0.1 rms: 20 lg(0.1 sqrt 2), a sine of full scale being 0 dBFS.
        assertThat(segments.get(0).levelDbfs()).isCloseTo(-16.99, within(0.3));
        assertThat(segments.get(1).levelDbfs()).isCloseTo(-30.97, within(0.4));
        assertThat(segments.get(0).balanceDb()).isGreaterThan(100);
        assertThat(segments.get(0).fit().cost(0)).isLessThan(1);
        assertThat(segments.get(0).fromSeconds()).isCloseTo(0, within(EDGE));
        assertThat(segments.get(0).toSeconds()).isCloseTo(3, within(0.15));
    }

    /** Noise that changes its colour and not its power is another segment. */
    @Test
    void noiseOfAnotherColourIsAnother() {
        DoubleUnaryOperator white = noise(2);
        part(4, 0.1, 0.1, white);
        double[] state = new double[1];
        part(4, 1, 1, t -> {
            state[0] += 0.04 * (white.applyAsDouble(t) - state[0]);
            return state[0];
        });
        List<Segment> segments = cut();
        assertThat(segments).hasSizeBetween(2, 3);
        assertThat(segments.get(1).fromSeconds()).isCloseTo(4, within(0.3));
        assertThat(segments.get(1).fit().cost(0)).isInfinite();
    }

    @Test
    void whatIsShortOrSilentIsNone() {
        part(0.1, 0.5, 0.5, tone(1000));
        part(2, 1e-6, 1e-6, tone(1000));
        assertThat(cut()).isEmpty();
        segmenter.reset();
        assertThat(segmenter.segments()).isEmpty();
    }

    /** Asked for twice, or after a reset, it says the same. */
    @Test
    void askingChangesNothing() {
        part(2, 0.3, 0.3, noise(4));
        List<Segment> once = cut();
        List<Segment> again = segmenter.segments();
        assertThat(once).hasSize(1);
        assertThat(again.get(0).toSeconds()).isEqualTo(once.get(0).toSeconds());
        assertThat(again.get(0).fit().cost(0)).isEqualTo(once.get(0).fit().cost(0));
        segmenter.reset();
        List<Segment> anew = cut();
        assertThat(anew.get(0).fromSeconds()).isEqualTo(once.get(0).fromSeconds());
        assertThat(anew.get(0).levelDbfs()).isEqualTo(once.get(0).levelDbfs());
    }

    /** What a transform leaves in a channel that is silent, or that there is not, is rounding and no other side. */
    @ParameterizedTest
    @ValueSource(doubles = {100, 315, 440, 1000})
    void aToneOnOneChannelAloneIsOneSegment(double hertz) {
        part(3.008, 0.5, 0, t -> (float) Math.sin(2 * Math.PI * hertz * t));
        List<Segment> segments = cut();
        assertThat(segments).hasSize(1);
        assertPlace(segments.get(0), 0, 3.008);
    }
}
