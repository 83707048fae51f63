/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;

class RecordTest {
    private static final double REFERENCE = Decibels.toRatio(-12);
    /** Input of -20 dB, far below saturation. */
    private static final double LOW = Decibels.toRatio(-32);

    @Test
    void alignedMachineGivesBackWhatItGot() {
        VirtualRecorder machine = Machines.flawless().build();
        for (double hz : new double[] {100, 315, 1000, 6300, 12_500, 19_000}) {
            double[][] samples = recorded(machine, Machines.flawlessTape(), new Sine(hz, LOW));
            // Filters of record and replay side, each flat to 0.001 dB.
            assertThat(Tones.decibels(samples[0], 0.1, 0.9, hz)).isCloseTo(-32, within(0.005));
            assertThat(Tones.decibels(samples[1], 0.1, 0.9, hz)).isCloseTo(-32, within(0.005));
        }
    }

    /** Odd-order model: third harmonic rises with the level squared, 2 dB per dB (IEC 60094-5 reads its 3 % point). */
    @Test
    void thirdHarmonicRisesWithTheLevelSquared() {
        VirtualTape tape =
                Machines.flawlessTape().toBuilder().thirdHarmonicPercent(0.8).build();
        VirtualRecorder machine = Machines.flawless().build();
        double low = thirdHarmonicPercent(machine, tape, REFERENCE / 2);
        double reference = thirdHarmonicPercent(machine, tape, REFERENCE);

        // Of the law's higher terms remain 3 aA^2/4 = 2.4 % at reference level and a quarter of it 6 dB below.
        assertThat(low).isCloseTo(thirdAtBestBias(0.2), within(0.006));
        assertThat(reference / low).isCloseTo(4, within(0.15));
        assertThat(machine.truth(tape).channel(1).thirdHarmonicPercent()).isCloseTo(reference, within(0.002));
    }

    /** The recommended bias is not the one of least distortion. */
    private static double thirdAtBestBias(double percent) {
        return percent * Machines.flawlessTape().biasLaw().harmonicFactor(1);
    }

    @Test
    void maximumOutputIsWhereTheTruthHasIt() {
        VirtualTape tape =
                Machines.flawlessTape().toBuilder().thirdHarmonicPercent(0.8).build();
        VirtualRecorder machine = Machines.flawless().build();
        double truth = machine.truth(tape).channel(1).maximumOutputDb().orElseThrow();
        double below = 0;
        double above = 0;
        double input = 4;
        for (; above < 3; input += 0.25) {
            below = above;
            above = thirdHarmonicPercent(machine, tape, REFERENCE * Decibels.toRatio(input));
        }
        double atThree = input - 0.25 - 0.25 * (above - 3) / (above - below);
        double[][] samples = recorded(machine, tape, new Sine(315, REFERENCE * Decibels.toRatio(atThree)));
        // Linear between inputs 0.25 dB apart.
        assertThat(Tones.decibels(samples[0], 0.1, 0.9, 315) + 12).isCloseTo(truth, within(0.02));
        // The output does not exceed saturation: 4/pi of the limit 1/sqrt(2a) of a square wave, a = 4 * 0.8 %.
        double[][] most = recorded(machine, tape, new Sine(315, 100 * REFERENCE));
        double limit = Decibels.ofRatio(4 / Math.PI / Math.sqrt(8 * thirdAtBestBias(0.008)));
        assertThat(Tones.decibels(most[0], 0.1, 0.9, 315) + 12).isCloseTo(limit, within(0.05));
    }

    @Test
    void linearTapeHasNoMaximumOutput() {
        assertThat(Machines.flawless().build().truth().channel(1).maximumOutputDb())
                .isEmpty();
    }

    @Test
    void trebleSaturatesSooner() {
        VirtualTape tape = VirtualTape.ferric(1).toBuilder()
                .jumps(0, 0.5)
                .dropoutsPerMinute(0)
                .build();
        VirtualRecorder machine = VirtualRecorder.cassette()
                .transport(Transport.steady(47.6))
                .heads(Heads.perfect())
                .build();
        double bass = Tones.decibels(recorded(machine, tape, new Sine(315, REFERENCE))[0], 0.1, 0.9, 315);
        double treble = Tones.decibels(recorded(machine, tape, new Sine(10_000, REFERENCE))[0], 0.1, 0.9, 10_000);
        // Emphasis of 7.7 dB at 10 kHz: 1 - 3/4 a A^2 with A^2 = 5.9 gives a loss of 1.1 dB at least.
        assertThat(bass).isCloseTo(-12, within(0.5));
        assertThat(treble).isBetween(-16.0, -12.8);
    }

    /** Harmonics that the tape cannot hold come back nowhere else: 9 kHz has its third at 27 kHz, whose alias is 21 kHz. */
    @Test
    void harmonicsBeyondTheTapeLeaveNoAlias() {
        VirtualTape tape =
                Machines.flawlessTape().toBuilder().thirdHarmonicPercent(2).build();
        double[] samples = recorded(Machines.flawless().build(), tape, new Sine(9_000, REFERENCE))[0];
        assertThat(Tones.decibels(samples, 0.1, 0.9, 21_000) + 12).isLessThan(-80);
        assertThat(Tones.decibels(samples, 0.1, 0.9, 9_000) + 12).isCloseTo(0, within(1.0));
    }

    @Test
    void biasPeakDependsOnTheWavelength() {
        BiasLaw law = Machines.flawlessTape().biasLaw();
        double longWave = 47_600 / 315.0;
        double shortWave = 47_600 / 6300.0;

        assertThat(law.peakBias(shortWave)).isLessThan(law.peakBias(longWave));
        // Over-bias of a ferric cassette at 6.3 kHz: 2 to 3 dB (common practice, no source).
        assertThat(law.overBiasDrop(shortWave)).isBetween(2.0, 3.0);
        assertThat(law.overBiasDrop(longWave)).isLessThan(0.1);
        for (double wave : new double[] {shortWave, longWave}) {
            double peak = law.sensitivityRatio(law.peakBias(wave), wave);
            assertThat(law.sensitivityRatio(0.97 * law.peakBias(wave), wave)).isLessThan(peak);
            assertThat(law.sensitivityRatio(1.03 * law.peakBias(wave), wave)).isLessThan(peak);
        }
    }

    @ParameterizedTest
    @CsvSource({"-4", "-2", "1", "3"})
    void biasChangesTrebleOnSamplesByItsLaw(double biasDb) {
        VirtualRecorder machine = Machines.flawless().error("bias-1", biasDb).build();
        BiasLaw law = Machines.flawlessTape().biasLaw();
        for (double hz : new double[] {315, 6300, 10_000}) {
            double[][] samples = recorded(machine, Machines.flawlessTape(), new Sine(hz, LOW));
            double expected = Decibels.ofRatio(law.sensitivityRatio(Decibels.toRatio(biasDb), 47_600 / hz));
            // Curvature within the 700 Hz that the filter smooths over.
            assertThat(Tones.decibels(samples[0], 0.1, 0.9, hz) + 32).isCloseTo(expected, within(0.02));
            // The other channel has a bias of its own.
            assertThat(Tones.decibels(samples[1], 0.1, 0.9, hz) + 32).isCloseTo(0, within(0.01));
        }
    }

    @Test
    void distortionIsLeastAtItsOwnBias() {
        VirtualTape tape =
                Machines.flawlessTape().toBuilder().thirdHarmonicPercent(0.8).build();
        double[] percent = new double[3];
        double[] biasDb = {-3, Decibels.ofRatio(1.08), 3};
        for (int i = 0; i < 3; i++) {
            VirtualRecorder machine =
                    Machines.flawless().error("bias-1", biasDb[i]).build();
            percent[i] = thirdHarmonicPercent(machine, tape, REFERENCE);
            assertThat(machine.truth(tape).channel(1).thirdHarmonicPercent()).isCloseTo(percent[i], within(0.005));
        }
        // Terms beyond the third order take 5 % of it at reference level: 9/4 a with a = 3.2 %, less what they
        // compress.
        assertThat(percent[1]).isCloseTo(0.76, within(0.01));
        assertThat(percent[0]).isGreaterThan(1.5);
        assertThat(percent[2]).isGreaterThan(1.0);
    }

    @Test
    void truthOfAMaladjustedMachineIsWhatItsRecordingsShow() {
        VirtualRecorder machine = VirtualRecorder.cassette()
                .transport(Transport.steady(47.6))
                .electronics(new Electronics(-12, -66, 50, -68, 0.05, 0.1, -200, -68, 4500))
                .maladjusted(12)
                .heads(new Heads(new ReplayLosses(0.6, 1.5, 0), new ReplayLosses(0.2, 1.2, 0), 0, 1))
                .build();
        VirtualTape even = VirtualTape.ferric(1).toBuilder()
                .hiss(-80, 3)
                .jumps(0, 0.5)
                .sensitivityRangeDb(0)
                .dropoutsPerMinute(0)
                .build();
        RecorderTruth truth = machine.truth(even);
        double[] reference = new double[2];
        for (double hz : new double[] {315, 1000, 6300, 10_000, 12_500}) {
            // Emphasis drives the tape harder: at -20 dB 12.5 kHz would already be compressed by 0.1 dB.
            double[][] samples = recorded(machine, even, new Sine(hz, LOW / 10));
            for (int track = 0; track < 2; track++) {
                double level = Tones.decibels(samples[track], 0.1, 0.9, hz);
                if (hz == 315) {
                    reference[track] = level;
                }
                // Noise of -66 dB in a bin of 2 Hz is 67 dB below a tone of -40 dB; modulation noise 0.4 % in 300 Hz
                // gives
                // 0.003 dB; the rest is the smoothing of the filters.
                assertThat(level - reference[track])
                        .isCloseTo(
                                truth.channel(track + 1)
                                        .recordReplayResponseDb()
                                        .get(hz),
                                within(0.05));
            }
        }
        double[][] full = recorded(machine, even, new Sine(315, REFERENCE));
        for (int track = 0; track < 2; track++) {
            ChannelTruth channel = truth.channel(track + 1);
            assertThat(Tones.decibels(full[track], 0.1, 0.9, 315) + 12)
                    .isCloseTo(channel.recordReplayLevelDb(), within(0.02));
            double third = Tones.phasor(full[track], 0.1, 0.9, 945)[0] / Tones.phasor(full[track], 0.1, 0.9, 315)[0];
            // The truth leaves the response between 315 and 945 Hz out: some 0.1 dB, 1 % of it, and the noise of one
            // bin.
            assertThat(100 * third)
                    .isCloseTo(channel.thirdHarmonicPercent(), within(0.02 * channel.thirdHarmonicPercent() + 0.01));
        }
    }

    @Test
    void eraseHeadLeavesALittle() {
        VirtualRecorder machine = Machines.flawless()
                .electronics(new Electronics(-12, -200, 50, -200, 0, 0, -200, -65, 1e6))
                .build();
        Signal tone = new Sine(1000, REFERENCE);
        RecordedTape recorded = machine.record(Machines.flawlessTape(), 2, tone, tone);

        double[] erased = machine.replay(machine.erase(recorded), Tones.RATE).seconds(1.9)[0];
        assertThat(Tones.decibels(erased, 0.1, 1.8, 1000) + 12).isCloseTo(-65, within(0.05));

        RecordedTape over = machine.recordOver(recorded, 1, new Sine(315, REFERENCE), new Sine(315, REFERENCE));
        double[] samples = machine.replay(over, Tones.RATE).seconds(1.9)[0];
        assertThat(Tones.decibels(samples, 0.1, 0.9, 1000) + 12).isCloseTo(-65, within(0.05));
        assertThat(Tones.decibels(samples, 1.1, 1.8, 1000) + 12).isCloseTo(0, within(0.01));
    }

    @Test
    void printThroughComesBeforeAndAfter() {
        VirtualTape tape =
                Machines.flawlessTape().toBuilder().printThrough(-50, 1.5).build();
        VirtualRecorder machine = Machines.flawless().build();
        Signal burst = seconds -> seconds >= 2 && seconds < 3 ? REFERENCE * Math.sin(2 * Math.PI * 1000 * seconds) : 0;

        double[] samples = machine.replay(machine.record(tape, 5, burst, burst), Tones.RATE)
                .seconds(4.9)[0];

        assertThat(Tones.decibels(samples, 2.1, 2.9, 1000) + 12).isCloseTo(0, within(0.01));
        assertThat(Tones.decibels(samples, 0.6, 1.4, 1000) + 12).isCloseTo(-50, within(0.05));
        assertThat(Tones.decibels(samples, 3.6, 4.4, 1000) + 12).isCloseTo(-50, within(0.05));
    }

    @Test
    void threeHeadsAreMonitoredWhileTheyRecord() {
        VirtualRecorder machine = Machines.flawless().threeHeads(true).build();
        Signal tone = new Sine(1000, LOW);
        Playback monitor = machine.monitor(Machines.flawlessTape(), 10, Tones.RATE, tone, tone);
        double[] before = monitor.seconds(1)[0];
        machine.trimmer("record-level-1").turn(0.08);
        monitor.seconds(0.1);
        double[] after = monitor.seconds(1)[0];

        double change = machine.trimmer("record-level-1").truth().error();
        assertThat(Math.abs(change)).isGreaterThan(0.3);
        assertThat(Tones.decibels(before, 0.1, 0.9, 1000)).isCloseTo(-32, within(0.005));
        assertThat(Tones.decibels(after, 0.1, 0.9, 1000)).isCloseTo(-32 + change, within(0.005));
        assertThatThrownBy(() -> Machines.flawless().build().monitor(Machines.flawlessTape(), 1, 48_000, tone, tone))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("machine of two heads");
    }

    @Test
    void wrongInputsAndTapesAreRefused() {
        VirtualRecorder machine = Machines.flawless().build();
        assertThatThrownBy(() -> machine.record(Machines.flawlessTape(), 1, new Sine(1000, 0.1)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("number of inputs is 1, allowed on this machine: 2");
        VirtualRecorder mono =
                Machines.flawless().layout(TrackLayout.CASSETTE_MONO).build();
        RecordedTape recorded = mono.record(Machines.flawlessTape(), 1, new Sine(1000, 0.1));
        assertThatThrownBy(() -> machine.replay(recorded, 48_000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("tracks of the recording are 1, allowed on this machine: 2");
        VirtualRecorder.Builder unknown = VirtualRecorder.cassette().error("record-azimuth", 3);
        assertThatThrownBy(unknown::build)
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("trimmer is record-azimuth, allowed: speed, replay-azimuth, replay-level-1");
    }

    private static double thirdHarmonicPercent(VirtualRecorder machine, VirtualTape tape, double amplitude) {
        double[] samples = recorded(machine, tape, new Sine(315, amplitude))[0];
        return 100 * Tones.phasor(samples, 0.1, 0.9, 945)[0] / Tones.phasor(samples, 0.1, 0.9, 315)[0];
    }

    private static double[][] recorded(VirtualRecorder machine, VirtualTape tape, Signal tone) {
        return machine.replay(machine.record(tape, 1.1, tone, tone), Tones.RATE).seconds(1);
    }
}
