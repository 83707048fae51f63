/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.function.DoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.detector.Ballistics;
import org.tapemetrology.core.detector.Detector;
import org.tapemetrology.core.detector.TwoStagePeakDetector;
import org.tapemetrology.core.filter.MatchedFilter;
import org.tapemetrology.core.filter.Oversampler;

/** Burst tables of ITU-R BS.468-4 and IEC 60268-10 and the step response of IEC 60268-17. */
class BurstsTest {
    /** ITU-R BS.468-4 tables 2 and 3 (second-hand): burst in ms, bursts per s or 0 for one; %, lower and upper limit. */
    private static final double[][] BS468 = {
        {1, 0, 17.0, 13.5, 21.4}, {2, 0, 26.6, 22.4, 31.6}, {5, 0, 40, 34, 46}, {10, 0, 48, 41, 55},
        {20, 0, 52, 44, 60}, {50, 0, 59, 50, 68}, {100, 0, 68, 58, 78}, {200, 0, 80, 68, 92},
        {5, 2, 48, 43, 53}, {5, 10, 77, 72, 82}, {5, 100, 97, 94, 100}
    };

    /** The oversampled path that the meters use, from the sampling rate to the detector. */
    private static final class Path {
        final double rate;
        final Oversampler oversampler;
        final Detector detector;
        final MatchedFilter weighting;

        Path(double rate, DoubleFunction<Detector> maker, boolean weighted) {
            this.rate = rate;
            this.oversampler = Oversampler.beforeRectifier(rate);
            this.detector = maker.apply(oversampler.outputRateHz());
            this.weighting = new MatchedFilter(ItuRBs468Edition4.weighting(), rate);
            this.weighted = weighted;
        }

        final boolean weighted;

        double[] indications(double[] in) {
            oversampler.reset();
            detector.reset();
            weighting.reset();
            double[] filtered = in;
            int count = in.length;
            if (weighted) {
                filtered = new double[in.length];
                count = weighting.process(in, 0, in.length, filtered, 0);
            }
            double[] out = new double[count * oversampler.factor()];
            int produced = oversampler.process(filtered, 0, count, out, 0);
            detector.process(out, 0, out, 0, produced);
            return Arrays.copyOf(out, produced);
        }

        double highest(double[] in, double fromSeconds) {
            double[] out = indications(in);
            double highest = 0;
            for (int i = (int) (fromSeconds * oversampler.outputRateHz()); i < out.length; i++) {
                highest = Math.max(highest, out[i]);
            }
            return highest;
        }

        /** 5 kHz bursts; the phase, in samples, is where between two samples each begins. */
        double[] bursts(double burstSeconds, double perSecond, double seconds, double phase) {
            double[] x = new double[(int) (seconds * rate)];
            for (int i = 0; i < x.length; i++) {
                double t = (i - phase) / rate - 0.02;
                double u = perSecond > 0 && t >= 0 ? t % (1 / perSecond) : t;
                x[i] = u >= 0 && u < burstSeconds ? Math.sin(2 * Math.PI * 5000 * u) : 0;
            }
            return x;
        }

        double steady() {
            return highest(bursts(9, 0, 2.5, 0), 2.4);
        }
    }

    /** Largest share of the tolerance, on the side where it is used, over every row. */
    private static double worstShare(Path path, double[] phases) {
        double steady = path.steady();
        double worst = 0;
        for (double[] row : BS468) {
            for (double phase : phases) {
                boolean repeated = row[1] > 0;
                double[] x = path.bursts(row[0] / 1000, row[1], repeated ? 4 : row[0] / 1000 + 0.6, phase);
                double percent = 100 * path.highest(x, repeated ? 3 : 0) / steady;
                double room = percent > row[2] ? row[4] - row[2] : row[2] - row[3];
                worst = Math.max(worst, Math.abs(percent - row[2]) / room);
            }
        }
        return worst;
    }

    @ParameterizedTest
    @ValueSource(doubles = {32000, 44100, 48000, 96000, 192000})
    void everyQuasiPeakRowIsInsideHalfItsTolerance(double rate) {
        Path path = new Path(rate, ItuRBs468Edition4::quasiPeakDetector, false);
        double share = worstShare(path, new double[] {0, 0.25, 0.5, 0.75});
        assertThat(share).isLessThan(0.5); // half of the published tolerance, this library's own requirement
    }

    @ParameterizedTest
    @ValueSource(doubles = {44100, 48000, 192000})
    void everyQuasiPeakRowIsInsideItsToleranceBehindTheWeightingToo(double rate) {
        Path path = new Path(rate, ItuRBs468Edition4::quasiPeakDetector, true);
        double share = worstShare(path, new double[] {0, 0.5});
        assertThat(share).isLessThan(0.5);
    }

    @Test
    void everyTimeConstantOfTheQuasiPeakDetectorMatters() {
        // Negative control. The model uses 15 % of the tolerances at 48 kHz; the narrower own limit is 20 %.
        double own = 0.20;
        assertThat(worstShare(quasiPeak(1, 1, 1, 1), new double[] {0})).isLessThan(own);
        for (int constant = 0; constant < 4; constant++) {
            for (double factor : new double[] {0.8, 1.2}) {
                double[] f = {1, 1, 1, 1};
                f[constant] = factor;
                double share = worstShare(quasiPeak(f[0], f[1], f[2], f[3]), new double[] {0});
                assertThat(share).as("constant %s times %s", constant, factor).isGreaterThan(own);
            }
        }
    }

    private static Path quasiPeak(double a1, double d1, double a2, double d2) {
        return new Path(
                48000,
                r -> changed(r, ItuRBs468Edition4.FIRST_STAGE, ItuRBs468Edition4.SECOND_STAGE, a1, d1, a2, d2),
                false);
    }

    private static Detector changed(
            double rate, Ballistics first, Ballistics second, double a1, double d1, double a2, double d2) {
        return new TwoStagePeakDetector(
                rate,
                new Ballistics(first.attackSeconds() * a1, first.decaySeconds() * d1),
                new Ballistics(second.attackSeconds() * a2, second.decaySeconds() * d2));
    }

    @Test
    void quasiPeakFollowsBurstsOverTwentyDecibels() {
        // BS.468-4 clause 2.3 (second-hand): isolated 0.6 ms bursts, 20 dB down, within 1 dB.
        Path path = new Path(48000, ItuRBs468Edition4::quasiPeakDetector, true);
        double full = path.highest(path.bursts(0.6e-3, 0, 0.1, 0), 0);
        for (int down = 2; down <= 20; down += 2) {
            double[] x = path.bursts(0.6e-3, 0, 0.1, 0);
            for (int i = 0; i < x.length; i++) {
                x[i] *= Math.pow(10, -down / 20.0);
            }
            assertThat(20 * Math.log10(path.highest(x, 0) / full)).isCloseTo(-down, within(1.0));
        }
    }

    @Test
    void quasiPeakDoesNotSeeThePolarity() {
        // Clause 2.4 (second-hand): 0.5 dB; signal of 1 ms pulses, 100 per s (from memory).
        Path path = new Path(48000, ItuRBs468Edition4::quasiPeakDetector, false);
        double[] up = new double[96000];
        double[] down = new double[96000];
        for (int i = 0; i < up.length; i++) {
            up[i] = i % 480 < 48 ? 0.5 : 0;
            down[i] = -up[i];
        }
        assertThat(20 * Math.log10(path.highest(up, 1) / path.highest(down, 1))).isCloseTo(0, within(0.5));
    }

    @Test
    void quasiPeakDoesNotSwingOverOnASuddenTone() {
        // Clause 2.5 (second-hand): sudden 1 kHz tone, 0.3 dB.
        Path path = new Path(48000, ItuRBs468Edition4::quasiPeakDetector, true);
        double[] x = sine(48000, 1000, 4, 1);
        assertThat(20 * Math.log10(path.highest(x, 0) / path.highest(x, 3.9))).isBetween(0.0, 0.3);
    }

    @ParameterizedTest
    @ValueSource(doubles = {8000, 32000, 44100, 48000, 96000, 192000})
    void everyDetectorReadsTheRmsOfASteadySine(double rate) {
        // Clause 2.6: 1 kHz sine of 0.775 V reads 0.775 V; 0.01 dB is what the oversampler's ripple and the phase
        // leave.
        double rms = 0.775;
        double[] x = sine(rate, 1000, 3, rms * Math.sqrt(2));
        for (Path path : new Path[] {
            new Path(rate, ItuRBs468Edition4::quasiPeakDetector, true),
            new Path(rate, Iec60268Part10::typeOneDetector, false),
            new Path(rate, Iec60268Part10::typeTwoDetector, false),
            new Path(rate, Iec60268Part17::detector, false)
        }) {
            double[] out = path.indications(x);
            double mean = 0;
            int n = (int) (0.5 * path.oversampler.outputRateHz());
            for (int i = out.length - n; i < out.length; i++) {
                mean += out[i] / n;
            }
            assertThat(20 * Math.log10(mean / rms)).as("%s Hz", rate).isCloseTo(0, within(0.01));
        }
    }

    private static double[] sine(double rate, double hz, double seconds, double amplitude) {
        double[] x = new double[(int) (seconds * rate)];
        for (int i = 0; i < x.length; i++) {
            x[i] = amplitude * Math.sin(2 * Math.PI * hz * i / rate);
        }
        return x;
    }

    /** IEC 60268-10 type I (5 ms second-hand, the others and every tolerance from memory): ms, dB, tolerance. */
    private static final double[][] TYPE_I = {{10, -1, 0.5}, {5, -2, 1}, {3, -4, 1}, {0.4, -15, 4}};

    /** IEC 60268-10 type II (second-hand, tolerances from memory). */
    private static final double[][] TYPE_II = {{100, 0, 0.5}, {10, -2, 0.5}, {5, -4, 0.75}, {1.5, -9, 1}, {0.5, -17, 2}
    };

    private static final double OWN_SHARE_I = 0.3;
    private static final double OWN_SHARE_II = 0.3;

    /** Largest share of the tolerance over the bursts and the return, dB in s within 0.3 s. */
    private static double worstShare(Path path, double[][] rows, double returnDb, double returnSeconds) {
        double steady = path.steady();
        double worst = 0;
        for (double[] row : rows) {
            for (double phase : new double[] {0, 0.3, 0.6}) {
                double db = 20
                        * Math.log10(path.highest(path.bursts(row[0] / 1000, 0, row[0] / 1000 + 0.6, phase), 0)
                                / steady);
                worst = Math.max(worst, Math.abs(db - row[1]) / row[2]);
            }
        }
        double[] out = path.indications(path.bursts(1, 0, 5, 0));
        double r = path.oversampler.outputRateHz();
        int end = (int) (1.02 * r);
        int fallen = end;
        while (out[fallen] > steady * Math.pow(10, -returnDb / 20)) {
            fallen++;
        }
        return Math.max(worst, Math.abs((fallen - end) / r - returnSeconds) / 0.3);
    }

    @ParameterizedTest
    @ValueSource(doubles = {32000, 44100, 48000, 96000, 192000})
    void programmeMetersKeepTheirTables(double rate) {
        // Return: type I 20 dB in 1.7 s, type II 24 dB in 2.8 s (second-hand; tolerance of 0.3 s from memory).
        double one = worstShare(new Path(rate, Iec60268Part10::typeOneDetector, false), TYPE_I, 20, 1.7);
        double two = worstShare(new Path(rate, Iec60268Part10::typeTwoDetector, false), TYPE_II, 24, 2.8);
        // Own limits, so that a changed constant shows: the models use 0.29 and 0.23 of the tolerances.
        assertThat(one).isLessThan(OWN_SHARE_I);
        assertThat(two).isLessThan(OWN_SHARE_II);
    }

    @Test
    void everyTimeConstantOfTheProgrammeMetersMatters() {
        // Negative control: a change by 20 % up or down breaks the own limits of the test above.
        for (int constant = 0; constant < 4; constant++) {
            double worstOne = 0;
            double worstTwo = 0;
            for (double factor : new double[] {0.8, 1.2}) {
                double[] f = {1, 1, 1, 1};
                f[constant] = factor;
                double one = worstShare(
                        new Path(
                                48000,
                                r -> changed(
                                        r,
                                        Iec60268Part10.TYPE_I_FIRST_STAGE,
                                        Iec60268Part10.TYPE_I_SECOND_STAGE,
                                        f[0],
                                        f[1],
                                        f[2],
                                        f[3]),
                                false),
                        TYPE_I,
                        20,
                        1.7);
                double two = worstShare(
                        new Path(
                                48000,
                                r -> changed(
                                        r,
                                        Iec60268Part10.TYPE_II_FIRST_STAGE,
                                        Iec60268Part10.TYPE_II_SECOND_STAGE,
                                        f[0],
                                        f[1],
                                        f[2],
                                        f[3]),
                                false),
                        TYPE_II,
                        24,
                        2.8);
                worstOne = Math.max(worstOne, one);
                worstTwo = Math.max(worstTwo, two);
            }
            assertThat(worstOne).as("type I, constant %s", constant).isGreaterThan(OWN_SHARE_I);
            assertThat(worstTwo).as("type II, constant %s", constant).isGreaterThan(OWN_SHARE_II);
        }
    }

    /** Rise to 99 % in s, overswing in %, fall to 1 % in s, of a detector on a sudden 1 kHz sine. */
    private static double[] stepOf(double damping, double angularFrequency) {
        Path path = new Path(48000, r -> Iec60268Part17.detector(r, damping, angularFrequency), false);
        double[] x = Arrays.copyOf(sine(48000, 1000, 2, Math.sqrt(2)), 4 * 48000);
        double[] out = path.indications(x);
        double r = path.oversampler.outputRateHz();
        int rise = 0;
        while (out[rise] < 0.99) {
            rise++;
        }
        double highest = 0;
        for (double y : out) {
            highest = Math.max(highest, y);
        }
        int fall = (int) (2 * r);
        while (out[fall] > 0.01) {
            fall++;
        }
        return new double[] {rise / r, 100 * (highest - 1), fall / r - 2};
    }

    private static boolean keepsPart17(double[] step) {
        // IEC 60268-17 (second-hand): 300 ms and 1 % to 1.5 %. The standard's 10 % on the time (from memory) would let
        // a wrong constant pass: the narrower own limit of 3 % is what the ripple at twice the tone leaves.
        return Math.abs(step[0] - 0.3) < 0.009 && Math.abs(step[2] - 0.3) < 0.009 && step[1] >= 1 && step[1] <= 1.5;
    }

    @Test
    void volumeIndicatorRisesAndFallsInTime() {
        double[] step = stepOf(Iec60268Part17.DAMPING, Iec60268Part17.ANGULAR_FREQUENCY);
        assertThat(keepsPart17(step))
                .as("rise, overswing, fall: %s", Arrays.toString(step))
                .isTrue();
    }

    @Test
    void bothConstantsOfTheVolumeIndicatorMatter() {
        for (double factor : new double[] {0.8, 1.2}) {
            assertThat(keepsPart17(
                            stepOf(Math.min(0.999, Iec60268Part17.DAMPING * factor), Iec60268Part17.ANGULAR_FREQUENCY)))
                    .isFalse();
            assertThat(keepsPart17(stepOf(Iec60268Part17.DAMPING, Iec60268Part17.ANGULAR_FREQUENCY * factor)))
                    .isFalse();
        }
    }
}
