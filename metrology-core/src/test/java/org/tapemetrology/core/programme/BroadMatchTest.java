/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** How well spectra of known form fit noise and many tones. Costs are kept as floats: 1e-5 is their rounding. */
class BroadMatchTest {
    private static final double BIN = 5;
    private static final int BINS = 4001;
    private static final List<Double> TONES = List.of(500.0, 1000.0, 2500.0, 6000.0, 10_000.0);

    private static final int PINK = 0;
    private static final int WHITE = 1;
    private static final int MANY = 2;
    private static final int BAND = 3;

    private static final List<Step> STEPS = List.of(
            new Step("pink", new StepSignal.Noise(true, 20, 18_000, -20), Step.Side.BOTH, 5),
            new Step("white", new StepSignal.Noise(false, 20, 18_000, -20), Step.Side.BOTH, 5),
            new Step("many", new StepSignal.Multitone(TONES, -20), Step.Side.BOTH, 5),
            new Step("band", new StepSignal.Noise(false, 500, 4000, -20), Step.Side.BOTH, 5),
            new Step("tone", new StepSignal.Tone(1000, -20), Step.Side.BOTH, 5));

    private static BroadMatch.Fit judge(double[] power) {
        // So many frames that random noise would be flat.
        return new BroadMatch(STEPS, BIN, BINS).judge(power, 1_000_000);
    }

    /** Density that falls by so many powers of the frequency. */
    private static double[] falling(double exponent) {
        double[] power = new double[BINS];
        for (int k = 1; k < BINS; k++) {
            power[k] = Math.pow(k, -exponent);
        }
        return power;
    }

    private static double[] lines(double ratio, double... powers) {
        double[] power = new double[BINS];
        Arrays.fill(power, 1e-9);
        for (int i = 0; i < powers.length; i++) {
            power[(int) Math.round(ratio * TONES.get(i) / BIN)] = powers[i];
        }
        return power;
    }

    /** Pink noise falls by 3 dB an octave, white by none; what is off by 3 dB an octave is the other one. */
    @Test
    void noiseIsToldByItsTilt() {
        BroadMatch.Fit white = judge(falling(0));
        BroadMatch.Fit pink = judge(falling(1));
        // A few bins at the ends are not in the band: 0.1 % of the power and a hundredth of a cost.
        assertThat(white.cost(WHITE)).isBetween(0.0, 0.02);
        assertThat(pink.cost(WHITE)).isInfinite();
        assertThat(pink.cost(PINK)).isBetween(0.0, 0.7);
        assertThat(white.cost(4)).isInfinite();
        // Half the square of what the tilt is off: 10 lg 2 times 0.5 is 1.505 dB an octave.
        double half = 10 * Math.log10(2) / 2;
        BroadMatch.Fit between = judge(falling(0.5));
        assertThat(between.cost(WHITE)).isCloseTo(half * half / 2, within(0.05));
        assertThat(between.cost(PINK)).isCloseTo((3 - half) * (3 - half) / 2, within(0.15));
        assertThat(judge(falling(2.1)).cost(PINK)).isInfinite();
        assertThat(judge(falling(-0.5)).cost(WHITE)).isCloseTo(half * half / 2, within(0.05));
    }

    /** Between 80 and 55 % of flatness the cost goes from 0 to 3: lines of every other bin alone have half. */
    @Test
    void noiseIsFlatFromBinToBin() {
        double[] comb = falling(0);
        double low = 0.25;
        for (int k = 0; k < BINS; k += 2) {
            comb[k] = low;
        }
        double flatness = Math.sqrt(low) / ((1 + low) / 2);
        assertThat(flatness).isCloseTo(0.8, within(1e-12));
        assertThat(judge(comb).cost(WHITE)).isBetween(0.0, 0.1);
        low = 0.1;
        for (int k = 0; k < BINS; k += 2) {
            comb[k] = low;
        }
        flatness = Math.sqrt(low) / ((1 + low) / 2);
        // Third octaves of few bins may hold one more of the one kind.
        assertThat(judge(comb).cost(WHITE)).isCloseTo(3 * (0.8 - flatness) / 0.25, within(0.1));
        for (int k = 0; k < BINS; k += 2) {
            comb[k] = 0.07;
        }
        assertThat(judge(comb).cost(WHITE)).isInfinite();
    }

    /** Of few frames noise is not flat, which is allowed for: a single one may be less flat by exp(0.6). */
    @Test
    void fewFramesNeedNotBeFlat() {
        double[] comb = falling(0);
        for (int k = 0; k < BINS; k += 2) {
            comb[k] = 0.07;
        }
        assertThat(new BroadMatch(STEPS, BIN, BINS).judge(comb, 1).cost(WHITE)).isBetween(0.0, 0.1);
    }

    /** A band is told by the part of the power that lies in it, with a fifth to a quarter beside: 60 % cost 3, all of it nothing. */
    @Test
    void aBandHoldsItsPower() {
        double[] band = new double[BINS];
        for (int k = 100; k <= 800; k++) {
            band[k] = 1;
        }
        assertThat(judge(band).cost(BAND)).isCloseTo(0, within(1e-3));
        assertThat(judge(band).cost(WHITE)).isInfinite();
        band[3000] = 701 / 4.0; // so that 80 % are in the band
        assertThat(judge(band).cost(BAND)).isCloseTo(3 * 0.2 / 0.4, within(1e-3));
        band[3000] = 701;
        assertThat(judge(band).cost(BAND)).isInfinite();
    }

    @Test
    void manyTonesAreFoundAtAnySpeed() {
        for (double ratio : new double[] {0.95, 1, 1.03}) {
            BroadMatch.Fit fit = judge(lines(ratio, 1, 1, 1, 1, 1));
            assertThat(fit.cost(MANY)).isZero();
            // Steps of 0.2 %, and lines at whole bins: half a bin at 500 Hz is 0.5 %.
            assertThat(fit.lnRatio(MANY)).isCloseTo(Math.log(ratio), within(0.004));
            assertThat(fit.lnRatio(WHITE)).isZero();
        }
        assertThat(judge(lines(1.12, 1, 1, 1, 1, 1)).cost(MANY)).isInfinite();
    }

    /** The part of the power that is in the lines: from 85 % on it costs nothing, at 50 % 3, less is none. */
    @Test
    void manyTonesHoldMostOfThePower() {
        double[] power = lines(1, 1, 1, 1, 1, 1);
        power[350] = 5 / 0.7 - 5;
        assertThat(judge(power).cost(MANY)).isCloseTo(3 * 0.15 / 0.35, within(1e-4));
        power[350] = 5 / 0.86 - 5;
        assertThat(judge(power).cost(MANY)).isZero();
        power[350] = 5 / 0.49 - 5;
        assertThat(judge(power).cost(MANY)).isInfinite();
    }

    /** Three of five must be there: the highest may be lost, the lowest drowned. */
    @Test
    void threeOfFiveTonesAreEnough() {
        assertThat(judge(lines(1, 0, 1, 1, 1, 0)).cost(MANY)).isZero();
        assertThat(judge(lines(1, 0, 0, 1, 1, 0)).cost(MANY)).isInfinite();
        // A broad hump in the place of each tone is no tone.
        double[] humps = new double[BINS];
        Arrays.fill(humps, 1e-9);
        for (double hertz : TONES) {
            int middle = (int) (hertz / BIN);
            int wide = (int) Math.max(7, 0.04 * middle);
            for (int k = middle - wide; k <= middle + wide; k++) {
                humps[k] = 1;
            }
        }
        assertThat(judge(humps).cost(MANY)).isInfinite();
    }

    /**
     * Tones at the bins 100, 140 and 200, of which each is 6 bins wide: two before its middle to three behind it. From 6 to
     * 3 before and 4 to 6 behind it stands what is beside it, and a tone has four times the mean of both sides.
     */
    @ParameterizedTest
    @CsvSource({
        "-7, 0.9, true",
        "-6, 0.32, true",
        "-6, 0.35, false",
        "-4, 0.32, true",
        "-4, 0.35, false",
        "4, 0.24, true",
        "4, 0.26, false",
        "6, 0.24, true",
        "6, 0.26, false",
        "7, 0.9, true"
    })
    void aToneStandsOutOfWhatIsBesideIt(int off, double beside, boolean present) {
        BroadMatch match = new BroadMatch(
                List.of(new Step(
                        "three", new StepSignal.Multitone(List.of(500.0, 700.0, 1000.0), -20), Step.Side.BOTH, 5)),
                BIN,
                BINS);
        double[] power = new double[BINS];
        for (int bin : new int[] {100, 140, 200}) {
            power[bin] = 1;
            power[bin + off] = beside;
        }
        assertThat(Double.isFinite(match.judge(power, 100).cost(0))).isEqualTo(present);
    }

    /** What lies too low to be told, within 7.5 bins, or too near the end of the spectrum does not count among the tones. */
    @Test
    void onlyTonesThatCanBeToldCount() {
        BroadMatch match = new BroadMatch(
                List.of(new Step(
                        "ends", new StepSignal.Multitone(List.of(35.0, 500.0, 19_900.0), -20), Step.Side.BOTH, 5)),
                BIN,
                BINS);
        double[] power = new double[BINS];
        power[100] = 1;
        assertThat(match.judge(power, 100).cost(0)).isZero();
        // At 40 Hz, 8 bins, it can be told, and one of two is not 60 %.
        BroadMatch told = new BroadMatch(
                List.of(new Step(
                        "ends", new StepSignal.Multitone(List.of(40.0, 500.0, 19_900.0), -20), Step.Side.BOTH, 5)),
                BIN,
                BINS);
        assertThat(told.judge(power, 100).cost(0)).isInfinite();
        power[8] = 1;
        assertThat(told.judge(power, 100).cost(0)).isZero();
    }
}
