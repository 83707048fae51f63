/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.azimuth.MadeFrames.band;
import static org.tapemetrology.core.azimuth.MadeFrames.put;
import static org.tapemetrology.core.azimuth.MadeFrames.sum;
import static org.tapemetrology.core.azimuth.MadeFrames.tones;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Delays of bands and tones of which the peaks are known in closed form. Without noise a delay is exact, to 1e-12 s. */
class DelaySearchTest {
    private static final int FRAMES = 20;

    private final DelaySearch search = new DelaySearch(0, MadeFrames.TRANSFORM.bins());

    private boolean find(CrossFrame frame) {
        return search.find(sum(frame, FRAMES));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 37e-6, -250e-6, 399e-6, -399e-6})
    void aWideBandTellsEverything(double delay) {
        assertThat(find(band(3, 245, delay))).isTrue();
        assertThat(search.delay()).isCloseTo(delay, within(1e-12));
        assertThat(search.polarity()).isEqualTo(1);
        assertThat(search.polarityTold()).isTrue();
        assertThat(search.wholeCycle()).isZero();
        assertThat(find(MadeFrames.inverted(band(3, 245, delay)))).isTrue();
        assertThat(search.delay()).isCloseTo(delay, within(1e-12));
        assertThat(search.polarity()).isEqualTo(-1);
        assertThat(search.polarityTold()).isTrue();
        // The root mean square of the numbers 3 to 245 is (sum n^2/243)^(1/2).
        double squares = 245.0 * 246 * 491 / 6 - 5;
        assertThat(search.period()).isCloseTo(1 / (15.625 * Math.sqrt(squares / 243)), within(1e-12));
    }

    /** Beyond 400 us no delay is looked for, though the flank of its peak is within. */
    @ParameterizedTest
    @CsvSource({"401, false", "-401, false", "400.5, false", "450, false", "700, false", "399.9, true"})
    void theRangeEndsAtFourHundred(double microseconds, boolean found) {
        assertThat(find(band(3, 245, microseconds * 1e-6))).isEqualTo(found);
    }

    /** 2 kHz has a period of 500 us: the delay nearest to the expected one is given. */
    @ParameterizedTest
    @CsvSource({"0, 100, 100", "0, 260, -240", "0, -260, 240", "0, 600, 100", "1000, 300, 800", "-1000, 0, -1000"})
    void aToneGivesTheDelayNearestToTheExpected(double expected, double delay, double read) {
        DelaySearch about = new DelaySearch(expected * 1e-6, MadeFrames.TRANSFORM.bins());
        assertThat(about.find(sum(tones(delay * 1e-6, 128), FRAMES))).isTrue();
        assertThat(about.delay() * 1e6).isCloseTo(read, within(1e-6));
        assertThat(about.polarity()).isEqualTo(1);
        assertThat(about.polarityTold()).isFalse();
        assertThat(about.wholeCycle() * 1e6).isCloseTo(500, within(1e-6));
        assertThat(about.period() * 1e6).isCloseTo(500, within(1e-6));
    }

    /** A low tone, of which no half cycle is within reach, is inverted if it looks so: at 500 Hz a cycle takes 2 ms. */
    @Test
    void aToneIsInvertedWhereNoDelayIsWithinReach() {
        assertThat(find(MadeFrames.inverted(tones(100e-6, 32)))).isTrue();
        assertThat(search.delay()).isCloseTo(100e-6, within(1e-12));
        assertThat(search.polarity()).isEqualTo(-1);
        assertThat(search.polarityTold()).isFalse();
        // A cycle away lies beyond what is looked for, and is looked at all the same.
        assertThat(search.wholeCycle()).isCloseTo(2e-3, within(1e-9));
        assertThat(find(MadeFrames.inverted(tones(100e-6, 128)))).isTrue();
        assertThat(search.delay()).as("half a cycle of 500 us beside").isCloseTo(-150e-6, within(1e-12));
        assertThat(search.polarity()).isEqualTo(1);
    }

    /** Tones of 1.5 kHz and 3 kHz repeat every 2/3 ms, and are not inverted half of that away; 1 kHz and 3 kHz are, after half a millisecond. */
    @Test
    void tonesRepeatAsTheirCommonPeriodDoes() {
        assertThat(find(tones(-50e-6, 96, 192))).isTrue();
        assertThat(search.delay()).isCloseTo(-50e-6, within(1e-12));
        assertThat(search.wholeCycle()).isCloseTo(1 / 1500.0, within(1e-9));
        assertThat(search.polarityTold()).isTrue();
        assertThat(find(tones(-50e-6, 64, 192))).isTrue();
        assertThat(search.delay()).isCloseTo(-50e-6, within(1e-12));
        assertThat(search.wholeCycle()).isZero();
        assertThat(search.polarityTold()).isFalse();
    }

    /**
     * A band of n bins about 2 kHz has a cycle away {@code sin(n a)/(n sin(a))} of its peak, {@code a = pi 15.625/2000}. A
     * peak is as high as another within 0.5 %: up to 7 bins. Half a cycle away it is 4 times as near: up to 14 bins.
     */
    @ParameterizedTest
    @CsvSource({"7, true, false", "8, false, false", "14, false, false", "15, false, true"})
    void aBandTellsCyclesFromItsWidthOn(int bins, boolean ambiguous, boolean polarity) {
        int from = 128 - (bins - 1) / 2;
        assertThat(find(band(from, from + bins - 1, 30e-6))).isTrue();
        assertThat(search.delay()).isCloseTo(30e-6, within(1e-12));
        assertThat(search.wholeCycle() > 0).isEqualTo(ambiguous);
        assertThat(search.polarityTold()).isEqualTo(polarity);
    }

    /**
     * Two bins weigh 2000 each, and 32 of the logarithm of a likelihood are 62 of it (1.94 bins are one): 1.56 % of the
     * peak. A cycle away they are off by {@code 1 - cos(pi d/m)}, m being their middle: 1.40 % at 7 bins, 1.8 % at 8.
     */
    @ParameterizedTest
    @CsvSource({"7, true", "8, false"})
    void fewPhasesTellLess(int apart, boolean ambiguous) {
        assertThat(find(tones(30e-6, 128, 128 + apart))).isTrue();
        assertThat(search.wholeCycle() > 0).isEqualTo(ambiguous);
    }

    /** Of 20 frames a bin weighs 62 at a coherence of 0.62: less is no delay at all. */
    @Test
    void aBinThatIsTooNoisyTellsNothing() {
        CrossFrame frame = MadeFrames.frame();
        put(frame, 128, 1, Math.sqrt(0.61), 1e-4);
        assertThat(find(frame)).isFalse();
        put(frame, 128, 1, Math.sqrt(0.65), 1e-4);
        assertThat(find(frame)).isTrue();
        assertThat(search.delay()).isCloseTo(1e-4, within(1e-12));
    }

    @Test
    void whatIsNoLineHasNoDelay() {
        assertThat(find(MadeFrames.frame())).isFalse();
        // A tenth of the power has to be common.
        CrossFrame frame = tones(1e-5, 128, 140, 177);
        put(frame, 50, 28, 0, 0);
        assertThat(find(frame)).isFalse();
        put(frame, 50, 26, 0, 0);
        assertThat(find(frame)).isTrue();
        CrossFrame scattered = MadeFrames.frame();
        Random random = new Random(1);
        for (int bin = 3; bin <= 245; bin++) {
            put(scattered, bin, 1, 1, random.nextDouble());
        }
        assertThat(find(scattered)).isFalse();
    }

    /** Phases that are off by a angle either way leave its cosine of the peak: 0.65 is 49 degrees. */
    @ParameterizedTest
    @CsvSource({"48, true", "51, false"})
    void phasesHaveToLieOnALine(double degrees, boolean found) {
        CrossFrame frame = band(3, 245, 0);
        for (int i = 0; i < frame.re.length; i++) {
            double angle = Math.toRadians((i % 2 == 0 ? 1 : -1) * degrees);
            frame.re[i] = Math.cos(angle);
            frame.im[i] = Math.sin(angle);
        }
        assertThat(find(frame)).isEqualTo(found);
    }
}
