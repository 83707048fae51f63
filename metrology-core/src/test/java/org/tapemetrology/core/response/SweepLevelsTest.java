/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.response.ResponseMeter.ToneLevel;
import org.tapemetrology.signals.LogarithmicSweep;

/**
 * Sweeps from 50 Hz to 3.5 kHz in 4 s at 8 kHz: frames of 1024 samples, 7.8125 Hz a line, 64 ms from frame to frame. Bands from
 * 63 Hz to 2.5 kHz lie within. First from spectra that are written line by line, in which levels are exact; then of samples.
 */
class SweepLevelsTest {
    private static final double LINE = 7.8125;
    /** Growth of the logarithm of the frequency in a frame. */
    private static final double SLOPE = Math.log(70) / 4 * 0.064;
    /** The frame in whose middle the sweep starts. */
    private static final int START = 10;

    private static final double SECONDS = 4;

    private static SweepResponse meter() {
        return new SweepResponse(8000, 1, 1000, 50, 3500, SECONDS);
    }

    private static double lineOf(double frame, double slope) {
        return 50 / LINE * Math.exp(slope * (frame - START));
    }

    /** Number of the frame in whose middle the sweep passes a frequency. */
    private static double frameOf(double hertz) {
        return START + Math.log(hertz / 50) / SLOPE;
    }

    /** A frame whose centre of power is a line. */
    private static double[] spectrum(double line, double power) {
        double[] lines = new double[513];
        int below = (int) line;
        if (below + 1 < lines.length) {
            lines[below] = power * (1 - (line - below));
            lines[below + 1] = power * (line - below);
        }
        return lines;
    }

    /** Frames before, within and after the sweep; levels in dB by the number of the frame. */
    private static void feed(SweepResponse meter, IntToDoubleFunction decibels) {
        for (int n = 0; n < 90; n++) {
            boolean swept = n >= START && n <= START + 62;
            double power = swept ? Math.pow(10, decibels.applyAsDouble(n) / 10) : 0;
            meter.add(spectrum(lineOf(n, SLOPE), power), false);
        }
    }

    /** A parabola over the logarithm of the frequency is read exactly, and neither slope nor curvature is scatter. */
    @Test
    void slopeAndCurvatureDoNotMoveALevel() {
        SweepResponse meter = meter();
        assertThat(meter.levels()).extracting(ToneLevel::status).containsOnly(Status.INSUFFICIENT_DATA);
        DoubleUnaryOperator curve = n -> -20 + 0.3 * (n - 40) + 0.02 * (n - 40) * (n - 40);
        feed(meter, curve::applyAsDouble);
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo(1, within(1e-4));
        List<ToneLevel> levels = meter.levels();
        assertThat(levels)
                .extracting(ToneLevel::frequencyHz)
                .containsExactly(
                        63.0, 80.0, 100.0, 125.0, 160.0, 200.0, 250.0, 315.0, 400.0, 500.0, 630.0, 800.0, 1000.0,
                        1250.0, 1600.0, 2000.0, 2500.0);
        for (ToneLevel level : levels) {
            assertThat(level.status()).as("%s Hz", level.frequencyHz()).isEqualTo(Status.VALID);
            double wanted = curve.applyAsDouble(frameOf(level.frequencyHz()));
            // The line that is fitted to the frames, 1e-4 off in slope, moves a frame by some thousandths: 0.02 dB at 2
            // dB a frame.
            assertThat(10 * Math.log10(level.power()))
                    .as("%s Hz", level.frequencyHz())
                    .isCloseTo(wanted, within(0.01));
            assertThat(level.relativeVariance()).isCloseTo(0, within(1e-12));
            assertThat(level.degreesOfFreedom()).isPositive();
        }
        assertThat(meter.method()).isEqualTo("logarithmic sweep, level about the swept frequency");
        meter.reset();
        assertThat(meter.levels()).extracting(ToneLevel::status).containsOnly(Status.INSUFFICIENT_DATA);
        assertThat(meter.speedRatio()).isEmpty();
    }

    /**
     * Levels a up and a down in turns: third differences over 5 frames, half an octave, are all 8 a. Their median over
     * 0.4549 is the variance of them, 10.49 times that of a level, of which the middle of a parabola has 0.847.
     */
    @Test
    void jumpsAreStated() {
        SweepResponse meter = meter();
        double a = 0.1;
        feed(meter, n -> n % 2 == 0 ? a : -a);
        double variance = 0.847 * 64 * a * a / 0.4549 / 10.49;
        double perDecibel = Math.log(10) / 10;
        // 61 frames lie wholly within: 46 differences, of which a median of 0.37 of their number over 5, halved.
        double freedom = 0.37 * 46 / 5 / 2;
        for (ToneLevel level : meter.levels()) {
            assertThat(level.relativeVariance()).isCloseTo(variance * perDecibel * perDecibel, within(1e-6 * variance));
            assertThat(level.degreesOfFreedom()).isCloseTo(freedom, within(1e-9));
            // The jumps themselves are averaged under the square of a cosine of 10 frames.
            assertThat(10 * Math.log10(level.power())).isCloseTo(0, within(0.03));
        }
        Reading reading = meter.readings().get(0);
        assertThat(reading.typeA().orElseThrow().value()).isCloseTo(Math.sqrt(2 * variance), within(1e-6));
        assertThat(reading.typeA().orElseThrow().degreesOfFreedom()).isCloseTo(2 * freedom, within(1e-9));
    }

    /** Levels that scatter: the median of the squares of their third differences, whatever their order. */
    @Test
    void theMedianOfTheJumpsIsStated() {
        Random random = new Random(4);
        double[] decibels = random.doubles(90, -1, 1).toArray();
        SweepResponse meter = meter();
        feed(meter, n -> decibels[n]);
        double[] squares = new double[46];
        for (int i = 0; i < squares.length; i++) {
            int n = START + 1 + i;
            double third = decibels[n + 15] - decibels[n] + 3 * (decibels[n + 5] - decibels[n + 10]);
            squares[i] = third * third;
        }
        Arrays.sort(squares);
        double variance = 0.847 * squares[23] / 0.4549 / 10.49;
        double perDecibel = Math.log(10) / 10;
        assertThat(meter.levels().get(3).relativeVariance())
                .isCloseTo(variance * perDecibel * perDecibel, within(1e-6 * variance));
    }

    /** Hum at 781 Hz, 6.5 dB below the sweep, is what stands there when the sweep has gone on, and is taken off. */
    @Test
    void whatStandsStillIsTakenOff() {
        for (int line : new int[] {100, 20}) {
            SweepResponse meter = meter();
            for (int n = 0; n < 90; n++) {
                double[] power = spectrum(lineOf(n, SLOPE), n >= START && n <= START + 62 ? 1 : 0);
                power[line] += 0.22;
                meter.add(power, false);
            }
            for (ToneLevel level : meter.levels()) {
                assertThat(level.status()).as("%s Hz", level.frequencyHz()).isEqualTo(Status.VALID);
                assertThat(10 * Math.log10(level.power()))
                        .as("%s Hz", level.frequencyHz())
                        .isCloseTo(0, within(1e-3));
            }
        }
    }

    /** A recording that begins within the sweep lacks the bands before; where it stood still before, it had no sweep. */
    @Test
    void aRecordingMayBeginWithinASweep() {
        for (boolean silent : new boolean[] {true, false}) {
            SweepResponse meter = meter();
            for (int n = silent ? 0 : 30; n < 90; n++) {
                meter.add(spectrum(lineOf(n, SLOPE), n >= 30 && n <= START + 62 ? 1 : 0), false);
            }
            for (ToneLevel level : meter.levels()) {
                double middle = frameOf(level.frequencyHz());
                Status early = silent ? Status.NO_CARRIER : Status.INSUFFICIENT_DATA;
                if (Math.abs(middle - 31) > 3) {
                    assertThat(level.status())
                            .as("%s Hz", level.frequencyHz())
                            .isEqualTo(middle < 31 ? early : Status.VALID);
                }
            }
        }
    }

    /** Of a sweep that stops early there are few differences: fewer than 12 tell nothing. */
    @Test
    void aShortPartHasNoScatter() {
        for (int last : new int[] {START + 28, START + 29}) {
            SweepResponse meter = meter();
            int end = last;
            feed(meter, n -> n <= end ? 0 : Double.NEGATIVE_INFINITY);
            ToneLevel level = meter.levels().get(4);
            assertThat(level.status()).isEqualTo(Status.VALID);
            // Frames 11 to the last but two are whole: less 15 they are 11 and 12.
            assertThat(level.degreesOfFreedom() > 0).isEqualTo(last == START + 29);
        }
    }

    @Test
    void overloadIsThatOfTheFramesNear() {
        SweepResponse meter = meter();
        int overloaded = (int) Math.round(frameOf(400));
        for (int n = 0; n < 90; n++) {
            meter.add(spectrum(lineOf(n, SLOPE), n >= START && n <= START + 62 ? 1 : 0), n == overloaded);
        }
        for (ToneLevel level : meter.levels()) {
            double off = Math.abs(frameOf(level.frequencyHz()) - overloaded);
            assertThat(level.status())
                    .as("%s Hz", level.frequencyHz())
                    .isEqualTo(off < 1.5 * Math.log(10) / 10 / SLOPE ? Status.OVERLOAD : Status.VALID);
        }
    }

    @ParameterizedTest
    @CsvSource({"1.05", "0.95", "1.02"})
    void aSweepOffSpeedIsFoundAtItsPlace(double ratio) {
        double[] samples = replay(ratio, 0.3, f -> 1 / Math.hypot(1, f / 1000));
        SweepResponse meter = meter();
        meter.accept(samples, 0, samples.length);
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo(ratio, within(0.002));
        for (Reading reading : meter.readings()) {
            double f = reading.atFrequencyHz().orElseThrow();
            double wanted = 20 * Math.log10(Math.hypot(1, 1) / Math.hypot(1, f / 1000));
            // What a parabola over an octave leaves of a corner of first order, and a frame that spans a fifth of an
            // octave.
            assertThat(reading.value().orElseThrow()).as("%s Hz", f).isCloseTo(wanted, within(0.05));
        }
    }

    /** A sweep after a second and a half of nothing, and as long behind it. */
    private static double[] replay(double ratio, double amplitude, DoubleUnaryOperator magnitude) {
        LogarithmicSweep sweep = new LogarithmicSweep(50, 3500, SECONDS, amplitude);
        double[] samples = new double[(int) ((SECONDS / ratio + 3) * 8000)];
        for (int i = 0; i < samples.length; i++) {
            double tape = ratio * (i / 8000.0 - 1.5);
            double value = sweep.at(tape);
            samples[i] = value == 0 ? 0 : value * magnitude.applyAsDouble(sweep.frequencyAt(tape));
        }
        return samples;
    }

    private static List<Reading> read(double[] samples) {
        SweepResponse meter = meter();
        meter.accept(samples, 0, samples.length);
        return meter.readings();
    }

    /** White noise 30 dB below the sweep adds to a level as it does to the level beside: what is left is its scatter. */
    @Test
    void noiseIsTakenOff() {
        double[] samples = replay(1, 0.3, f -> 1);
        Random random = new Random(1);
        for (int i = 0; i < samples.length; i++) {
            samples[i] += 0.0067 * random.nextGaussian();
        }
        for (Reading reading : read(samples)) {
            assertThat(reading.value().orElseThrow()).isCloseTo(0, within(0.15));
        }
        // A sweep that is no stronger than the noise among its lines is not there.
        for (int i = 0; i < samples.length; i++) {
            samples[i] = 0.3 * random.nextGaussian();
        }
        assertThat(read(samples)).extracting(Reading::status).containsOnly(Status.NO_CARRIER);
    }

    @Test
    void halvesOfASweep() {
        double[] samples = replay(1, 0.3, f -> 1);
        int at = (int) (8000 * (1.5 + new LogarithmicSweep(50, 3500, SECONDS, 1).secondsAt(1600)));
        for (Reading reading : read(Arrays.copyOf(samples, at))) {
            double f = reading.atFrequencyHz().orElseThrow();
            assertThat(reading.status()).as("%s Hz", f).isEqualTo(f <= 1250 ? Status.VALID : Status.INSUFFICIENT_DATA);
            if (f <= 1250) {
                assertThat(reading.value().orElseThrow()).isCloseTo(0, within(0.05));
            }
        }
        double[] stopped = samples.clone();
        Arrays.fill(stopped, at, stopped.length, 0);
        for (Reading reading : read(stopped)) {
            double f = reading.atFrequencyHz().orElseThrow();
            assertThat(reading.status()).as("%s Hz", f).isEqualTo(f <= 1250 ? Status.VALID : Status.NO_CARRIER);
        }
    }

    /** Two sweeps: the one that is found over more of its length counts, and it stays known through a long silence. */
    @Test
    void theBetterSweepIsKept() {
        double[] whole = replay(1, 0.3, f -> Math.pow(f / 1000, 0.1));
        double[] half = Arrays.copyOf(replay(1, 0.3, f -> 1), 32_000);
        SweepResponse meter = meter();
        meter.accept(new double[60_000], 0, 60_000);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.NO_CARRIER);
        meter.accept(whole, 0, whole.length);
        for (int i = 0; i < 4; i++) {
            meter.accept(new double[80_000], 0, 80_000);
            meter.accept(half, 0, half.length);
        }
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo(1, within(0.001));
        for (Reading reading : meter.readings()) {
            double f = reading.atFrequencyHz().orElseThrow();
            assertThat(reading.value().orElseThrow()).isCloseTo(2 * Math.log10(f / 1000), within(0.02));
        }
        meter.reset();
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INSUFFICIENT_DATA);
        meter.accept(new double[60_000], 0, 60_000);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.NO_CARRIER);
    }

    @Test
    void badSettingsAreNamed() {
        assertThatThrownBy(() -> new SweepResponse(8000, 1, 1000, 9.9, 3500, 4)).hasMessageContaining("startHz 9.9");
        assertThatThrownBy(() -> new SweepResponse(8000, 1, 1000, 941, 3500, 4)).hasMessageContaining("startHz 941");
        assertThatThrownBy(() -> new SweepResponse(8000, 1, 1000, 50, 199, 4)).hasMessageContaining("endHz 199");
        assertThatThrownBy(() -> new SweepResponse(8000, 1, 1000, 50, 3761, 4)).hasMessageContaining("endHz 3761");
        assertThat(new SweepResponse(8000, 1, 1000, 50, 3760, 4).referenceHz()).isEqualTo(1000);
        assertThatThrownBy(() -> new SweepResponse(8000, 1, 1000, 50, 3500, 0.09))
                .hasMessageContaining("seconds 0.09");
        assertThatThrownBy(() -> new SweepResponse(8000, 1, 1000, 50, 3500, 121))
                .hasMessageContaining("seconds 121");
        // A frame of 3.4 cycles of 50 Hz becomes one of 128 ms, four fifths of a third octave: 2.86 s at least.
        assertThatThrownBy(() -> new SweepResponse(8000, 1, 1000, 50, 3500, 2.85))
                .hasMessageContaining("seconds 2.85");
        assertThat(new SweepResponse(8000, 1, 1000, 50, 3500, 2.87).referenceHz())
                .isEqualTo(1000);
        // Half a third octave from either end is the least: 3150 Hz is 0.1054 below 3.5 kHz, 0.1151 is half a band.
        assertThatThrownBy(() -> new SweepResponse(8000, 1, 3150, 50, 3500, 4))
                .hasMessageContaining("referenceHz 3150");
        assertThatThrownBy(() -> new SweepResponse(8000, 1, 50, 50, 3500, 4)).hasMessageContaining("referenceHz 50");
        assertThat(new SweepResponse(8000, 1, 63, 50, 3500, 4).referenceHz()).isEqualTo(63);
    }
}
