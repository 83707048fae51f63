/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.flutter.StretchChoice.FoundStretch;

/** Tones that come and go, at 8 kHz, looked for from 150 Hz to 3925 Hz. Looks take 0.256 s, blocks 40 ms. */
class StretchSearchTest {
    private static final int RATE = 8000;

    private final StretchChoice choice = new StretchChoice(OptionalDouble.empty());
    private final StretchSearch search = new StretchSearch(RATE, 150, 3925, choice, false);

    /** What is added to silence. */
    private static float[] add(float[] x, double hz, double amplitude, double from, double to) {
        int end = (int) Math.min(x.length, Math.round(to * RATE));
        for (int i = (int) Math.round(from * RATE); i < end; i++) {
            x[i] += (float) (amplitude * Math.sin(2 * Math.PI * hz * i / RATE));
        }
        return x;
    }

    private static float[] tone(double seconds, double hz, double from, double to) {
        return add(new float[(int) (seconds * RATE)], hz, 0.5, from, to);
    }

    private static void feed(StretchSearch search, float[] x, int from, int to) {
        for (int taken = from; taken < to; ) {
            int part = Math.min(to - taken, search.room());
            search.history().append(x, taken, part);
            taken += part;
            search.appended();
        }
    }

    private void feed(float[] x) {
        feed(search, x, 0, x.length);
    }

    private void feed(float[] x, double from, double to) {
        feed(search, x, (int) Math.round(from * RATE), (int) Math.round(to * RATE));
    }

    /** Two blocks of 320 samples at once. */
    @Test
    void thereIsRoomForTwoBlocks() {
        assertThat(search.room()).isEqualTo(640);
        search.history().append(new float[640], 0, 100);
        search.appended();
        assertThat(search.room()).isEqualTo(540);
        search.history().append(new float[640], 0, 300);
        search.appended(); // 320 of 400 are looked at
        assertThat(search.room()).isEqualTo(560);
    }

    /** Nothing is followed before a tone is there, nor a second after it; between them it has its number, power and windows. */
    @Test
    void aToneIsFollowedFromItsBeginningToItsEnd() {
        float[] x = add(tone(6, 3150, 0.7, 2.5), 3000, 0.25, 4.1, 6);
        assertNothingIsFollowed();
        feed(x, 0, 0.6);
        assertNothingIsFollowed();
        feed(x, 0.6, 1.6);
        assertThat(search.followedStretch()).isEqualTo(1);
        assertThat(search.isOneTone()).isFalse(); // it is looked at after a second
        feed(x, 1.6, 2.4);
        assertThat(search.isOneTone()).isTrue();
        assertThat(search.followedPower()).isCloseTo(0.25, within(1e-3));
        assertThat(search.followedWindows()).isBetween(15L, 17L);
        assertThat(search.followedPowerSum()).isCloseTo(0.25 * search.followedWindows(), within(0.01));
        FoundStretch running = search.running().orElseThrow();
        assertThat(running.number()).isEqualTo(1);
        assertThat(running.stretch()).isSameAs(search.followed());
        assertThat(running.stretch().startSeconds()).isCloseTo(0.7, within(0.015));
        assertThat(running.secondHz()).isEmpty();
        assertThat(running.clipped()).isFalse();
        assertThat(choice.counting(Optional.empty())).isEmpty();
        feed(x, 2.4, 3.8);
        assertNothingIsFollowed();
        FoundStretch ended = choice.counting(Optional.empty()).orElseThrow();
        assertThat(ended.number()).isEqualTo(1);
        assertThat(ended.stretch().endSeconds()).isCloseTo(2.5, within(0.02));
        feed(x, 3.8, 6);
        assertThat(search.followedStretch()).isEqualTo(2);
        assertThat(search.followedPower()).isCloseTo(0.0625, within(1e-3));
        assertThat(search.running().orElseThrow().stretch().startSeconds()).isCloseTo(4.1, within(0.015));
        assertThat(search.isOneTone()).isTrue();
        assertThat(search.rejectedSecondHz()).isEmpty();
        assertThat(search.invalidSeconds()).isEmpty();
    }

    private void assertNothingIsFollowed() {
        assertThat(search.followedStretch()).isZero();
        assertThat(search.followed()).isNull();
        assertThat(search.running()).isEmpty();
        assertThat(search.followedPower()).isZero();
        assertThat(search.followedPowerSum()).isZero();
        assertThat(search.followedWindows()).isZero();
        assertThat(search.isOneTone()).isFalse();
    }

    /** Wherever a tone begins within the looks, it is fed from before its beginning. */
    @ParameterizedTest
    @ValueSource(doubles = {0, 0.05, 0.2, 0.25, 0.3, 0.45, 0.5, 1.013, 3.333})
    void theBeginningIsFound(double from) {
        feed(tone(from + 1, 2500, from, from + 1));
        assertThat(search.running().orElseThrow().stretch().startSeconds()).isCloseTo(from, within(0.02));
        assertThat(search.running().orElseThrow().stretch().meanHz()).isCloseTo(2500, within(0.05));
    }

    /** Where another tone follows at once the first has ended a second later; the other one is then found from its beginning. */
    @Test
    void aToneThatFollowsAtOnceIsFoundWhole() {
        feed(add(tone(4, 3150, 0.2, 1.7), 2000, 0.5, 1.7, 4));
        FoundStretch first = choice.counting(Optional.empty()).orElseThrow();
        assertThat(first.stretch().endSeconds()).isCloseTo(1.7, within(0.02));
        FoundStretch second = search.running().orElseThrow();
        assertThat(second.number()).isEqualTo(2);
        assertThat(second.stretch().meanHz()).isCloseTo(2000, within(0.05));
        assertThat(second.stretch().startSeconds()).isCloseTo(1.7, within(0.03));
    }

    /** Outside of the range that is looked in there is no tone. */
    @Test
    void theRangeIsKept() {
        StretchSearch narrow = new StretchSearch(RATE, 900, 1100, choice, false);
        float[] x = tone(1, 1300, 0, 1);
        feed(narrow, x, 0, x.length);
        assertThat(narrow.followedStretch()).isZero();
        float[] low = tone(2, 100, 0, 2);
        feed(search, low, 0, low.length);
        assertThat(search.followedStretch()).isZero();
        StretchSearch lower = new StretchSearch(RATE, 80, 120, choice, false);
        feed(lower, low, 0, low.length);
        assertThat(lower.followedStretch()).isEqualTo(1);
    }

    /** What is seen beside the tone when it is looked at, at 1 s, not what was there at its beginning. */
    @Test
    void aSecondToneIsSeenAtTheInspection() {
        float[] x = add(tone(3, 3150, 0, 3), 1100, 0.2, 0.8, 3);
        feed(x, 0, 0.7);
        assertThat(search.running().orElseThrow().secondHz()).isEmpty();
        feed(x, 0.7, 3);
        assertThat(search.running().orElseThrow().secondHz().orElseThrow()).isCloseTo(1100, within(4.0));
        assertThat(search.isOneTone()).isFalse();
        search.reset();
        feed(add(tone(2, 3150, 0, 2), 1100, 0.2, 0, 0.5));
        assertThat(search.running().orElseThrow().secondHz()).isEmpty();
        assertThat(search.isOneTone()).isTrue();
    }

    /**
     * Two equal tones beat: neither is ever steady. They are waited for 1.5 s and two looks, then given up; a tone that comes
     * afterwards is found.
     */
    @Test
    void twoEqualTonesAreGivenUp() {
        float[] x = add(tone(6, 3150, 0, 3), 2850, 0.5, 0, 3);
        add(x, 3100, 0.5, 3.5, 6);
        feed(x, 0, 0.8);
        assertNothingIsFollowed();
        double second = search.rejectedSecondHz().orElseThrow(); // seen, and still waited for
        assertThat(second)
                .satisfiesAnyOf(
                        hz -> assertThat(hz).isCloseTo(3150, within(4.0)),
                        hz -> assertThat(hz).isCloseTo(2850, within(4.0)));
        feed(x, 0.8, 3.4);
        assertNothingIsFollowed();
        assertThat(search.rejectedSecondHz()).hasValue(second);
        feed(x, 3.4, 6);
        assertThat(search.followedStretch()).isEqualTo(1);
        assertThat(search.running().orElseThrow().stretch().startSeconds()).isCloseTo(3.5, within(0.02));
        assertThat(search.rejectedSecondHz()).hasValue(second); // the first that was given up stays
        search.reset();
        assertThat(search.rejectedSecondHz()).isEmpty();
    }

    /** A tone that is seen and soon becomes steady is waited for: here it trembles at first, and is found from where it is steady. */
    @Test
    void anUnsteadyBeginningIsWaitedFor() {
        for (double steadyFrom = 0.8; steadyFrom < 1.3; steadyFrom += 0.029) {
            float[] x = new float[2 * RATE];
            for (int i = 0; i < x.length; i++) {
                double t = i / (double) RATE;
                double level = t < steadyFrom ? 0.3 + 0.25 * Math.sin(2 * Math.PI * 130 * t) : 0.3;
                x[i] = (float) (level * Math.sin(2 * Math.PI * 3000 * t));
            }
            StretchSearch fresh = new StretchSearch(RATE, 150, 3925, choice, false);
            feed(fresh, x, 0, x.length);
            assertThat(fresh.followedStretch()).isEqualTo(1);
            assertThat(fresh.running().orElseThrow().stretch().startSeconds()).isCloseTo(steadyFrom, within(0.012));
        }
    }

    /** The step of the samples is taken where the tone is looked at. */
    @ParameterizedTest
    @CsvSource({"8, 0.0078125", "12, 0.00048828125", "0, 0"})
    void theStepIsThatOfTheFile(int bits, double step) {
        float[] x = tone(1.5, 3000.7, 0, 1.5);
        for (int i = 0; bits > 0 && i < x.length; i++) {
            x[i] = Math.round(x[i] / step) * (float) step;
        }
        feed(x, 0, 0.9);
        assertThat(search.running().orElseThrow().step()).isZero();
        feed(x, 0.9, 1.5);
        assertThat(search.running().orElseThrow().step()).isEqualTo(step);
    }

    /** Whether flat tops were seen goes with the stretch. */
    @Test
    void flatTopsGoWithTheStretch() {
        float[] x = tone(4, 500, 0, 2);
        for (int i = 0; i < x.length; i++) {
            x[i] = Math.max(-0.4f, Math.min(0.4f, x[i]));
        }
        feed(x, 0, 1.9);
        assertThat(search.running().orElseThrow().clipped()).isTrue();
        assertThat(search.overload().fullScaleReached()).isFalse();
        feed(x, 1.9, 4);
        assertThat(choice.counting(Optional.empty()).orElseThrow().clipped()).isTrue();
    }

    /** In silence, within a tone, at the beginning and at the end of a block; the first one counts and ends everything. */
    @ParameterizedTest
    @ValueSource(ints = {0, 1, 319, 320, 3333, 8000, 9600, 9599, 15_600})
    void theFirstSampleThatIsNoNumberIsFound(int at) {
        for (float bad : new float[] {Float.NaN, Float.POSITIVE_INFINITY, Float.NEGATIVE_INFINITY}) {
            StretchSearch fresh = new StretchSearch(RATE, 150, 3925, choice, false);
            float[] x = tone(2, 3150, 0.5, 2);
            x[at] = bad;
            x[Math.min(x.length - 1, at + 7)] = Float.NaN;
            feed(fresh, x, 0, x.length);
            assertThat(fresh.invalidSeconds()).hasValue(at / (double) RATE);
        }
    }

    @Test
    void afterASampleThatIsNoNumberNothingIsTaken() {
        float[] x = tone(3, 3150, 1, 3);
        x[100] = Float.NaN;
        feed(x);
        assertThat(search.followedStretch()).isZero();
        assertThat(search.overload().fullScaleReached()).isFalse();
        search.reset();
        assertThat(search.invalidSeconds()).isEmpty();
        float[] most = new float[RATE];
        Arrays.fill(most, 500, 510, Float.MAX_VALUE);
        Arrays.fill(most, 600, 610, -Float.MAX_VALUE);
        feed(most);
        assertThat(search.invalidSeconds()).isEmpty();
        assertThat(search.overload().fullScaleReached()).isTrue();
        assertThat(search.overload().firstFullScaleSeconds()).isCloseTo(500.0 / RATE, within(1e-9));
    }

    /** After a reset it is as if new, with a tone that was followed, and with one that was given up. */
    @Test
    void afterAResetItIsAsNew() {
        feed(add(tone(4, 3150, 0, 1.9), 900, 0.3, 3, 4));
        search.reset();
        choice.reset();
        assertNothingIsFollowed();
        assertThat(search.room()).isEqualTo(640);
        float[] x = tone(2, 2900, 0.1, 2);
        feed(x);
        StretchSearch fresh = new StretchSearch(RATE, 150, 3925, choice, false);
        feed(fresh, x, 0, x.length);
        assertThat(search.followedStretch()).isEqualTo(1);
        Stretch one = search.running().orElseThrow().stretch();
        Stretch other = fresh.running().orElseThrow().stretch();
        assertThat(one.startSeconds()).isEqualTo(other.startSeconds());
        assertThat(one.meanHz()).isEqualTo(other.meanHz());
        assertThat(one.lengthSeconds()).isEqualTo(other.lengthSeconds());
        assertThat(choice.counting(Optional.empty())).isEmpty();
    }

    /** Blocks that come one by one, two at once or in odd lengths are the same, bit for bit. */
    @ParameterizedTest
    @ValueSource(ints = {1, 320, 333, 640})
    void blocksDoNotMatter(int block) {
        float[] x = tone(2.4, 3150, 0.31, 2.4);
        feed(x);
        StretchSearch other = new StretchSearch(RATE, 150, 3925, choice, false);
        for (int at = 0; at < x.length; at += block) {
            feed(other, x, at, Math.min(x.length, at + block));
        }
        assertThat(other.followedPowerSum()).isEqualTo(search.followedPowerSum());
        Stretch one = search.running().orElseThrow().stretch();
        Stretch two = other.running().orElseThrow().stretch();
        assertThat(two.startSeconds()).isEqualTo(one.startSeconds());
        assertThat(two.lengthSeconds()).isEqualTo(one.lengthSeconds());
        assertThat(two.meanHz()).isEqualTo(one.meanHz());
    }

    /** Whether the deviation is kept goes to the stretch. */
    @Test
    void theDeviationIsKeptWhereThatWasAskedFor() {
        StretchSearch keeping = new StretchSearch(RATE, 150, 3925, choice, true);
        float[] x = tone(1, 3150, 0, 1);
        feed(keeping, x, 0, x.length);
        feed(x);
        assertThat(keeping.running().orElseThrow().stretch().deviation()).isPresent();
        assertThat(search.running().orElseThrow().stretch().deviation()).isEmpty();
    }
}
