/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.transport;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Replays of one tape in closed form: what is recorded is common, what the machine adds has a phase of its own each time. */
class ReplayTest {
    private static final double RATE = 200;
    private static final int LENGTH = (int) (60 * RATE);

    private static double[] replay(double recordedPeak, double machinePeak, double phase, double noise, long seed) {
        Random random = new Random(seed);
        double[] y = new double[LENGTH];
        for (int i = 0; i < LENGTH; i++) {
            double t = i / RATE;
            y[i] = recordedPeak * Math.sin(2 * Math.PI * 1.7 * t)
                    + machinePeak * Math.sin(2 * Math.PI * 7.58 * t + phase)
                    + noise * random.nextGaussian();
        }
        return y;
    }

    /** Three replays of 60 s: within 5 %, as asked; the phases of the machine's own part are spread round the circle. */
    @Test
    void tapeAndMachineAreToldApart() {
        double recorded = 1e-3;
        double machine = 5e-4;
        List<double[]> replays = new ArrayList<>();
        for (int k = 0; k < 3; k++) {
            replays.add(replay(recorded, machine, 2 * Math.PI * k / 3, 5e-5, k));
        }
        ReplayComparison comparison = ReplayComparison.of(replays);
        double machineRms = Math.sqrt(machine * machine / 2 * 1.5 + 5e-5 * 5e-5);
        assertThat(comparison.recordedRms() * comparison.recordedRms()
                        + comparison.machineRms() * comparison.machineRms())
                .as("both parts make up the mean square of a replay")
                .isCloseTo(recorded * recorded / 2 + machine * machine / 2 + 25e-10, within(1e-9));
        // Opposite phases cancel more than chance would: (3 - 1) replays estimate the part, 3/2 of it for phases at 120
        // degrees.
        assertThat(comparison.machineRms()).isCloseTo(machineRms, within(0.05 * machineRms));
    }

    @Test
    void randomPhasesGiveBothPartsWithoutBias() {
        Random random = new Random(8);
        double recorded = 0;
        double machine = 0;
        int trials = 60;
        for (int trial = 0; trial < trials; trial++) {
            List<double[]> replays = new ArrayList<>();
            for (int k = 0; k < 4; k++) {
                replays.add(replay(1e-3, 5e-4, 2 * Math.PI * random.nextDouble(), 0, k));
            }
            ReplayComparison comparison = ReplayComparison.of(replays);
            recorded += comparison.recordedRms() * comparison.recordedRms() / trials;
            machine += comparison.machineRms() * comparison.machineRms() / trials;
        }
        // The mean product of two random phases scatters by 0.7; of 60 trials of 6 pairs it is 0.04 of the machine's
        // power.
        assertThat(Math.sqrt(recorded)).isCloseTo(1e-3 * Math.sqrt(0.5), within(0.05 * 7e-4));
        assertThat(Math.sqrt(machine)).isCloseTo(5e-4 * Math.sqrt(0.5), within(0.05 * 3.5e-4));
    }

    @Test
    void aReplayIsAligned() {
        double[] reference = replay(1e-3, 0, 0, 2e-4, 1);
        double[] late = new double[LENGTH];
        System.arraycopy(reference, 0, late, 23, LENGTH - 23);
        assertThat(ReplayComparison.lateBy(reference, late, 50)).isEqualTo(23);
        assertThat(ReplayComparison.lateBy(late, reference, 50)).isEqualTo(-23);
    }

    /** A capstan of 7.58 Hz whose recording comes back 0.1 % slower: the amplitude swings once in 132 s. */
    @Test
    void aMachineBeatsWithItsOwnRecording() {
        ReplayBeat beat = new ReplayBeat(0.001, 7.58 * 0.999, 0.0006, 7.58);
        assertThat(beat.periodSeconds().orElseThrow()).isCloseTo(131.9, within(0.1));
        assertThat(beat.greatestPeak()).isCloseTo(0.0016, within(1e-12));
        assertThat(beat.leastPeak()).isCloseTo(0.0004, within(1e-12));
        assertThat(beat.rms()).isCloseTo(Math.sqrt(1.36e-6 / 2), within(1e-12));
        double sum = 0;
        int samples = 1_000_000;
        for (int i = 0; i < samples; i++) {
            double t = i * beat.periodSeconds().orElseThrow() / samples;
            double y = 0.001 * Math.sin(2 * Math.PI * 7.58 * 0.999 * t) + 0.0006 * Math.sin(2 * Math.PI * 7.58 * t);
            sum += y * y / samples;
        }
        assertThat(Math.sqrt(sum)).as("over one beat").isCloseTo(beat.rms(), within(1e-3 * beat.rms()));
        assertThat(new ReplayBeat(1, 5, 1, 5).periodSeconds()).isEmpty();
        assertThat(ReplayBeat.combined(0.1, 0.2, 0.15)).isCloseTo(0.15, within(1e-12));
    }

    @Test
    void wrongReplaysAreRefused() {
        assertThatThrownBy(() -> ReplayComparison.of(List.of(new double[100]))).hasMessageContaining("at least two");
        assertThatThrownBy(() -> ReplayComparison.of(Arrays.asList(new double[100], new double[99])))
                .hasMessageContaining("99 samples");
        assertThatThrownBy(() -> ReplayBeat.combined()).hasMessageContaining("no reading");
    }

    /**
     * Two replays by hand, of 32 samples in sixteen parts: the recorded power is the mean product, the machine's what is left of the mean
     * square, and both scatter over sixteen parts.
     */
    @Test
    void powersAreMeanProductsAndWhatIsLeft() {
        double[] one = new double[32];
        double[] two = new double[32];
        for (int i = 0; i < 32; i++) {
            one[i] = i < 16 ? 2 : 3;
            two[i] = 1;
        }
        ReplayComparison comparison = ReplayComparison.of(List.of(one, two));
        // Products 2 and 3, mean squares (4 + 1)/2 and (9 + 1)/2: 2.5 for the tape, 1.25 for the machine.
        assertThat(comparison.recordedRms()).isCloseTo(Math.sqrt(2.5), within(1e-12));
        assertThat(comparison.machineRms()).isCloseTo(Math.sqrt(1.25), within(1e-12));
        // Each of sixteen parts is 0.5 off, and 0.75 off; of the root half of it over the root.
        double scatter = Math.sqrt(16 / (16 * 15.0));
        assertThat(comparison.recordedUncertainty()).isCloseTo(0.5 * scatter / (2 * Math.sqrt(2.5)), within(1e-12));
        assertThat(comparison.machineUncertainty()).isCloseTo(0.75 * scatter / (2 * Math.sqrt(1.25)), within(1e-12));
        // Replays that are the same leave nothing to the machine.
        ReplayComparison same = ReplayComparison.of(List.of(one, one));
        assertThat(same.machineRms()).isZero();
        assertThat(same.machineUncertainty()).isZero();
        // Opposite ones nothing to the tape: the power below zero counts as none, its scatter stays.
        double[] opposite = Arrays.stream(one).map(x -> -x).toArray();
        ReplayComparison none = ReplayComparison.of(List.of(one, opposite));
        assertThat(none.recordedRms()).isZero();
        assertThat(none.recordedUncertainty()).isCloseTo(Math.sqrt(2.5 * scatter), within(1e-12)); // 4 and 9
        assertThat(none.machineRms()).isCloseTo(Math.sqrt(13), within(1e-12));
    }

    @Test
    void alignmentIsBounded() {
        double[] reference = {0, 0, 1, 0, 0, 0, 0};
        double[] late = {0, 0, 0, 0, 1, 0, 0};
        assertThat(ReplayComparison.lateBy(reference, late, 2)).isEqualTo(2);
        assertThatThrownBy(() -> ReplayComparison.lateBy(reference, late, 4)).hasMessageContaining("mostSamples 4");
        assertThatThrownBy(() -> ReplayComparison.lateBy(reference, late, -1)).hasMessageContaining("mostSamples -1");
        assertThatThrownBy(() -> ReplayComparison.lateBy(reference, new double[] {1, 2, Double.NaN}, 1))
                .hasMessageContaining("replay[2] NaN");
        assertThatThrownBy(() -> ReplayComparison.of(List.of(new double[15], new double[15])))
                .hasMessageContaining("length of the replays 15.0");
    }
}
