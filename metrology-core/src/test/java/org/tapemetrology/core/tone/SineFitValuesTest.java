/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Fits of sines and what they say of any moment, and the frequency of a tone that is tracked: short records at 8 kHz. */
class SineFitValuesTest {
    private static final double RATE = 8000;
    private static final double TURN = 2 * Math.PI;

    private static double[] sine(int length, double hz, double amplitude, double phase, double offset) {
        double[] y = new double[length];
        for (int i = 0; i < length; i++) {
            y[i] = offset + amplitude * Math.cos(TURN * hz * i / RATE + phase);
        }
        return y;
    }

    /** The phase of any moment is that of the middle and what the frequency turns until then, its error both in root sum square. */
    @Test
    void phaseIsThatOfTheMoment() {
        double[] y = sine(400, 503.7, 0.4, 0.3, 0.02);
        Random random = new Random(6);
        for (int i = 0; i < y.length; i++) {
            y[i] += 0.01 * random.nextGaussian();
        }
        SineFit fit = SineFit.fourParameter(y, 100, 300, RATE, 500);
        assertThat(fit.middleSeconds())
                .isCloseTo(149.5 / RATE, within(1e-12)); // from the first of the samples that are fitted
        double seconds = 250 / RATE;
        double turned = fit.phaseRad() + TURN * fit.frequencyHz() * (seconds - fit.middleSeconds());
        assertThat(fit.phaseAt(seconds)).isCloseTo(turned, within(1e-12));
        double truth = TURN * 503.7 * (100 / RATE + seconds) + 0.3;
        double error = fit.phaseErrorAt(seconds);
        assertThat(Math.IEEEremainder(fit.phaseAt(seconds) - truth, TURN)).isCloseTo(0, within(4 * error));
        assertThat(error)
                .isCloseTo(
                        Math.hypot(
                                fit.phaseErrorRad(), TURN * fit.frequencyErrorHz() * (seconds - fit.middleSeconds())),
                        within(1e-12));
        assertThat(fit.phaseErrorAt(fit.middleSeconds())).isCloseTo(fit.phaseErrorRad(), within(1e-12));
        assertThat(error).isGreaterThan(1.2 * fit.phaseErrorRad());
        // White noise of 0.01: root (2/n) of it for the amplitude, over the amplitude for the phase (computed bounds).
        double bound = 0.01 * Math.sqrt(2 / 300.0);
        assertThat(fit.amplitudeError() / bound).isCloseTo(1, within(0.15));
        assertThat(fit.phaseErrorRad() / (bound / 0.4)).isCloseTo(1, within(0.15));
        assertThat(fit.offsetError() / (0.01 / Math.sqrt(300))).isCloseTo(1, within(0.15));
        assertThat(fit.residualRms()).isCloseTo(0.01, within(0.0015));
    }

    @ParameterizedTest
    @CsvSource({"1, 0.5", "3, -2"})
    void aKnownFrequencyIsNotSearched(int harmonics, double phase) {
        double[] y = sine(500, 401, 0.4, phase, -0.1);
        HarmonicFit fit = HarmonicFit.known(y, 0, 500, RATE, 401, harmonics);
        assertThat(fit.frequencyHz()).isEqualTo(401);
        assertThat(fit.frequencyErrorHz()).isZero();
        assertThat(fit.amplitude(1)).isCloseTo(0.4, within(1e-12));
        assertThat(fit.offset()).isCloseTo(-0.1, within(1e-12));
        double middle = TURN * 401 * fit.middleSeconds() + phase;
        assertThat(Math.IEEEremainder(fit.phaseRad(1) - middle, TURN)).isCloseTo(0, within(1e-10));
        SineFit three = SineFit.threeParameter(y, 0, 500, RATE, 401);
        assertThat(three.amplitude()).isCloseTo(0.4, within(1e-12));
        assertThat(three.frequencyErrorHz()).isZero();
    }

    /** An amplitude of 0 has the error of a part of it, and no phase. */
    @Test
    void silenceHasNoPhase() {
        HarmonicFit fit = HarmonicFit.known(new double[100], 0, 100, RATE, 400, 1);
        assertThat(fit.amplitude(1)).isZero();
        assertThat(fit.amplitudeError(1)).isZero();
        assertThat(fit.phaseErrorRad(1)).isInfinite();
    }

    @Test
    void whatCannotBeFittedIsNamed() {
        double[] y = sine(100, 400, 1, 0, 0);
        assertThatThrownBy(() -> HarmonicFit.known(y, 0, 100, RATE, 400, 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("harmonics 0 is below 1");
        assertThatThrownBy(() -> HarmonicFit.known(y, 0, 5, RATE, 400, 2))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("length 5 is not above 5, the unknowns");
        assertThat(HarmonicFit.known(y, 0, 6, RATE, 400, 2).amplitude(1)).isCloseTo(1, within(1e-6));
        assertThatThrownBy(() -> HarmonicFit.unknown(y, 0, 6, RATE, 400, 2))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("length 6 is not above 6, the unknowns");
        for (double hz : new double[] {0, -1, 2000, Double.NaN}) {
            assertThatThrownBy(() -> HarmonicFit.unknown(y, 0, 100, RATE, hz, 2))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("harmonic 2 of " + hz + " Hz is not between 0 and half the sampling rate, 4000.0 Hz");
        }
        assertThatThrownBy(() -> HarmonicFit.known(y, 1, 100, RATE, 400, 1))
                .isInstanceOf(IndexOutOfBoundsException.class);
    }

    /** The mean of the frame, and how far the tone is from the reference at most; nothing of one frame is left in the next. */
    @Test
    void theTrackerTellsTheFrequency() {
        PhaseTracker tracker = new PhaseTracker(RATE, 2048, 120, 270);
        int margin = tracker.margin();
        double[] frame = sine(2048 + 2 * margin, 1003.5, 0.4, 1, 0);
        double[] cos = new double[2048];
        double[] sin = new double[2048];
        tracker.track(sine(2048 + 2 * margin, 940, 100, 1, 0), margin, 1000, cos, sin);
        assertThat(tracker.meanHz()).isCloseTo(940, within(1e-3));
        assertThat(tracker.farthestHz()).isCloseTo(60, within(1e-2));
        tracker.track(frame, margin, 1000, cos, sin);
        assertThat(tracker.meanHz()).isCloseTo(1003.5, within(1e-4));
        assertThat(tracker.farthestHz()).isCloseTo(3.5, within(1e-2));
        double[] freshCos = new double[2048];
        double[] freshSin = new double[2048];
        new PhaseTracker(RATE, 2048, 120, 270).track(frame, margin, 1000, freshCos, freshSin);
        assertThat(cos).isEqualTo(freshCos);
        assertThat(sin).isEqualTo(freshSin);
        // A swing of 30 Hz at 5 Hz about 1010 Hz, of which the frame has 1.28 periods.
        double[] swinging = new double[2048 + 2 * margin];
        for (int i = 0; i < swinging.length; i++) {
            double t = (i - margin) / RATE;
            swinging[i] = Math.cos(TURN * 1010 * t - 30 / 5.0 * Math.cos(TURN * 5 * t));
        }
        tracker.track(swinging, margin, 1000, cos, sin);
        assertThat(tracker.farthestHz()).isCloseTo(40, within(0.3));
        // The mean of the sine from 0 to 0.256 s: (1 - cos(2 pi 1.28))/(2 pi 1.28) of its peak.
        double mean = 1010 + 30 * (1 - Math.cos(TURN * 1.28)) / (TURN * 1.28);
        assertThat(tracker.meanHz()).isCloseTo(mean, within(0.2));
    }
}
