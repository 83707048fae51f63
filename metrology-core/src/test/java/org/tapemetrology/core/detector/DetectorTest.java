/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.assertj.core.api.ThrowableAssert.ThrowingCallable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.standard.Iec60386Edition1972;

/** Detectors against the step responses that circuit theory gives for their stages, and what their builders refuse. */
class DetectorTest {
    /** So many samples per time constant that the sums of differences are the exponentials within their tolerance. */
    private static final double RATE = 200_000;

    private static final Ballistics FIRST = new Ballistics(0.004, 0.03);
    private static final Ballistics SECOND = new Ballistics(0.01, 0.05);

    private static double[] constant(double value, double seconds) {
        double[] x = new double[(int) (seconds * RATE)];
        Arrays.fill(x, value);
        return x;
    }

    /** Step response of two different poles in a row, for instance in any textbook of circuit theory. */
    private static double twoPoles(double t, double one, double other) {
        return 1 - (one * Math.exp(-t / one) - other * Math.exp(-t / other)) / (one - other);
    }

    /** Both stages rise by their attack constants; the rectifier does not see the sign. */
    @ParameterizedTest
    @ValueSource(doubles = {1, -1})
    void peakDetectorRisesLikeTwoPoles(double sign) {
        TwoStagePeakDetector detector = new TwoStagePeakDetector(RATE, FIRST, SECOND);
        double[] x = constant(2 * sign, 0.05);
        double[] out = new double[x.length + 5];
        detector.process(x, 0, out, 5, x.length);
        for (double t : new double[] {0.001, 0.005, 0.02, 0.049}) {
            double expected = 2 * twoPoles(t, FIRST.attackSeconds(), SECOND.attackSeconds());
            // Half a sample of 5 us late, of the shortest constant of 4 ms: 0.06 %.
            assertThat(out[5 + (int) (t * RATE) - 1] / detector.scale()).isCloseTo(expected, within(2e-3));
        }
    }

    /** From rest at full indication both stages fall by their decay constants, each towards its input. */
    @Test
    void peakDetectorFallsLikeTwoPolesAndThenIsSilent() {
        TwoStagePeakDetector detector = new TwoStagePeakDetector(RATE, FIRST, SECOND);
        double[] on = constant(1, 0.4); // forty times the longer attack
        detector.process(on, 0, on, 0, on.length);
        double[] out = constant(0, 5);
        detector.process(out, 0, out, 0, out.length);
        for (double t : new double[] {0.002, 0.02, 0.1, 0.3}) {
            double expected = 1 - twoPoles(t, FIRST.decaySeconds(), SECOND.decaySeconds());
            assertThat(out[(int) (t * RATE) - 1] / detector.scale()).isCloseTo(expected, within(1e-3));
        }
        // exp(-70) is 4e-31, and 3.7 s of 5 s are 74 of the longer decay.
        assertThat(out[(int) (3.0 * RATE)]).isPositive();
        assertThat(out[(int) (3.7 * RATE)]).isZero();
        assertThat(out[out.length - 1]).isZero();
    }

    /** Silence is kept out of the subnormal numbers, but what rises from it is seen. */
    @Test
    void peakDetectorRisesFromSilence() {
        Ballistics quick = new Ballistics(1e-5, 0.05);
        TwoStagePeakDetector detector = new TwoStagePeakDetector(RATE, FIRST, quick);
        double[] x = constant(1e-27, 0.1); // 25 attack constants
        detector.process(x, 0, x, 0, x.length);
        assertThat(x[x.length - 1] / detector.scale()).isCloseTo(1e-27, within(1e-33));
    }

    /** What the scale is for: a steady 1 kHz sine reads its RMS. */
    @Test
    void peakDetectorReadsTheRmsOfASteadySineAtOnceAfterReset() {
        TwoStagePeakDetector detector = new TwoStagePeakDetector(RATE, FIRST, SECOND);
        double[] x = new double[(int) (2 * RATE)];
        for (int i = 0; i < x.length; i++) {
            x[i] = Math.sqrt(2) * Math.sin(2 * Math.PI * 1000 * i / RATE);
        }
        double[] out = new double[x.length];
        detector.process(x, 0, out, 0, x.length);
        double sum = 0;
        int half = x.length / 2;
        for (int i = half; i < x.length; i++) {
            sum += out[i];
        }
        // 1 s is 20 of the longest constant, and both means are over whole periods.
        assertThat(sum / half).isCloseTo(1, within(1e-6));
        detector.reset();
        double[] again = new double[x.length];
        detector.process(x, 0, again, 0, x.length);
        assertThat(again).isEqualTo(out);
    }

    @Test
    void peakDetectorNeedsManySamplesPerPeriod() {
        for (double rate : new double[] {7999, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> new TwoStagePeakDetector(rate, FIRST, SECOND))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("sampleRateHz " + rate);
        }
        assertThatCode(() -> new TwoStagePeakDetector(8000, FIRST, SECOND)).doesNotThrowAnyException();
    }

    /** 2 sqrt(2)/pi of the RMS is the mean of a rectified sine; the movement averages it. */
    @Test
    void averageDetectorReadsTheRmsOfASineAndRestsAfterReset() {
        AverageDetector detector = new AverageDetector(Butterworth.lowPass(2, 10, RATE));
        double[] x = new double[(int) (0.5 * RATE)];
        for (int i = 0; i < x.length; i++) {
            x[i] = 0.3 * Math.sqrt(2) * Math.sin(2 * Math.PI * 1000 * i / RATE);
        }
        double[] first = new double[x.length];
        detector.process(x, 0, first, 0, x.length);
        // Ripple at 2 kHz: two thirds of the mean times (10/2000)^2, 2e-5.
        assertThat(first[x.length - 1]).isCloseTo(0.3, within(2e-5));
        detector.reset();
        double[] again = new double[x.length];
        detector.process(x, 0, again, 0, x.length);
        assertThat(again).isEqualTo(first);
    }

    /** A constant is half a step from peak to peak, which the smoothing and the meter follow like two poles. */
    @Test
    void quasiPeakDetectorRisesAndFallsByItsConstants() {
        double rate = 20_000;
        // The holds follow at once and fall as good as not; what is left is the smoothing and the meter.
        QuasiPeakConstants constants = new QuasiPeakConstants(1e-6, 1e6, 0.02, 0.3, 0.05);
        QuasiPeakDetector detector = new QuasiPeakDetector(constants, rate);
        double scale = scale(constants, rate);
        double t = 0;
        for (int i = 0; i < 0.4 * rate; i++) {
            double seen = detector.next(3) / scale;
            t += 1 / rate;
            double expected = 1.5 * twoPoles(t, constants.smoothAttackSeconds(), constants.meterSeconds());
            assertThat(seen).isCloseTo(expected, within(2e-3)); // half a sample of 50 us late, of 20 ms
        }
        // Now E+ holds 3 and the sample 3 takes y away below: y is 1.5 until the sample falls to 1.5, where it is 0.75.
        double s0 = detector.indication() / scale;
        assertThat(s0).isCloseTo(1.5, within(2e-3)); // exp(-8)
        for (int i = 0; i < 0.4 * rate; i++) {
            detector.next(1.5);
        }
        // s has fallen by the smoothing decay towards zero until it met y: 1.5 exp(-t/0.3) is 0.75 at 0.208 s.
        assertThat(detector.indication() / scale).isCloseTo(0.75, within(5e-3));
    }

    /** With a smoothing and a meter that follow at once, a sample of the other sign shows what a hold has. */
    @ParameterizedTest
    @ValueSource(doubles = {1, -1})
    void holdsRiseAndFallByTheirConstants(double sign) {
        double rate = 20_000;
        QuasiPeakConstants constants = new QuasiPeakConstants(0.01, 0.04, 1e-6, 1, 1e-6);
        double scale = scale(constants, rate);
        for (double t : new double[] {0.003, 0.01, 0.03}) {
            QuasiPeakDetector detector = new QuasiPeakDetector(constants, rate);
            for (int i = 0; i < t * rate; i++) {
                detector.next(sign);
            }
            double risen = 1 - Math.exp(-t / constants.holdAttackSeconds());
            // (E+ - x)/2 with x = -1; one sample of 50 us, of 10 ms, late.
            assertThat(detector.next(-sign) / scale).isCloseTo((1 + risen) / 2, within(3e-3));
            for (int i = 0; i < 10_000; i++) {
                detector.next(sign);
            }
            for (int i = 0; i < t * rate; i++) {
                detector.next(0);
            }
            double fallen = Math.exp(-t / constants.holdDecaySeconds());
            assertThat(detector.next(-sign) / scale).isCloseTo((1 + fallen) / 2, within(3e-3));
        }
    }

    /** What the scale is for: the highest indication of a 4 Hz sine is its peak. */
    @Test
    void quasiPeakDetectorReadsThePeakOfASineOf4Hz() {
        double rate = 4000;
        QuasiPeakDetector detector = new QuasiPeakDetector(Iec60386Edition1972.QUASI_PEAK, rate);
        double highest = 0;
        for (int i = 0; i < 20 * rate; i++) {
            highest = Math.max(highest, detector.next(3 * Math.sin(2 * Math.PI * 4 * i / rate)));
        }
        assertThat(highest).isCloseTo(3, within(1e-9)); // rounding
    }

    private static double scale(QuasiPeakConstants constants, double rate) {
        // The meter's first step from rest on a sample of which every other stage is known.
        QuasiPeakDetector fresh = new QuasiPeakDetector(constants, rate);
        double smooth = -Math.expm1(-1 / rate / constants.smoothAttackSeconds());
        double meter = -Math.expm1(-1 / rate / constants.meterSeconds());
        return fresh.next(1) / (0.5 * smooth * meter);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, -1, Double.NaN, Double.POSITIVE_INFINITY})
    void timeConstantsAreAboveZero(double bad) {
        assertRefused(() -> new Ballistics(bad, 1), "attackSeconds " + bad);
        assertRefused(() -> new Ballistics(1, bad), "decaySeconds " + bad);
        assertRefused(() -> new QuasiPeakConstants(bad, 1, 1, 1, 1), "holdAttackSeconds " + bad);
        assertRefused(() -> new QuasiPeakConstants(1, bad, 1, 1, 1), "holdDecaySeconds " + bad);
        assertRefused(() -> new QuasiPeakConstants(1, 1, bad, 1, 1), "smoothAttackSeconds " + bad);
        assertRefused(() -> new QuasiPeakConstants(1, 1, 1, bad, 1), "smoothDecaySeconds " + bad);
        assertRefused(() -> new QuasiPeakConstants(1, 1, 1, 1, bad), "meterSeconds " + bad);
    }

    @Test
    void quasiPeakDetectorNeedsAHundredHertz() {
        QuasiPeakConstants constants = new QuasiPeakConstants(1, 1, 1, 1, 1);
        assertRefused(() -> new QuasiPeakDetector(constants, 99), "sampleRateHz 99");
        assertRefused(() -> new QuasiPeakDetector(constants, Double.NaN), "sampleRateHz NaN");
        assertThatCode(() -> new QuasiPeakDetector(constants, 100)).doesNotThrowAnyException();
    }

    private static void assertRefused(ThrowingCallable code, String message) {
        assertThatThrownBy(code).isInstanceOf(IllegalArgumentException.class).hasMessageContaining(message);
    }
}
