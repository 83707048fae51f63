/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.apache.commons.math3.stat.correlation.PearsonsCorrelation;
import org.apache.commons.math3.stat.descriptive.DescriptiveStatistics;
import org.junit.jupiter.api.Test;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.Sine;

class TapeFlawsTest {
    private static final int STEPS = 100;

    @Test
    void levelJumpsByOneDecibelCorrelatedOverHalfASecond() {
        LevelJumps jumps = new LevelJumps(1, 0.5, new SplittableRandom(1), STEPS);
        double[] decibels = new double[400_000];
        for (int i = 0; i < decibels.length; i++) {
            decibels[i] = Decibels.ofRatio(jumps.next());
        }
        DescriptiveStatistics statistics = new DescriptiveStatistics(decibels);
        // 4000 s of 1 s of correlated pair each: 4000 independent values; 4 standard deviations of each estimate.
        assertThat(statistics.getMean()).isCloseTo(0, within(0.063));
        assertThat(statistics.getStandardDeviation()).isCloseTo(1, within(0.05));
        // exp(-t/T) at 0.5 s and 1 s; the estimate scatters by about 1/sqrt(4000).
        assertThat(correlation(decibels, STEPS / 2)).isCloseTo(Math.exp(-1), within(0.065));
        assertThat(correlation(decibels, STEPS)).isCloseTo(Math.exp(-2), within(0.065));
    }

    @Test
    void jumpsOfTheTracksAreHalfInCommon() {
        VirtualTape tape = VirtualTape.builder(3).jumps(1, 0.05).build();
        double[][] levels = new double[2][20_000];
        for (int track = 0; track < 2; track++) {
            TapeSurface surface = new TapeSurface(tape, track);
            for (int i = 0; i < levels[track].length; i++) {
                double ratio = 1;
                for (int k = 0; k < VirtualRecorder.TAPE_RATE / STEPS; k++) {
                    ratio = surface.next();
                }
                levels[track][i] = Decibels.ofRatio(ratio);
            }
        }
        // 200 s at 0.1 s per independent value: 2000 of them; 4 sd.
        assertThat(new PearsonsCorrelation().correlation(levels[0], levels[1])).isCloseTo(0.5, within(0.08));
        assertThat(new DescriptiveStatistics(levels[1]).getStandardDeviation()).isCloseTo(1, within(0.08));
    }

    @Test
    void sensitivityVariesAlongTheTapeWithinItsRange() {
        TapeSurface surface =
                new TapeSurface(VirtualTape.builder(1).sensitivityRangeDb(0.5).build(), 0);
        DescriptiveStatistics statistics = new DescriptiveStatistics();
        for (int i = 0; i < 300 * VirtualRecorder.TAPE_RATE; i++) {
            double ratio = surface.next();
            if (i % 4800 == 0) {
                statistics.addValue(Decibels.ofRatio(ratio));
            }
        }
        // Two slow waves meet near their extremes within 300 s.
        assertThat(statistics.getMax() - statistics.getMin()).isBetween(0.42, 0.51);
    }

    @Test
    void dropoutsComeAsOftenAndAsDeepAsStated() {
        RandomDropouts dropouts = new RandomDropouts(60, new SplittableRandom(9), 1000);
        int count = 0;
        double deepest = 0;
        boolean inside = false;
        for (int i = 0; i < 1_000_000; i++) {
            double ratio = dropouts.next();
            count += ratio < 1 && !inside ? 1 : 0;
            inside = ratio < 1;
            deepest = Math.max(deepest, -Decibels.ofRatio(ratio));
        }
        // 1000 s at one a second, less the 3.5 % that pass inside one; Poisson: 4 * sqrt(966).
        assertThat((double) count).isCloseTo(966, within(125.0));
        assertThat(deepest).isBetween(18.0, 20.0);
    }

    @Test
    void flawsStandAtThePlaceWhereTheTapeHasThem() {
        VirtualRecorder machine = Machines.flawless().build();
        VirtualTape tape = VirtualTape.builder(4).jumps(1, 0.3).build();
        double[] first = envelope(machine, machine.record(tape, 6, new Sine(3000, 0.1), new Sine(3000, 0.1)));
        double[] again = envelope(machine, machine.record(tape, 6, new Sine(3000, 0.1), new Sine(3000, 0.1)));
        double[] other = envelope(
                machine,
                machine.record(tape.toBuilder().jumps(1, 0.3).build(), 6, new Sine(3000, 0.1), new Sine(3000, 0.1)));
        VirtualTape piece = VirtualTape.builder(5).jumps(1, 0.3).build();
        double[] elsewhere = envelope(machine, machine.record(piece, 6, new Sine(3000, 0.1), new Sine(3000, 0.1)));

        PearsonsCorrelation correlation = new PearsonsCorrelation();
        assertThat(correlation.correlation(first, again)).isGreaterThan(0.999);
        assertThat(correlation.correlation(first, other)).isGreaterThan(0.999);
        // Negative control; 12 independent values scatter by 0.3.
        assertThat(Math.abs(correlation.correlation(first, elsewhere))).isLessThan(0.9);
    }

    @Test
    void hissRisesWithBiasAndIsTheSameInEveryReplay() {
        VirtualRecorder machine = Machines.flawless().build();
        VirtualTape tape = VirtualTape.builder(4).hiss(-50, 3).build();
        RecordedTape blank = machine.record(tape, 3, moment -> 0, moment -> 0);
        double[] first = machine.replay(blank, Tones.RATE).seconds(2.9)[0];
        double[] second = machine.replay(blank, Tones.RATE).seconds(2.9)[0];

        double power = 0;
        double difference = 0;
        for (int i = 0; i < first.length; i++) {
            power += first[i] * first[i] / first.length;
            difference = Math.max(difference, Math.abs(first[i] - second[i]));
        }
        // Full-scale sine is 0 dBFS. White up to 24 kHz on the tape; the interpolation takes some of the last 4 kHz.
        assertThat(10 * Math.log10(2 * power)).isCloseTo(-12 - 47, within(0.3));
        // The amplifier's noise is 200 dB below the reference level.
        assertThat(difference).isLessThan(1e-9);
    }

    @Test
    void modulationNoiseFollowsTheSignal() {
        VirtualRecorder machine = Machines.flawless().build();
        VirtualTape tape = VirtualTape.builder(4).modulationNoisePercent(2).build();
        double[] levels = envelope(machine, machine.record(tape, 30, new Sine(3000, 0.1), new Sine(3000, 0.1)));
        double[] quiet = envelope(machine, machine.record(tape, 6, new Sine(3000, 1e-6), new Sine(3000, 1e-6)));

        // A mean over 20 ms under a Hann window has a noise bandwidth of 75 Hz of both sides; of a first-order 300 Hz
        // spectrum it keeps 2/pi * atan(37.5/300) = 7.9 %: RMS 0.56 %.
        DescriptiveStatistics statistics = new DescriptiveStatistics(levels);
        assertThat(statistics.getStandardDeviation() / statistics.getMean()).isCloseTo(0.0056, within(0.0008));
        assertThat(new DescriptiveStatistics(quiet).getMax()).isLessThan(2e-6);
    }

    private static double correlation(double[] values, int lag) {
        int count = values.length - lag;
        double[] early = new double[count];
        double[] late = new double[count];
        System.arraycopy(values, 0, early, 0, count);
        System.arraycopy(values, lag, late, 0, count);
        return new PearsonsCorrelation().correlation(early, late);
    }

    private static double[] envelope(VirtualRecorder machine, RecordedTape tape) {
        double[] samples = machine.replay(tape, Tones.RATE).seconds(tape.seconds() - 0.1)[0];
        double[] levels = new double[(int) (samples.length / 960.0) - 1];
        for (int i = 0; i < levels.length; i++) {
            levels[i] = Tones.phasor(samples, 0.02 * i, 0.02 * (i + 1), 3000)[0];
        }
        return levels;
    }
}
