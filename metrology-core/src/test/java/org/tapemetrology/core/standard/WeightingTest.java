/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.MatchedFilter;

/** The weightings against the printed tables, and the digital paths against the curves. */
class WeightingTest {
    /** ITU-R BS.468-4 table 1 (verified but for the tolerance at 31.5 kHz, left out): Hz, dB, tolerance in dB. */
    private static final double[][] BS468 = {
        {31.5, -29.9, 2.0}, {63, -23.9, 1.4}, {100, -19.8, 1.0}, {200, -13.8, 0.85}, {400, -7.8, 0.7},
        {800, -1.9, 0.55}, {1000, 0, 0.5}, {2000, 5.6, 0.5}, {3150, 9.0, 0.5}, {4000, 10.5, 0.5},
        {5000, 11.7, 0.5}, {6300, 12.2, 0}, {7100, 12.0, 0.2}, {8000, 11.4, 0.4}, {9000, 10.1, 0.6},
        {10000, 8.1, 0.8}, {12500, 0, 1.2}, {14000, -5.3, 1.4}, {16000, -11.7, 1.6}, {20000, -22.2, 2.0}
    };

    /** IEC 61672-1:2013 table 3 (second-hand), A in dB for n = -20 to 13 of 10^(n/10) kHz. */
    private static final double[] A = {
        -70.4, -63.4, -56.7, -50.5, -44.7, -39.4, -34.6, -30.2, -26.2, -22.5, -19.1, -16.1, -13.4, -10.9, -8.6, -6.6,
        -4.8, -3.2, -1.9, -0.8, 0, 0.6, 1.0, 1.2, 1.3, 1.2, 1.0, 0.5, -0.1, -1.1, -2.5, -4.3, -6.6, -9.3
    };

    /** Class 1 acceptance limits of the same rows (second-hand): plus and minus, in dB. */
    private static final double[][] A_LIMITS = {
        {3, 99},
        {2.5, 99},
        {2, 4},
        {2, 2},
        {2, 1.5},
        {1.5, 1.5},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {0.7, 0.7},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1, 1},
        {1.5, 1.5},
        {1.5, 2},
        {1.5, 2.5},
        {2, 3},
        {2, 5},
        {2.5, 16},
        {3, 99}
    };

    private static double db(double magnitude) {
        return 20 * Math.log10(magnitude);
    }

    @Test
    void networkReproducesTheTableOfBs468() {
        for (double[] row : BS468) {
            // 0.05 dB is the rounding of the printed table, and 0.01 dB the rounding of its network's elements
            assertThat(db(ItuRBs468Edition4.weighting().magnitude(row[0])))
                    .as("%s Hz", row[0])
                    .isCloseTo(row[1], within(0.06));
        }
    }

    @Test
    void averageVariantIsTheSameCurveMovedToTwoKilohertz() {
        // Second-hand rows; twice the rounding of one decimal, since the printed variant subtracts a rounded 5.6 dB.
        double[][] rows = {
            {31.5, -35.5},
            {100, -25.4},
            {1000, -5.6},
            {2000, 0},
            {3150, 3.4},
            {4000, 4.9},
            {5000, 6.1},
            {6300, 6.6},
            {7100, 6.4},
            {8000, 5.8},
            {9000, 4.5}
        };
        for (double[] row : rows) {
            assertThat(db(ItuRBs468Edition4.averageWeighting().magnitude(row[0])))
                    .as("%s Hz", row[0])
                    .isCloseTo(row[1], within(0.1));
        }
    }

    @Test
    void aWeightingReproducesTable3() {
        for (int i = 0; i < A.length; i++) {
            double hz = 1000 * Math.pow(10, (i - 20) / 10.0);
            // The rounding of one decimal.
            assertThat(db(Iec61672Edition2013.aWeighting().magnitude(hz)))
                    .as("%s Hz", hz)
                    .isCloseTo(A[i], within(0.0501));
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {8000, 11025, 16000, 22050, 32000, 44100, 48000, 88200, 96000, 192000})
    void digitalPathsFollowTheCurves(double rate) {
        // The library's own requirement is 0.1 dB; the fit of the filter keeps to a tenth of it.
        assertThat(worstDb(Iec61672Edition2013.aWeighting(), rate)).isLessThan(0.01);
        assertThat(worstDb(ItuRBs468Edition4.weighting(), rate)).isLessThan(0.01);
    }

    @ParameterizedTest
    @ValueSource(doubles = {45000, 48000, 64000, 88200, 96000, 192000})
    void upperEdgeOfTheUnweightedBandIsOnTheAnalogueAxis(double rate) {
        AnalogFilter edge = Butterworth.analogLowPass(4, 22400);
        assertThat(worstDb(edge, rate)).isLessThan(0.01);
        assertThat(db(new MatchedFilter(edge, 48000).magnitude(22400))).isCloseTo(-3.01, within(0.02));
        // Negative control: the bilinear filter, though right at its edge, is not.
        double bilinear = Butterworth.lowPass(4, 22400, 48000).magnitude(20000);
        assertThat(Math.abs(db(bilinear / edge.magnitude(20000)))).isGreaterThan(0.5);
    }

    /** Largest error in dB of what sines come out with, from 20 Hz to 20 kHz or 0.45 of the rate. */
    private static double worstDb(AnalogFilter curve, double rate) {
        MatchedFilter filter = new MatchedFilter(curve, rate);
        double top = Math.min(20000, 0.45 * rate);
        double worst = 0;
        for (int step = 0; step <= 24; step++) {
            double hz = 20 * Math.pow(top / 20, step / 24.0);
            worst = Math.max(worst, Math.abs(db(sineGain(filter, hz, rate) / curve.magnitude(hz))));
        }
        for (int step = 1; step <= 600; step++) {
            double hz = 20 + (top - 20) * step / 600.0;
            worst = Math.max(worst, Math.abs(db(filter.magnitude(hz) / curve.magnitude(hz))));
        }
        return worst;
    }

    private static double sineGain(MatchedFilter filter, double hz, double rate) {
        int settle = (int) (0.4 * rate);
        int periods = (int) Math.ceil(0.2 * hz);
        int length = (int) Math.round(periods / hz * rate);
        double[] in = new double[settle + length];
        for (int i = 0; i < in.length; i++) {
            in[i] = Math.sin(2 * Math.PI * hz * i / rate);
        }
        double[] out = new double[in.length];
        filter.reset();
        int count = filter.process(in, 0, in.length, out, 0);
        double re = 0;
        double im = 0;
        double windowSum = 0;
        for (int i = count - length; i < count; i++) {
            double w = 1 - Math.cos(2 * Math.PI * (i - count + length + 0.5) / length);
            re += w * out[i] * Math.cos(2 * Math.PI * hz * i / rate);
            im += w * out[i] * Math.sin(2 * Math.PI * hz * i / rate);
            windowSum += w;
        }
        return 2 * Math.hypot(re, im) / windowSum;
    }

    @ParameterizedTest
    @ValueSource(doubles = {44100, 48000, 96000, 192000})
    void digitalPathsStayInsideThePublishedTolerances(double rate) {
        MatchedFilter weighting = new MatchedFilter(ItuRBs468Edition4.weighting(), rate);
        for (double[] row : BS468) {
            // At 6.3 kHz the tolerance is zero: what is left there is the rounding of the table.
            assertThat(db(weighting.magnitude(row[0])))
                    .as("%s Hz", row[0])
                    .isCloseTo(row[1], within(Math.max(row[2], 0.06)));
        }
        MatchedFilter a = new MatchedFilter(Iec61672Edition2013.aWeighting(), rate);
        for (int i = 0; i < A.length; i++) {
            double hz = 1000 * Math.pow(10, (i - 20) / 10.0);
            assertThat(db(a.magnitude(hz)) - A[i]).as("%s Hz", hz).isBetween(-A_LIMITS[i][1], A_LIMITS[i][0]);
        }
    }

    @Test
    void plainBilinearTransformWouldMissTheCurve() {
        // Negative control of the requirement of 0.1 dB: the warped curve fails it.
        double hz = 15000;
        double warped = Iec61672Edition2013.aWeighting().bilinear(48000).magnitude(hz);
        assertThat(Math.abs(db(warped / Iec61672Edition2013.aWeighting().magnitude(hz))))
                .isGreaterThan(1);
    }
}
