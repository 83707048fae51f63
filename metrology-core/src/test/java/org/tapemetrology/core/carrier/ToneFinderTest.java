/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The finder on sums of sines whose frequencies are whole lines of its spectrum, so that everything near a limit is known.
 * A window of Hann spreads such a line over three: a quarter, the whole and a quarter of the power.
 */
class ToneFinderTest {
    /** 4096 samples, lines of 4 Hz. */
    private static final double RATE = 16_384;

    private static final double LINE_HZ = 4;
    private static final int TONE = 750;
    private static final int OFFSET = 5;

    /** Sines by line and amplitude, with phases of their own. */
    private static float[] lines(double... linesAndAmplitudes) {
        Random random = new Random(3);
        double[] sum = new double[4096];
        for (int k = 0; k < linesAndAmplitudes.length; k += 2) {
            double phase = 2 * Math.PI * random.nextDouble();
            for (int i = 0; i < sum.length; i++) {
                sum[i] += linesAndAmplitudes[k + 1]
                        * Math.cos(2 * Math.PI * linesAndAmplitudes[k] * i / sum.length + phase);
            }
        }
        float[] samples = new float[OFFSET + sum.length];
        for (int i = 0; i < sum.length; i++) {
            samples[OFFSET + i] = (float) sum[i];
        }
        samples[0] = 100; // before the window
        return samples;
    }

    private static Optional<FoundTone> found(double fromHz, double toHz, double... linesAndAmplitudes) {
        return new ToneFinder(RATE, 0.25).find(lines(linesAndAmplitudes), OFFSET, fromHz, toHz);
    }

    private static OptionalDouble second(double... linesAndAmplitudes) {
        return found(150, 7000, linesAndAmplitudes).orElseThrow().secondHz();
    }

    @ParameterizedTest
    @CsvSource({"16384, 0.25, 4096", "16388, 0.25, 8192", "48000, 0.25, 16384", "48000, 1, 65536", "400, 0.25, 256"})
    void aWindowIsAPowerOfTwo(double rate, double seconds, int length) {
        assertThat(new ToneFinder(rate, seconds).length()).isEqualTo(length);
    }

    @ParameterizedTest
    @CsvSource({"750", "750.5", "62.3", "1500.25"})
    void frequencyIsThatOfTheTone(double line) {
        FoundTone tone = found(150, 7000, line, 0.3).orElseThrow();
        // The centre of gravity of the window's own spectrum: far below a line.
        assertThat(tone.frequencyHz()).isCloseTo(LINE_HZ * line, within(0.05));
        assertThat(tone.secondHz()).isEmpty();
    }

    /** A mean square of 1e-12, -120 dBFS, is silence. */
    @Test
    void belowMinus120DecibelsThereIsNoTone() {
        assertThat(found(150, 7000, TONE, 1.43e-6)).isPresent();
        assertThat(found(150, 7000, TONE, 1.40e-6)).isEmpty();
    }

    /**
     * The tone has ten times the power of all else from 0.7 to 1.4 times its frequency, within 6 per cent all is its own. Where it has
     * less because of one other line, the two are told; because of two others, there is no tone.
     */
    @Test
    void theToneStandsOutOfWhatIsAroundIt() {
        double below = Math.sqrt(0.099);
        double above = Math.sqrt(0.101);
        for (int line : new int[] {530, 703, 797, 1045}) {
            assertThat(found(150, 7000, TONE, 1, line, below)).as("%s", line).isPresent();
            Optional<FoundTone> two = found(150, 7000, TONE, 1, line, above);
            assertThat(two.orElseThrow().secondHz()).as("%s", line).hasValue(LINE_HZ * line);
            assertThat(found(150, 7000, TONE, 1, line, 0.36, 600, 0.36))
                    .as("%s", line)
                    .isEmpty();
        }
        for (int line : new int[] {520, 707, 793, 1055}) {
            assertThat(found(150, 7000, TONE, 1, line, 0.9)).as("%s", line).isPresent();
        }
    }

    @Test
    void theToneIsLookedForInARangeAlone() {
        // Lines 700 to 800.
        assertThat(found(2800, 3200, 1100, 1, TONE, 0.5).orElseThrow().frequencyHz())
                .isCloseTo(3000, within(0.05 * LINE_HZ));
        // What leaks in is not the tone, but another that is told.
        FoundTone inside = found(2800, 3200, 815.5, 1, 700, 0.2).orElseThrow();
        assertThat(inside.frequencyHz()).isCloseTo(2800, within(0.05 * LINE_HZ));
        assertThat(inside.secondHz().orElseThrow()).isCloseTo(LINE_HZ * 815.5, within(LINE_HZ));
        // Within a hundredth of the range it is the tone.
        FoundTone near = found(2800, 3200, 804, 1, 700, 0.2).orElseThrow();
        assertThat(near.frequencyHz()).isCloseTo(LINE_HZ * 804, within(0.05 * LINE_HZ));
        assertThat(near.secondHz()).hasValue(2800);
        assertThat(found(2800, 3200, 700, 1).orElseThrow().frequencyHz()).isCloseTo(2800, within(0.05 * LINE_HZ));
        assertThat(found(2800, 3200, 800, 1).orElseThrow().frequencyHz()).isCloseTo(3200, within(0.05 * LINE_HZ));
        assertThat(found(3200, 3199, TONE, 1)).isEmpty(); // no line in it
        assertThat(found(0, 9000, TONE, 1)).isPresent();
        // At the upper end of the spectrum there is less than six per cent above a tone.
        assertThat(found(150, 9000, 2030, 1).orElseThrow().frequencyHz()).isCloseTo(8120, within(0.05 * LINE_HZ));
        // Lines 500 and 900 are the ends of a range, and in it.
        assertThat(found(2000, 3600, TONE, 1, 900, 0.3).orElseThrow().secondHz())
                .hasValue(3600);
        assertThat(found(2000, 3600, TONE, 1, 500, 0.2).orElseThrow().secondHz())
                .hasValue(2000);
    }

    /** Of noise alone no line stands out. */
    @Test
    void noiseIsNoTone() {
        for (int seed = 0; seed < 20; seed++) {
            Random random = new Random(seed);
            float[] noise = new float[4096];
            for (int i = 0; i < noise.length; i++) {
                noise[i] = (float) random.nextGaussian();
            }
            assertThat(new ToneFinder(RATE, 0.25).find(noise, 0, 150, 7000)).isEmpty();
        }
    }

    /** Another tone counts from 20 dB below the first one on. */
    @ParameterizedTest
    @CsvSource({"300", "1111", "1700", "650"})
    void anotherToneIsTold(int line) {
        assertThat(second(TONE, 1, line, 0.102).orElseThrow()).isCloseTo(LINE_HZ * line, within(1e-9));
        assertThat(second(TONE, 1, line, 0.098)).isEmpty();
    }

    /** A harmonic is no second tone: within 1.5 per cent of the first frequency of a whole multiple. */
    @Test
    void harmonicsBelongToTheTone() {
        assertThat(second(TONE, 1, 1500, 0.3)).isEmpty();
        assertThat(second(TONE, 1, 1511, 0.3)).isEmpty(); // 11 of 750
        assertThat(second(TONE, 1, 1489, 0.3)).isEmpty();
        assertThat(second(TONE, 1, 1512, 0.3)).isPresent(); // 12 of 750
        assertThat(second(500, 1, 1500, 0.3)).isEmpty();
    }

    /** No harmonic is stronger than its tone: at twice the speed a line at half the frequency is the one beside it. */
    @Test
    void aHarmonicIsWeakerThanTheTone() {
        assertThat(found(2500, 3500, TONE, 0.5, 1500, 0.49).orElseThrow().secondHz())
                .isEmpty();
        assertThat(found(2500, 3500, TONE, 0.5, 1500, 0.51).orElseThrow().secondHz())
                .hasValue(LINE_HZ * 1500);
        assertThat(found(2500, 3500, TONE, 0.04, 1500, 1).orElseThrow().secondHz())
                .hasValue(LINE_HZ * 1500);
    }

    /** The other tone must itself stand out of the 6 per cent around it. */
    @Test
    void whatHasNeighboursIsNoSecondTone() {
        assertThat(second(TONE, 1, 1200, 0.3, 1260, 0.094)).isPresent(); // 0.098 of its power
        assertThat(second(TONE, 1, 1200, 0.3, 1260, 0.096)).isEmpty(); // 0.102
        assertThat(second(TONE, 1, 1200, 0.3, 1140, 0.096)).isEmpty();
        assertThat(second(TONE, 1, 1200, 0.3, 1276, 0.2)).isPresent(); // farther away
    }

    /** Flutter has its side bands on both sides; a line on one side alone is another tone that beats. */
    @ParameterizedTest
    @CsvSource({"20, 1", "-20, 1", "45, 1", "-45, 1", "8, 1"})
    void aLineBesideTheToneIsASecondTone(int distance, double amplitude) {
        assertThat(second(TONE, amplitude, TONE + distance, 0.13).orElseThrow())
                .isCloseTo(LINE_HZ * (TONE + distance), within(1e-9));
        assertThat(second(TONE, amplitude, TONE + distance, 0.098)).isEmpty();
        assertThat(second(TONE, amplitude, TONE + distance, 0.13, TONE - distance, 0.13))
                .isEmpty();
        // Sixteen times the power of its mirror image, a quarter of the amplitude.
        assertThat(second(TONE, amplitude, TONE + distance, 0.16, TONE - distance, 0.041))
                .isEmpty();
        assertThat(second(TONE, amplitude, TONE + distance, 0.16, TONE - distance, 0.037))
                .isPresent();
    }

    /** The last line of the spectrum, at half the rate, has no line behind it to be a peak against. */
    @Test
    void halfTheRateIsNoSecondTone() {
        assertThat(found(150, 9000, 2030, 1, 2040, 0.2).orElseThrow().secondHz())
                .hasValue(LINE_HZ * 2040);
        assertThat(found(150, 9000, 2030, 1, 2048, 0.5).orElseThrow().secondHz())
                .isEmpty();
    }

    /** Nearer than seven lines it cannot be told. */
    @Test
    void aLineAtTheToneIsNotTold() {
        assertThat(second(TONE, 1, TONE + 6, 0.2)).isEmpty();
        assertThat(second(TONE, 1, TONE + 7, 0.2)).isPresent();
    }

    /** A stronger tone of which this is the second, third or fourth harmonic is told, though it is not in the range. */
    @ParameterizedTest
    @CsvSource({"2", "3", "4"})
    void aStrongerFundamentalIsTold(int order) {
        int tone = 744;
        int fundamental = tone / order;
        FoundTone found = found(2500, 3500, tone, 0.5, fundamental, 0.51).orElseThrow();
        assertThat(found.frequencyHz()).isCloseTo(LINE_HZ * tone, within(0.05));
        assertThat(found.secondHz().orElseThrow()).isCloseTo(LINE_HZ * fundamental, within(1e-9));
        // A weaker one is a second tone like any other, down to 20 dB below.
        assertThat(found(2500, 3500, tone, 0.5, fundamental, 0.051)
                        .orElseThrow()
                        .secondHz())
                .isPresent();
        assertThat(found(2500, 3500, tone, 0.5, fundamental, 0.049)
                        .orElseThrow()
                        .secondHz())
                .isEmpty();
    }

    @Test
    void humIsNoFundamental() {
        assertThat(found(2500, 3500, TONE, 0.5, 15, 0.6).orElseThrow().secondHz())
                .isEmpty();
        // Six lines from zero the lowest tones cannot be told from hum.
        assertThat(found(40, 60, 12, 0.5, 6, 0.6).orElseThrow().secondHz()).isEmpty();
        assertThat(found(50, 70, 14, 0.5, 7, 0.6).orElseThrow().secondHz()).isPresent();
    }

    /** Twice 6 per cent wide, the share of a fundamental is looked for as wide as the harmonic: flutter is divided too. */
    @Test
    void aFundamentalWithFlutterIsTold() {
        assertThat(found(2500, 3500, TONE, 0.5, 375 - 20, 0.4, 375 + 20, 0.4)
                        .orElseThrow()
                        .secondHz())
                .isPresent();
        // So wide apart each is a tone of its own, and the stronger is told.
        assertThat(found(2500, 3500, TONE, 0.5, 375 - 26, 0.4, 375 + 26, 0.41)
                        .orElseThrow()
                        .secondHz())
                .hasValue(LINE_HZ * (375 + 26));
    }

    /**
     * Six per cent of 750 lines are 45; of the fundamental's share, and one line more, what lies at the edge counts with five sixths of its
     * power, what lies beyond with one sixth. There it is a tone of its own, told where it stands.
     */
    @ParameterizedTest
    @CsvSource({"2, 375, 23", "3, 250, 16", "4, 188, 12"})
    void aFundamentalIsLookedForInItsShareOfTheWidth(int order, int fundamental, int edge) {
        assertThat(fundamental).isEqualTo(Math.round((float) TONE / order));
        for (int side : new int[] {-1, 1}) {
            int at = fundamental + side * edge;
            assertThat(found(2500, 3500, TONE, 0.5, at, 0.8).orElseThrow().secondHz())
                    .hasValue(LINE_HZ * fundamental);
            assertThat(found(2500, 3500, TONE, 0.5, at + side, 0.8)
                            .orElseThrow()
                            .secondHz())
                    .hasValue(LINE_HZ * (at + side));
        }
    }

    /** Wow spreads a high tone over many lines: what counts is the power of all of them, not the strongest line. */
    @Test
    void aToneOfManyLinesIsStrongerThanOneLine() {
        FoundTone tone = found(150, 7000, TONE, 0.4, 1460, 0.3, 1480, 0.3, 1500, 0.31, 1520, 0.3, 1540, 0.3)
                .orElseThrow();
        assertThat(tone.frequencyHz()).isCloseTo(LINE_HZ * 1500, within(0.05 * LINE_HZ));
        assertThat(tone.secondHz()).hasValue(LINE_HZ * TONE);
        // 0.8 has more than all five together.
        assertThat(found(150, 7000, TONE, 0.8, 1460, 0.3, 1480, 0.3, 1500, 0.31, 1520, 0.3, 1540, 0.3)
                        .orElseThrow()
                        .frequencyHz())
                .isCloseTo(LINE_HZ * TONE, within(0.05 * LINE_HZ));
        // Three lines are no flutter of one another: the nearest is told.
        assertThat(found(150, 7000, TONE, 1, 795, 0.9, 830, 0.9).orElseThrow().secondHz())
                .hasValue(LINE_HZ * 795);
    }

    /** The frequency is the centre of gravity of 6 per cent to either side, the ends included. */
    @Test
    void sideBandsOnBothSidesLeaveTheFrequency() {
        assertThat(found(150, 7000, TONE, 1, 705, 0.3, 795, 0.3).orElseThrow().frequencyHz())
                .isCloseTo(LINE_HZ * TONE, within(0.01 * LINE_HZ));
    }

    /** Two tones near each other are told from line 100 on; the other one is looked for from 0.7 to 1.4 times the first. */
    @Test
    void twoTonesNearEachOtherAreToldTogether() {
        assertThat(found(150, 7000, 100, 1, 118, 0.9).orElseThrow().secondHz()).hasValue(LINE_HZ * 118);
        assertThat(found(150, 7000, 99, 1, 117, 0.9)).isEmpty();
        assertThat(found(150, 7000, TONE, 1, 600, 0.5, 500, 0.6).orElseThrow().secondHz())
                .hasValue(LINE_HZ * 600);
        assertThat(found(150, 7000, 1500, 1, 2045, 0.9).orElseThrow().secondHz())
                .hasValue(LINE_HZ * 2045);
        assertThat(found(150, 7000, 1500, 1, 2047, 0.9)).isEmpty(); // three lines from the end of the spectrum
    }

    /** A second tone is looked for up to the highest frequency that any tone may have: 75 Hz, or three lines, below half the rate. */
    @Test
    void aSecondToneMayBeHigh() {
        assertThat(second(TONE, 1, 2029, 0.3)).hasValue(LINE_HZ * 2029); // 8116 of 8192 Hz
        assertThat(second(TONE, 1, 2032, 0.3)).isEmpty(); // whose side lines do not reach in
        ToneFinder brief = new ToneFinder(256_000, 0.001); // lines of 1 kHz: those of a sixteenth of the samples
        assertThat(brief.find(lines(16 * 40, 1, 16 * 125, 0.3), OFFSET, 10_000, 100_000)
                        .orElseThrow()
                        .secondHz())
                .hasValue(125_000);
        assertThat(brief.find(lines(16 * 40, 1, 16 * 127, 0.3), OFFSET, 10_000, 100_000)
                        .orElseThrow()
                        .secondHz())
                .isEmpty();
    }

    /** A window of noise and of a tone that wavers: {@code f(t) = hz (1 + peak cos(2 pi rate t + phase))}. */
    private static float[] wavering(double hz, double peak, double rateHz, double phase) {
        Random random = new Random(7);
        float[] samples = new float[OFFSET + 4096];
        for (int i = 0; i < 4096; i++) {
            double t = i / RATE;
            double angle = 2 * Math.PI * hz * t + hz * peak / rateHz * Math.sin(2 * Math.PI * rateHz * t + phase);
            samples[OFFSET + i] = (float) (Math.cos(angle) + 3e-4 * random.nextGaussian());
        }
        return samples;
    }

    /**
     * Wow of a high tone moves most of its power away from the middle, to where it stands longest (Bessel functions, as of any frequency
     * modulation): the strongest line then has others on one side only, and what stands there is no second tone.
     */
    @ParameterizedTest
    @CsvSource({
        "3150, 0.01, 3",
        "3150, 0.01, 6",
        "3150, 0.01, 10",
        "6300, 0.004, 3",
        "6300, 0.004, 6",
        "6300, 0.004, 10",
        "6300, 0.01, 1.5",
        "6300, 0.002, 25"
    })
    void flutterOfAHighToneIsNoSecondTone(double hz, double peak, double rateHz) {
        for (int k = 0; k < 12; k++) {
            float[] samples = wavering(hz, peak, rateHz, Math.PI * k / 6);
            assertThat(new ToneFinder(RATE, 0.25)
                            .find(samples, OFFSET, 150, 7000)
                            .orElseThrow()
                            .secondHz())
                    .as("phase %d of 12", k)
                    .isEmpty();
        }
    }

    /** Of wow of many hundredths the strongest line stands at an end of what the tone passes, and more of it on the other side of the middle. */
    @ParameterizedTest
    @CsvSource({"3000, 0.055, 6.3, 0", "3150, 0.055, 4, 4", "1000, 0.055, 10, 0", "6300, 0.055, 3, 2"})
    void aToneWithGreatWowIsFound(double hz, double peak, double rateHz, int taken) {
        int seconds = 0;
        for (int k = 0; k < 12; k++) {
            FoundTone found = new ToneFinder(RATE, 0.25)
                    .find(wavering(hz, peak, rateHz, Math.PI * k / 6), OFFSET, 150, 7000)
                    .orElseThrow();
            seconds += found.secondHz().isPresent() ? 1 : 0;
            // A window that holds a part of a turn holds more of its one half than of the other.
            assertThat(found.frequencyHz()).isCloseTo(hz, within(peak * hz));
        }
        // Where the window holds one turn, or less, its spectrum has sides that differ, and what is rarest may be taken
        // for a second tone.
        assertThat(seconds).isLessThanOrEqualTo(taken);
    }

    /** The same flutter, and a second tone of 0.3 at some distance: the power between is no flutter that fills it. */
    @ParameterizedTest
    @CsvSource({"3150, 130, 0.001, 6", "3150, -130, 0.001, 6", "6300, 260, 0.001, 3", "6300, -260, 0.001, 3"})
    void aSecondToneBesideFlutterIsTold(double hz, double away, double peak, double rateHz) {
        for (int k = 0; k < 12; k++) {
            float[] samples = wavering(hz, peak, rateHz, Math.PI * k / 6);
            float[] second = wavering(hz + away, peak, rateHz, Math.PI * k / 6);
            for (int i = 0; i < samples.length; i++) {
                samples[i] += 0.3f * second[i];
            }
            assertThat(new ToneFinder(RATE, 0.25)
                            .find(samples, OFFSET, 150, 7000)
                            .orElseThrow()
                            .secondHz()
                            .orElseThrow())
                    .as("phase %d of 12", k)
                    .isCloseTo(hz + away, within(peak * hz + 2 * LINE_HZ)); // which wavers itself, and two lines
        }
    }

    /** Line 6 is half of 12 and stronger, but so low that an offset would reach it. */
    @Test
    void aFundamentalIsAboveLineSix() {
        assertThat(found(40, 60, 12, 1, 6, 2).orElseThrow().secondHz()).isEmpty();
        assertThat(found(40, 60, 14, 1, 7, 2).orElseThrow().secondHz()).hasValue(LINE_HZ * 7);
    }

    /** A hundredth and a line beyond the range, 692 and 809, a tone counts. */
    @ParameterizedTest
    @CsvSource({"693, true", "691, false", "808, true", "810, false"})
    void theRangeEndsAHundredthAndALineOn(int line, boolean counts) {
        assertThat(found(2800, 3200, line, 1).isPresent()).isEqualTo(counts);
    }

    /** Two tones are each other's image about their middle, which flutter's lines are too; but between them there is nothing. */
    @Test
    void twoEqualTonesAreTold() {
        assertThat(second(TONE, 1, 785, 0.99)).hasValue(LINE_HZ * 785);
        assertThat(second(TONE, 1, 715, 0.99)).hasValue(LINE_HZ * 715);
        // With 0.928 the middle is 768.5, and the image of 790 three lines from 750: that is still its own.
        assertThat(second(TONE, 1, 790, 0.9276)).hasValue(LINE_HZ * 790);
        // Nearer than any other tone is looked for, where neither stands out alone: told about the centre of their
        // power, 729.0.
        assertThat(found(150, 7000, TONE, 1, 703, 0.9).orElseThrow().frequencyHz())
                .isCloseTo(LINE_HZ * (TONE + 0.81 * 703) / 1.81, within(0.05 * LINE_HZ));
        // A line on the end of what is near.
        assertThat(second(TONE, 1, 798, 0.3)).hasValue(LINE_HZ * 798);
        assertThat(second(TONE, 1, 702, 0.3)).hasValue(LINE_HZ * 702);
    }

    /** A lone tone outside the range is no tone in it, nor one of two: what stands at the edge is its skirt, or noise. */
    @ParameterizedTest
    @ValueSource(ints = {560, 600, 640, 655, 845, 860, 900, 950, 1000})
    void aToneOutsideTheRangeIsNoneInIt(int line) {
        float[] samples = lines(line, 1);
        Random random = new Random(line);
        for (int i = 0; i < samples.length; i++) {
            samples[i] += (float) (3e-4 * random.nextGaussian());
        }
        // 2800 to 3200 Hz are the lines 700 to 800.
        assertThat(new ToneFinder(RATE, 0.25).find(samples, OFFSET, 2800, 3200)).isEmpty();
    }
}
