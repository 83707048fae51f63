/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.apache.commons.math3.stat.descriptive.moment.StandardDeviation;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.signals.Sine;

class ReplayTest {
    private static final TestTape SPEED_TAPE =
            TestTape.builder().tone("speed", 3150, 0, 45).build();

    /** 20 lg of the fluxivities is -3.88 dB (computed). Levels are exact but for 0.001 dB of interpolation. */
    @Test
    void levelFollowsFluxivityAndGain() {
        TestTape tape =
                TestTape.builder().fluxivity(160).tone("level", 315, 0, 2).build();
        VirtualRecorder machine =
                Machines.flawless().error("replay-level-2", 1.5).build();

        double[][] samples = machine.replay(tape, Tones.RATE).seconds(1.9);

        assertThat(Tones.decibels(samples[0], 0.1, 1.8, 315)).isCloseTo(-12 - 3.88, within(0.005));
        assertThat(Tones.decibels(samples[1], 0.1, 1.8, 315)).isCloseTo(-12 - 3.88 + 1.5, within(0.005));
        assertThat(machine.truth().channel(2).replayLevelDb()).isCloseTo(1.5, within(1e-4));
    }

    /** 0.9 mm at 47.6 mm/s: 5.500 us per arcmin (computed). Delay by the phase of 3 kHz, exact to 1e-9 s. */
    @ParameterizedTest
    @ValueSource(doubles = {-12, -1, 1, 6})
    void channelTwoLagsByTheAzimuth(double arcmin) {
        TestTape tape = TestTape.builder().tone("azimuth", 3000, 0, 2).build();
        VirtualRecorder machine =
                Machines.flawless().error("replay-azimuth", arcmin).build();

        double[][] samples = machine.replay(tape, Tones.RATE).seconds(1.9);

        double delay = Tones.delaySeconds(samples[0], samples[1], 0.1, 1.8, 3000);
        assertThat(1e6 * delay).isCloseTo(5.500 * arcmin, within(0.01 + 1e-4 * Math.abs(arcmin)));
        assertThat(machine.truth().replayAzimuthDelayMicroseconds()).isCloseTo(1e6 * delay, within(0.01));
    }

    @Test
    void headOfTwoReadsItsOwnRecordingStraightAndAnotherMachineSeesItAskew() {
        VirtualRecorder askew = Machines.flawless().error("replay-azimuth", 4).build();
        VirtualRecorder straight = Machines.flawless().build();
        RecordedTape recorded = askew.record(Machines.flawlessTape(), 2, new Sine(3000, 0.025), new Sine(3000, 0.025));

        double[][] own = askew.replay(recorded, Tones.RATE).seconds(1.9);
        double[][] other = straight.replay(recorded, Tones.RATE).seconds(1.9);

        assertThat(1e6 * Tones.delaySeconds(own[0], own[1], 0.1, 1.8, 3000)).isCloseTo(0, within(0.01));
        assertThat(askew.truth().recordReplayDelayMicroseconds()).isEqualTo(0);
        assertThat(1e6 * Tones.delaySeconds(other[0], other[1], 0.1, 1.8, 3000)).isCloseTo(-22.0, within(0.02));
    }

    @Test
    void recordHeadOfThreeHasAnAzimuthOfItsOwn() {
        VirtualRecorder machine = Machines.flawless()
                .threeHeads(true)
                .error("replay-azimuth", 1)
                .error("record-azimuth", -2)
                .build();
        RecordedTape recorded =
                machine.record(Machines.flawlessTape(), 2, new Sine(3000, 0.025), new Sine(3000, 0.025));

        double[][] samples = machine.replay(recorded, Tones.RATE).seconds(1.9);

        assertThat(1e6 * Tones.delaySeconds(samples[0], samples[1], 0.1, 1.8, 3000))
                .isCloseTo(16.5, within(0.02));
        assertThat(machine.truth().recordReplayDelayMicroseconds()).isCloseTo(16.5, within(0.01));
    }

    @Test
    void offSpeedMachineShiftsTheToneAndAnOwnRecordingHidesIt() {
        VirtualRecorder machine = Machines.flawless().error("speed", 1.3).build();
        double[] played = machine.replay(SPEED_TAPE, Tones.RATE).seconds(8)[0];
        // The phase over 4 s is exact to 1e-4 cycles.
        assertThat(Tones.frequency(played, 0.5, 7.5, 3190)).isCloseTo(3150 * 1.013, within(1e-3));

        RecordedTape recorded = machine.record(Machines.flawlessTape(), 8, new Sine(3150, 0.1), new Sine(3150, 0.1));
        double[] own = machine.replay(recorded, Tones.RATE).seconds(7.5)[0];
        assertThat(Tones.frequency(own, 0.5, 7.2, 3150)).isCloseTo(3150, within(1e-3));
        assertThat(own).hasSize((int) (7.5 * Tones.RATE));
    }

    @Test
    void tapeEndsEarlierOnAFastMachine() {
        TestTape tape = TestTape.builder().tone("short", 1000, 0, 1).build();
        VirtualRecorder machine = Machines.flawless().error("speed", 2).build();
        Playback playback = machine.replay(tape, Tones.RATE);
        float[] block = new float[2 * Tones.RATE * 2];

        // One second of tape at 1.02 of the speed, to a sample and the 63 of the filter at 2 %.
        assertThat(playback.read(block, 0, 2 * Tones.RATE)).isBetween(47_056, 47_060);
        assertThat(playback.read(block, 0, 10)).isZero();
    }

    @Test
    void eachPartIsALineAtItsRate() {
        List<RotatingPart> parts = List.of(
                RotatingPart.ofDiameter("capstan", 2.4, 47.6, 0.03),
                RotatingPart.ofDiameter("pinch roller", 12.6, 47.6, 0.05),
                new RotatingPart("motor belt", 2.1, 0.02, 0));
        VirtualRecorder machine = Machines.flawless()
                .transport(new Transport(47.6, 0, parts, 0, 20, 0, 3000))
                .error("speed", 1)
                .build();

        double[] deviation =
                Tones.deviation(machine.replay(SPEED_TAPE, Tones.RATE).seconds(40)[0], 3181.5);

        for (RotatingPart part : machine.truth().parts()) {
            // Re the mean speed, which is 1 % high: so is the mean of the readings' reference. 4 ms of window take 0.1
            // %.
            assertThat(100 * Tones.peak(deviation, part.rateHz()))
                    .isCloseTo(part.peakPercent(), within(0.004 * part.peakPercent()));
        }
        // Capstan: 47.6 mm/s * 1.01 / (pi * 2.4 mm) = 6.3763 Hz (computed).
        assertThat(machine.truth().parts().get(0).rateHz()).isCloseTo(6.3763, within(1e-4));
        // Negative control: there is nothing where the capstan would be without the speed error.
        assertThat(100 * Tones.peak(deviation, 6.3132 * 1.1)).isLessThan(1e-3);
    }

    @Test
    void packsChangeTheirRateAlongTheTape() {
        VirtualRecorder machine = Machines.flawless()
                .transport(new Transport(47.6, 0, List.of(new RotatingPart("supply pack", 3, 0.1, 18)), 0, 20, 0, 3000))
                .build();
        double[] deviation =
                Tones.deviation(machine.replay(SPEED_TAPE, Tones.RATE).seconds(40)[0], 3150);

        // In the middle of 30 s to 40 s the rate is 3 Hz * (1 + 0.18 * 35/60); 0.05 Hz of sweep costs 2 % of the line.
        double[] late = Arrays.copyOfRange(deviation, 30_000, 39_900);
        assertThat(100 * Tones.peak(late, 3 * (1 + 0.18 * 34.95 / 60))).isCloseTo(0.1, within(0.006));
        assertThat(100 * Tones.peak(late, 3)).isLessThan(0.05);
    }

    @Test
    void randomFlutterAndDriftAreAsStated() {
        VirtualRecorder machine = Machines.flawless()
                .transport(new Transport(47.6, 0.5, List.of(), 0.1, 5, 0, 3000))
                .build();
        double[] deviation =
                Tones.deviation(machine.replay(SPEED_TAPE, Tones.RATE).seconds(44)[0], 3150);
        double[] detrended = new double[deviation.length];
        for (int i = 0; i < deviation.length; i++) {
            detrended[i] = deviation[i] - 0.005 / 60 * (i / 1000.0);
        }

        // A first-order spectrum with corner 5 Hz over 44 s: some 700 independent values, RMS within 2.7 %; 4 sd. Above
        // 200 Hz, where the 4 ms window ends, are 1.6 % of its power.
        assertThat(100 * new StandardDeviation().evaluate(detrended)).isCloseTo(0.1, within(0.012));
        double early = Arrays.stream(deviation, 0, 10_000).average().orElseThrow();
        double late = Arrays.stream(deviation, 33_000, 43_000).average().orElseThrow();
        // 33 s at 0.5 % per minute; the mean of 10 s of the flutter scatters by 0.008 %, of two by 0.011 %: 4 sd.
        assertThat(100 * (late - early)).isCloseTo(0.5 * 33 / 60, within(0.045));
    }

    /** The variance of scrape flutter is that of its recursion: checked on the speed itself, above what a tone shows. */
    @Test
    void scrapeHasItsValueAndItsBand() {
        TransportPass pass = new TransportPass(
                new Transport(47.6, 0, List.of(), 0, 20, 0.05, 2600), 0, new SplittableRandom(2), 48_000);
        double[] speed = new double[480_000];
        for (int i = 0; i < speed.length; i++) {
            speed[i] = pass.next() - 1;
        }
        // 260 Hz of band over 10 s: 2600 pairs of values, RMS within 1 %; 4 sd.
        assertThat(100 * new StandardDeviation().evaluate(speed)).isCloseTo(0.05, within(0.002));
        int crossings = 0;
        for (int i = 1; i < speed.length; i++) {
            crossings += speed[i - 1] < 0 && speed[i] >= 0 ? 1 : 0;
        }
        assertThat(crossings / 10.0).isCloseTo(2600, within(60.0));
    }

    @Test
    void humNoiseAndCrosstalkAreAsStated() {
        VirtualRecorder machine = Machines.flawless()
                .electronics(new Electronics(-12, -60, 50, -50, 0, 0, -40, -70, 1e6))
                .build();
        RecordedTape recorded = machine.record(Machines.flawlessTape(), 4, moment -> 0, new Sine(1000, 0.2512));

        double[][] samples = machine.replay(recorded, Tones.RATE).seconds(3.5);

        // Noise of -60 dB in a bin of 0.5 Hz is 45 dB below what is read here.
        assertThat(Tones.decibels(samples[0], 0.5, 3.5, 50)).isCloseTo(-12 - 50, within(0.05));
        assertThat(Tones.decibels(samples[0], 0.5, 3.5, 1000)).isCloseTo(-12 - 40, within(0.05));
        double[] rest = machine.replay(
                        Machines.flawless().build().record(Machines.flawlessTape(), 4, m -> 0, m -> 0), 48_000)
                .seconds(3.5)[0];
        double power = 0;
        for (double value : rest) {
            power += value * value / rest.length;
        }
        double hum = Math.pow(10, -6.2) * (1 + 0.1) / 2;
        // 168 000 independent values: within 0.015 dB; the hum is taken off.
        assertThat(10 * Math.log10(2 * (power - hum))).isCloseTo(-12 - 60, within(0.1));
    }

    @Test
    void anyDivisionIntoBlocksGivesTheSameBits() {
        float[] whole = played(VirtualRecorder.maladjusted(3), 24_000);
        for (int size : new int[] {1, 7, 480, 4096}) {
            assertThat(played(VirtualRecorder.maladjusted(3), size)).isEqualTo(whole);
        }
    }

    @Test
    void sameSeedGivesTheSameAndAnotherAnother() {
        float[] first = played(VirtualRecorder.cassette().seed(5).build(), 480);

        assertThat(played(VirtualRecorder.cassette().seed(5).build(), 480)).isEqualTo(first);
        assertThat(played(VirtualRecorder.cassette().seed(6).build(), 480)).isNotEqualTo(first);
        VirtualRecorder twice = VirtualRecorder.cassette().seed(5).build();
        played(twice, 480);
        // The second pass finds the parts elsewhere in their turn.
        assertThat(played(twice, 480)).isNotEqualTo(first);
    }

    @Test
    void monoMachineHasOneChannel() {
        VirtualRecorder machine = Machines.flawless()
                .layout(TrackLayout.CASSETTE_MONO)
                .error("replay-level-1", -2)
                .build();

        double[][] samples = machine.replay(SPEED_TAPE, Tones.RATE).seconds(1);

        assertThat(samples).hasNumberOfRows(1);
        assertThat(Tones.decibels(samples[0], 0.1, 0.9, 3150)).isCloseTo(-14, within(0.005));
        assertThatThrownBy(() -> machine.trimmer("replay-level-2"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("trimmer is replay-level-2, allowed: speed, replay-azimuth, replay-level-1");
    }

    @Test
    void trimmerTurnedDuringReplayIsHeardFromTheNextBlockOn() {
        VirtualRecorder machine = Machines.flawless().build();
        Playback playback = machine.replay(SPEED_TAPE, Tones.RATE);
        double[] before = playback.seconds(1)[0];
        machine.trimmer("replay-level-1").turn(0.1);
        double change = machine.trimmer("replay-level-1").truth().error();

        double[] after = playback.seconds(1)[0];

        assertThat(Math.abs(change)).isGreaterThan(0.5);
        assertThat(Tones.decibels(after, 0, 1, 3150) - Tones.decibels(before, 0, 1, 3150))
                .isCloseTo(change, within(0.005));
    }

    @Test
    void otherSamplingRatesPlayTheSameTape() {
        VirtualRecorder machine = Machines.flawless().build();
        double[] fast = machine.replay(SPEED_TAPE, 96_000).seconds(1)[0];
        double[] usual = machine.replay(SPEED_TAPE, 48_000).seconds(1)[0];
        for (int i = 4800; i < 40_000; i++) {
            // Interpolation and filters of two rates: below -70 dB of the tone.
            assertThat(fast[2 * i]).isCloseTo(usual[i], within(1e-4));
        }
        assertThatThrownBy(() -> machine.replay(SPEED_TAPE, 8000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("sampling rate in Hz is 8000.0, allowed: 44100.0 to 192000.0");
    }

    private static float[] played(VirtualRecorder machine, int blockFrames) {
        int frames = 24_000;
        Playback playback = machine.replay(TestTape.cassette(1), Tones.RATE);
        int channels = playback.channels();
        float[] all = new float[channels * frames];
        for (int done = 0; done < frames; ) {
            done += playback.read(all, channels * done, Math.min(blockFrames, frames - done));
        }
        return all;
    }
}
