/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The fast tracker against the plain one and against the phase that was made. */
class PhaseTrackerTest {
    /** The margins go up and down with whole factors of decimation: none may exceed what the frames of a meter have. */
    @ParameterizedTest
    @ValueSource(doubles = {8000, 11_025, 44_100, 48_000, 96_000, 192_000})
    void noTrackerNeedsMoreThanTheBound(double rate) {
        for (double lowest : new double[] {34, 60, 85, 227.6}) {
            int most = PhaseTracker.mostMargin(rate, 0.25 * lowest, Math.min(0.65 * lowest, 150));
            for (double tone = lowest; tone < rate / 5; tone *= 1.013) {
                double pass = Math.min(0.25 * tone, 120);
                double stop = Math.min(0.9 * tone, pass + 150);
                assertThat(new PhaseTracker(rate, 4096, pass, stop).margin())
                        .as("tone of %f Hz", tone)
                        .isLessThanOrEqualTo(most);
            }
        }
    }

    /** Both have filters of the same pass band, ripple and leakage 1e-6: they differ by twice that at most. */
    @ParameterizedTest
    @CsvSource({
        "48000, 3150, 120, 270",
        "44100, 315, 79, 229",
        "192000, 12500, 120, 270",
        "8000, 1000, 120, 270",
        "48000, 8000, 625, 775",
        "48000, 60, 20, 54",
        "8000, 3000, 120, 270"
    })
    void theFastFormTracksAsThePlainOne(double rate, double hz, double pass, double stop) {
        int length = 4096;
        PhaseTracker fast = new PhaseTracker(rate, length, pass, stop);
        PlainPhaseTracker plain = new PlainPhaseTracker(rate, length, pass, stop);
        int margin = Math.max(fast.margin(), plain.margin());
        double[] frame = new double[length + 2 * margin];
        double wobble = pass / 6;
        double depth = 0.05 * pass / wobble;
        for (int i = 0; i < frame.length; i++) {
            double t = (i - margin) / rate;
            frame[i] = StrictMath.cos(2 * Math.PI * hz * t + depth * StrictMath.sin(2 * Math.PI * wobble * t));
        }
        double[] cos = new double[length];
        double[] sin = new double[length];
        double[] plainCos = new double[length];
        double[] plainSin = new double[length];
        fast.track(frame, margin, 1.002 * hz, cos, sin);
        plain.track(frame, margin, 1.002 * hz, plainCos, plainSin);
        for (int i = 0; i < length; i++) {
            // Their points stand at other places, where the cubics miss the wobble by some 1e-5 of it.
            assertThat(cos[i]).as("cos of sample %d", i).isCloseTo(plainCos[i], within(5e-5 * depth + 4e-6));
            assertThat(sin[i]).as("sin of sample %d", i).isCloseTo(plainSin[i], within(5e-5 * depth + 4e-6));
            double t = i / rate; // three phasors that carry each other on over some hundred samples keep 1e-11
            double phase = 2 * Math.PI * hz * t + depth * StrictMath.sin(2 * Math.PI * wobble * t);
            assertThat(cos[i]).isCloseTo(StrictMath.cos(phase), within(5e-5 * depth + 4e-6));
            assertThat(cos[i] * cos[i] + sin[i] * sin[i]).isCloseTo(1, within(1e-11));
        }
    }
}
