/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.signals.Decibels;

/** Worked examples at 47.6 mm/s (computed with NumPy from the formulas of Wallace, Eargle and the geometry). */
class ReplayLossesTest {
    /** The examples are printed to 0.001 dB. */
    private static final double PRINTED = 0.0006;

    /** Filters of 127 samples smooth a curve over some 700 Hz; its bend there, and that at 0 Hz, give up to 0.03 dB. */
    private static final double ON_SAMPLES = 0.04;

    @ParameterizedTest
    @CsvSource({
        "1000, 0.287, 1.147, 0.011, 2.709",
        "6300, 1.806, 7.223, 0.449, 12.515",
        "10000, 2.866, 11.465, 1.149, 16.403",
        "16000, 4.586, 18.345, 3.081, 20.473"
    })
    void workedExamplesHoldInClosedFormAndOnSamples(
            double hz, double nearSpacing, double farSpacing, double gap, double thickness) {
        check(hz, new ReplayLosses(0.25, 0, 0), nearSpacing);
        check(hz, new ReplayLosses(1, 0, 0), farSpacing);
        check(hz, new ReplayLosses(0, 1.2, 0), gap);
        check(hz, new ReplayLosses(0, 0, 5), thickness);
    }

    private static void check(double hz, ReplayLosses losses, double loss) {
        assertThat(losses.decibelsAt(1000 * Machines.CASSETTE_SPEED / hz)).isCloseTo(-loss, within(PRINTED));
        VirtualRecorder machine = Machines.flawless()
                .heads(new Heads(losses, ReplayLosses.NONE, 0, 1))
                .build();
        assertThat(replayedDb(machine, 0, hz)).isCloseTo(-loss, within(ON_SAMPLES));
    }

    @ParameterizedTest
    @CsvSource({"1, 0.019", "3, 0.174", "6, 0.703", "10, 2.014", "15, 4.858"})
    void azimuthLossOfAStereoTrackAtTenKilohertz(double arcmin, double loss) {
        assertThat(Decibels.ofRatio(ReplayLosses.azimuthRatio(0.6, arcmin, 4.76)))
                .isCloseTo(-loss, within(PRINTED));
        VirtualRecorder machine =
                Machines.flawless().error("replay-azimuth", arcmin).build();
        assertThat(replayedDb(machine, 0, 10_000)).isCloseTo(-loss, within(ON_SAMPLES));
        // A tape that is askew as much is read without loss.
        assertThat(replayedDb(machine, arcmin, 10_000)).isCloseTo(0, within(ON_SAMPLES));
    }

    @Test
    void azimuthLossOfAMonoTrack() {
        VirtualRecorder machine = Machines.flawless()
                .layout(TrackLayout.CASSETTE_MONO)
                .error("replay-azimuth", 5)
                .build();

        assertThat(replayedDb(machine, 0, 10_000)).isCloseTo(-3.241, within(ON_SAMPLES));
        // First null at 10.91 arcmin, printed to 0.005: the slope there is 2.6 % of full level per arcmin and
        // hundredth.
        assertThat(ReplayLosses.azimuthRatio(1.5, 10.91, 4.76)).isCloseTo(0, within(0.001));
        assertThat(ReplayLosses.azimuthRatio(0.6, 27.27, 4.76)).isCloseTo(0, within(0.001));
    }

    /** Mallinson (second-hand): the first null is at a wavelength of about 1.12 optical gaps; Eargle's factor gives 1.11. */
    @Test
    void firstGapNullIsBeyondTheOpticalGap() {
        assertThat(new ReplayLosses(0, 1, 0).ratioAt(1.12)).isCloseTo(0, within(0.01));
        assertThat(new ReplayLosses(0, 1, 0).ratioAt(1.0)).isNegative();
    }

    private static double replayedDb(VirtualRecorder machine, double tapeArcmin, double hz) {
        TestTape tape = TestTape.builder()
                .azimuthArcmin(tapeArcmin)
                .tone("tone", hz, 0, 1)
                .build();
        double[][] samples = machine.replay(tape, Tones.RATE).seconds(0.8);
        return Tones.decibels(samples[0], 0.1, 0.7, hz) - Machines.referenceDb();
    }
}
