/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.DoubleStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.fit.CorrelatedMean;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.response.ResponseMeter.ToneLevel;

/** Stepped tones from spectra that are written line by line: 8 kHz, 3.90625 Hz a line, 0.128 s from frame to frame. */
class SteppedToneLevelsTest {
    private static final double LINE = 8000.0 / 2048;
    private static final double HOP = 0.128;

    /** Lines 80, 256 and 640; tones of 16 hops. */
    private static final double[] TONES = {312.5, 1000, 2500};

    private final SteppedToneResponse meter = new SteppedToneResponse(8000, 1, 1000, ToneStep.each(16 * HOP, TONES));

    private void feed(int frames, double hertz, double power, double floor) {
        feed(frames, hertz, power, floor, false);
    }

    private void feed(int frames, double hertz, double power, double floor, boolean overloaded) {
        for (int i = 0; i < frames; i++) {
            double[] lines = new double[1025];
            java.util.Arrays.fill(lines, floor);
            lines[(int) Math.round(hertz / LINE)] += power;
            meter.add(lines, overloaded);
        }
    }

    private void silence(int frames) {
        feed(frames, 100, 0, 0);
    }

    private List<Status> statuses() {
        return meter.levels().stream().map(ToneLevel::status).toList();
    }

    private double power(int tone) {
        ToneLevel level = meter.levels().get(tone);
        assertThat(level.status()).isEqualTo(Status.VALID);
        return level.power();
    }

    @Test
    void tonesInTheirOrderHaveTheirPowers() {
        assertThat(statuses()).containsOnly(Status.INSUFFICIENT_DATA);
        assertThat(meter.speedRatio()).isEmpty();
        silence(10);
        assertThat(statuses()).containsOnly(Status.NO_CARRIER);
        for (int i = 0; i < 3; i++) {
            feed(17, TONES[i], 1 + i, 0.001);
            silence(4);
        }
        // A floor that is alike everywhere is taken off to the last digit.
        for (int i = 0; i < 3; i++) {
            assertThat(power(i)).isCloseTo(1 + i, within(1e-12));
            assertThat(meter.levels().get(i).frequencyHz()).isEqualTo(TONES[i]);
        }
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo(1, within(1e-3));
        assertThat(meter.method()).isEqualTo("stepped tones, selective power mean");
        meter.reset();
        assertThat(statuses()).containsOnly(Status.INSUFFICIENT_DATA);
        assertThat(meter.speedRatio()).isEmpty();
    }

    /** Two frames at either end of a tone are left out, and what is left scatters as a mean of dependent values does. */
    @Test
    void endsAreLeftOutAndTheRestScatters() {
        feed(17, TONES[0], 1, 0);
        feed(2, TONES[1], 9, 0);
        CorrelatedMean expected = new CorrelatedMean();
        double[] powers = {1, 1.1, 0.9, 1.2, 1, 0.8, 1, 1.1, 0.9, 1, 1.05, 0.95, 1};
        for (double power : powers) {
            feed(1, TONES[1], power, 0);
            expected.add(power);
        }
        feed(2, TONES[1], 5, 0);
        ToneLevel level = meter.levels().get(1);
        assertThat(level.power()).isCloseTo(DoubleStream.of(powers).average().orElseThrow(), within(1e-12));
        CorrelatedMean.Scatter scatter = expected.scatter().orElseThrow();
        assertThat(level.relativeVariance())
                .isCloseTo(Math.pow(scatter.standardUncertainty() / level.power(), 2), within(1e-12));
        assertThat(level.degreesOfFreedom()).isCloseTo(scatter.degreesOfFreedom(), within(1e-9));
        assertThat(meter.levels().get(0).relativeVariance())
                .as("a tone that does not scatter")
                .isZero();
    }

    /** Five frames are the least: one is left of them. */
    @ParameterizedTest
    @CsvSource({"4, INSUFFICIENT_DATA", "5, VALID"})
    void aShortToneIsTooLittle(int frames, Status status) {
        feed(17, TONES[0], 1, 0);
        feed(frames, TONES[1], 1, 0);
        assertThat(statuses()).containsExactly(Status.VALID, status, Status.NO_CARRIER);
    }

    /** A tone counts from 10 dB above the noise beside it on: lines 253 to 259 are summed, 251 and below and 261 and above are noise. */
    @Test
    void aToneStandsTenDecibelsAboveItsNoise() {
        // Of line 256, 2 % are 5.12: 6 lines either side, 13 of them.
        feed(17, TONES[1], 13 * 0.01 * 9.05, 0.01);
        assertThat(power(1)).isCloseTo(13 * 0.01 * 9.05, within(1e-12));
        meter.reset();
        feed(17, TONES[1], 13 * 0.01 * 8.95, 0.01);
        assertThat(statuses()).containsOnly(Status.NO_CARRIER);
    }

    /** What belongs to a tone and what stands beside it: 6 lines, a gap of one, then 7 lines of noise either side. */
    @ParameterizedTest
    @CsvSource({
        "6, 1.5",
        "-6, 1.5",
        "7, 1",
        "-7, 1",
        "8, 0.5357142857",
        "-8, 0.5357142857",
        "14, 0.5357142857",
        "-14, 0.5357142857",
        "15, 1",
        "-15, 1"
    })
    void linesBesideAToneAreNoise(int off, double power) {
        for (int i = 0; i < 17; i++) {
            double[] lines = new double[1025];
            lines[256] = 1;
            lines[256 + off] = off == 0 ? 1 : 0.5;
            // At 8 and beyond: 0.5 in 14 lines are 13/14 of 0.5 among the 13 of the tone.
            meter.add(lines, false);
        }
        if (power < 1) {
            // Noise of 0.46 against 1 is no 10 dB.
            assertThat(statuses().get(1)).isEqualTo(Status.NO_CARRIER);
            meter.reset();
            for (int i = 0; i < 17; i++) {
                double[] lines = new double[1025];
                lines[256] = 1;
                lines[256 + off] = 0.05;
                meter.add(lines, false);
            }
            assertThat(power(1)).isCloseTo(1 - 0.05 * 13 / 14, within(1e-12));
        } else {
            assertThat(power(1)).isCloseTo(power, within(1e-12));
        }
    }

    /** Near 0 Hz and near half the rate there is noise on one side alone, or lines that do not exist. */
    @Test
    void tonesAtTheEndsOfTheSpectrum() {
        SteppedToneResponse ends = new SteppedToneResponse(8000, 1, 3600, ToneStep.each(16 * HOP, 20, 3600));
        for (double hertz : new double[] {20, 3600}) {
            for (int i = 0; i < 17; i++) {
                double[] lines = new double[1025];
                java.util.Arrays.fill(lines, 0.001);
                lines[(int) Math.round(hertz / LINE)] += 1;
                ends.add(lines, false);
            }
        }
        for (ToneLevel level : ends.levels()) {
            assertThat(level.power()).isCloseTo(1, within(1e-12));
        }
    }

    /** The speed is the median of the tones' ratios to what was sent, each the centre of its power. */
    @ParameterizedTest
    @CsvSource({"1.05", "0.95"})
    void theSpeedIsTheMedian(double speed) {
        double[] lines = new double[3];
        for (int i = 0; i < 3; i++) {
            feed(17, TONES[i] * speed, 1, 0);
            lines[i] = Math.round(TONES[i] * speed / LINE) * LINE / TONES[i];
        }
        java.util.Arrays.sort(lines);
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo(lines[1], within(1e-9));
        assertThat(statuses()).containsOnly(Status.VALID);
        meter.reset();
        // Of two tones it is the mean.
        feed(17, 320 * LINE / 320 * 80, 1, 0);
        feed(17, 260 * LINE, 1, 0);
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo((1 + 260.0 / 256) / 2, within(1e-9));
    }

    /** Two lines in one frame have their centre between them. */
    @Test
    void theFrequencyIsTheCentreOfThePower() {
        for (int i = 0; i < 17; i++) {
            double[] lines = new double[1025];
            lines[256] = 0.25;
            lines[257] = 0.75;
            meter.add(lines, false);
        }
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo(256.75 / 256, within(1e-12));
    }

    /** 7 % off, by the logarithm, a line is none of the tones; and 2 % off the others it is not that one. */
    @Test
    void whatIsOffTheSpeedIsNoTone() {
        for (int line : new int[] {688, 685, 597, 596}) {
            meter.reset();
            feed(17, line * LINE, 1, 0);
            boolean near = Math.abs(Math.log(line / 640.0)) < 0.07;
            assertThat(statuses().get(2)).as("line %d", line).isEqualTo(near ? Status.VALID : Status.NO_CARRIER);
        }
        for (int line : new int[] {652, 653}) {
            meter.reset();
            feed(17, TONES[0], 1, 0);
            feed(17, TONES[1], 1, 0);
            feed(17, line * LINE, 1, 0);
            assertThat(statuses())
                    .as("line %d", line)
                    .containsExactly(Status.VALID, Status.VALID, line < 653 ? Status.VALID : Status.NO_CARRIER);
        }
    }

    /** Of low tones a line is more than 2 %: a quarter of it may be off. */
    @Test
    void aLowToneMayBeOffByAQuarterOfALine() {
        SteppedToneResponse low = new SteppedToneResponse(8000, 1, 1000, ToneStep.each(16 * HOP, 31.25, 500, 1000));
        for (double shift : new double[] {0.24, 0.26}) {
            low.reset();
            for (int i = 0; i < 51; i++) {
                double[] lines = new double[1025];
                int line = i < 17 ? 8 : i < 34 ? 128 : 256;
                lines[line] = i < 17 ? 1 - shift : 1;
                lines[line + 1] = i < 17 ? shift : 0;
                low.add(lines, false);
            }
            assertThat(low.levels().get(0).status()).isEqualTo(shift < 0.25 ? Status.VALID : Status.NO_CARRIER);
        }
    }

    /** Two missing frames are bridged, three are not: then the longer part is the tone, if it fits better. */
    @Test
    void framesMayBeMissing() {
        feed(8, TONES[1], 1, 0);
        silence(2);
        feed(8, TONES[1], 3, 0);
        assertThat(power(1)).isCloseTo(2, within(1e-12));
        meter.reset();
        feed(7, TONES[1], 1, 0);
        silence(3);
        feed(9, TONES[1], 3, 0);
        assertThat(power(1)).isCloseTo(3, within(1e-12));
    }

    /** Of two runs that fit alike the one that leaves no gap is taken; of a long one and a right one the right one. */
    @Test
    void theRunsThatFitBestAreTaken() {
        feed(60, TONES[1], 7, 0);
        silence(4);
        feed(17, TONES[0], 1, 0);
        feed(17, TONES[1], 2, 0);
        feed(17, TONES[2], 3, 0);
        silence(50);
        feed(17, TONES[2], 9, 0);
        for (int i = 0; i < 3; i++) {
            assertThat(power(i)).isCloseTo(1 + i, within(1e-12));
        }
        meter.reset();
        // Tones in the wrong order: the one that fits best counts, and the first of those that fit alike.
        feed(17, TONES[2], 3, 0);
        feed(17, TONES[1], 2, 0);
        assertThat(statuses()).containsExactly(Status.NO_CARRIER, Status.NO_CARRIER, Status.VALID);
        meter.reset();
        feed(14, TONES[2], 3, 0);
        feed(17, TONES[1], 2, 0);
        assertThat(statuses()).containsExactly(Status.NO_CARRIER, Status.VALID, Status.NO_CARRIER);
    }

    /** Overload within a tone, but not at its ends, is its status. */
    @Test
    void overloadWithinATone() {
        feed(17, TONES[0], 1, 0);
        feed(2, TONES[1], 1, 0, true);
        feed(13, TONES[1], 1, 0);
        feed(2, TONES[1], 1, 0, true);
        feed(2, TONES[2], 1, 0);
        feed(1, TONES[2], 1, 0, true);
        feed(14, TONES[2], 1, 0);
        assertThat(statuses()).containsExactly(Status.VALID, Status.VALID, Status.OVERLOAD);
    }

    /** Lines are weighted by their number, so that hum does not hide a tone: 4 times the power at a fifth of it. */
    @Test
    void highLinesWeighMore() {
        for (int i = 0; i < 17; i++) {
            double[] lines = new double[1025];
            lines[640] = 1;
            lines[80] = 7.9;
            lines[500] = 100; // none of the tones is near
            meter.add(lines, false);
        }
        assertThat(statuses()).containsExactly(Status.NO_CARRIER, Status.NO_CARRIER, Status.VALID);
        meter.reset();
        for (int i = 0; i < 17; i++) {
            double[] lines = new double[1025];
            lines[640] = 1;
            lines[80] = 8.1;
            meter.add(lines, false);
        }
        assertThat(statuses()).containsExactly(Status.VALID, Status.NO_CARRIER, Status.NO_CARRIER);
    }
}
