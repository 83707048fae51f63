/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Lines fitted to transforms that are summed up sample by sample, and what is told of lines. */
class LineClusterTest {
    private static final int SAMPLES = 800;

    /** What a record leaves less some lines, transformed plainly about its middle. */
    private static final class Plain implements LineCluster.Residual {
        private final double[] record;
        private final double variance;
        private final double pointsPerWidth;
        private final int first;
        private final int last;

        Plain(double[] record, List<Component> lines, double variance, double pointsPerWidth, int first, int last) {
            this.record = record.clone();
            this.variance = variance;
            this.pointsPerWidth = pointsPerWidth;
            this.first = first;
            this.last = last;
            for (Component line : lines) {
                add(this.record, line, -1);
            }
        }

        @Override
        public int samples() {
            return record.length;
        }

        @Override
        public double pointsPerWidth() {
            return pointsPerWidth;
        }

        @Override
        public int firstPoint() {
            return first;
        }

        @Override
        public int lastPoint() {
            return last;
        }

        @Override
        public double re(int point) {
            double sum = 0;
            for (int i = 0; i < record.length; i++) {
                sum += record[i] * Math.cos(2 * Math.PI * point / pointsPerWidth * place(i, record.length));
            }
            return 2 * sum / record.length;
        }

        @Override
        public double im(int point) {
            double sum = 0;
            for (int i = 0; i < record.length; i++) {
                sum -= record[i] * Math.sin(2 * Math.PI * point / pointsPerWidth * place(i, record.length));
            }
            return 2 * sum / record.length;
        }

        @Override
        public double variance(int point) {
            return variance;
        }
    }

    private static double place(int sample, int samples) {
        return (sample - (samples - 1) / 2.0) / samples;
    }

    private static void add(double[] record, Component line, double sign) {
        for (int i = 0; i < record.length; i++) {
            double s = place(i, record.length);
            double phase = 2 * Math.PI * line.place * s + Math.PI * line.sweep * s * s;
            record[i] += sign * (line.cosine * Math.cos(phase) + line.sine * Math.sin(phase));
        }
    }

    private static double[] record(Component... lines) {
        double[] record = new double[SAMPLES];
        for (Component line : lines) {
            add(record, line, 1);
        }
        return record;
    }

    private static Plain left(double[] record, List<Component> lines, double variance) {
        return new Plain(record, lines, variance, 2.5, 10, 500);
    }

    /** Without noise the fit is exact but for rounding; it ends where a step is a thousandth of the uncertainty. */
    @ParameterizedTest
    @CsvSource({"60, 3, 0", "60.3, 0, 2", "40.77, -1, 1.5", "5.2, 2, -1"})
    void aLineIsFoundFromNearby(double place, double cosine, double sine) {
        double[] record = record(new Component(place, cosine, sine));
        Component line = new Component(place + 0.35, 0.8 * cosine + 0.1, 0.7 * sine - 0.1);
        double moved = new LineCluster(List.of(line), left(record, List.of(line), 1e-8)).fit();
        assertThat(moved).isGreaterThan(100).isLessThan(1e6);
        assertThat(line.place).isCloseTo(place, within(1e-7));
        assertThat(line.cosine).isCloseTo(cosine, within(1e-6));
        assertThat(line.sine).isCloseTo(sine, within(1e-6));
        // At its place already it does not move.
        Component there = new Component(place, cosine, sine);
        assertThat(new LineCluster(List.of(there), left(record, List.of(there), 1e-8)).fit())
                .isLessThan(1e-3);
    }

    /**
     * The Cramer-Rao bounds of a line of amplitude A, by the integrals of sinc and its slope over all frequencies: the variance of either
     * part for the parts, 3/(pi^2 A^2) of it for the place. Points up to 24 widths off hold all but 1 % of the former and 2.5 % of the
     * latter.
     */
    @ParameterizedTest
    @ValueSource(doubles = {1, 2.5, 4})
    void covariancesAreTheBounds(double pointsPerWidth) {
        Component line = new Component(60, 3, -4);
        int last = (int) (120 * pointsPerWidth);
        double variance = 1e-3;
        Plain left = new Plain(record(line), List.of(line), variance, pointsPerWidth, 1, last);
        new LineCluster(List.of(line), left).fit();
        assertThat(line.covariance[0][0] / variance).isBetween(1.0, 1.012);
        assertThat(line.covariance[1][1] / variance).isBetween(1.0, 1.012);
        double ofPlace = 3 * variance / (Math.PI * Math.PI * 25);
        assertThat(line.covariance[2][2] / ofPlace).isBetween(1.0, 1.03);
        assertThat(line.covariance[0][1]).isCloseTo(0, within(1e-3 * variance));
        assertThat(line.amplitudeVariance() / variance).isBetween(1.0, 1.012);
        assertThat(line.phaseVariance() * 25 / variance).isBetween(1.0, 1.012);
    }

    /** Two lines 1.5 widths apart are fitted jointly, with uncertainties larger than those of one alone. */
    @Test
    void neighboursAreFittedJointly() {
        double[] record = record(new Component(60, 3, 1), new Component(61.5, -2, 2));
        Component lower = new Component(60.1, 2.8, 1.1);
        Component upper = new Component(61.4, -2.1, 1.8);
        List<Component> lines = List.of(lower, upper);
        assertThat(new LineCluster(lines, left(record, lines, 1e-8)).fit()).isLessThan(1e6);
        assertThat(lower.place).isCloseTo(60, within(1e-6));
        assertThat(lower.cosine).isCloseTo(3, within(1e-5));
        assertThat(lower.sine).isCloseTo(1, within(1e-5));
        assertThat(upper.place).isCloseTo(61.5, within(1e-6));
        assertThat(upper.cosine).isCloseTo(-2, within(1e-5));
        assertThat(upper.sine).isCloseTo(2, within(1e-5));
        assertThat(lower.covariance[0][0]).isBetween(1.05e-8, 1e-7);
        assertThat(lower.covariance[0][2]).isEqualTo(lower.covariance[2][0]);
    }

    /** A line whose frequency rises over the record is found without knowing where to start; to what its image, which is taken for that of a steady line, makes of it. */
    @ParameterizedTest
    @ValueSource(doubles = {4, -3, 9.3})
    void aSweepIsFound(double sweep) {
        Component truth = new Component(70.2, 1, 2);
        truth.sweep = sweep;
        truth.sweeping = true;
        Component line = new Component(71, 0, 0);
        LineCluster cluster = new LineCluster(List.of(line), left(record(truth), List.of(), 1e-8));
        double before = cluster.rest(70.2, 4);
        cluster.startSweep();
        assertThat(line.sweeping).isTrue();
        // Within half of the grid that is tried, and there with its size.
        assertThat(line.sweep).isCloseTo(sweep, within(0.3));
        assertThat(line.place).isCloseTo(70.2, within(0.3));
        assertThat(Math.hypot(line.cosine - 1, line.sine - 2)).isLessThan(0.6);
        assertThat(cluster.fit()).isLessThan(1e9);
        assertThat(line.place).isCloseTo(70.2, within(0.01));
        assertThat(line.sweep).isCloseTo(sweep, within(0.03));
        assertThat(line.cosine).isCloseTo(1, within(0.02));
        assertThat(line.sine).isCloseTo(2, within(0.02));
        assertThat(cluster.rest(70.2, 4)).isLessThan(1e-3 * before);
        assertThat(line.covariance[3][3]).isPositive();
    }

    /** The rest is the mean power of the points within reach, re twice the variance of a part. */
    @Test
    void theRestIsThatOfThePoints() {
        LineCluster.Residual flat = new LineCluster.Residual() {
            @Override
            public int samples() {
                return SAMPLES;
            }

            @Override
            public double pointsPerWidth() {
                return 2;
            }

            @Override
            public int firstPoint() {
                return 90;
            }

            @Override
            public int lastPoint() {
                return 400;
            }

            @Override
            public double re(int point) {
                return point == 120 ? 30 : 3;
            }

            @Override
            public double im(int point) {
                return 4;
            }

            @Override
            public double variance(int point) {
                return 2;
            }
        };
        LineCluster cluster = new LineCluster(List.of(new Component(60, 0, 0)), flat);
        assertThat(cluster.rest(70, 4)).isCloseTo(25 / 4.0, within(1e-12));
        // Nine points within two widths of the one that is higher.
        assertThat(cluster.rest(60, 2)).isCloseTo((8 * 25 + 916) / 4.0 / 9, within(1e-12));
        // Points from 45 on, the lower end of the band, to 84, 24 widths off.
        assertThat(cluster.rest(44, 0.9)).isZero();
        assertThat(cluster.rest(45, 0)).isCloseTo(25 / 4.0, within(1e-12));
        assertThat(cluster.rest(84, 0)).isCloseTo(25 / 4.0, within(1e-12));
        assertThat(cluster.rest(84.5, 0)).isZero();
        LineCluster high = new LineCluster(List.of(new Component(199, 0, 0)), flat);
        assertThat(high.rest(200, 0)).isCloseTo(25 / 4.0, within(1e-12));
        assertThat(high.rest(200.5, 0)).isZero();
        assertThat(high.rest(175, 0)).isCloseTo(25 / 4.0, within(1e-12));
        assertThat(high.rest(174.5, 0)).isZero();
    }

    /** Fewer points than parameters, two lines in one place and a line of no size tell nothing. */
    @Test
    void whatCannotBeToldApartIsTold() {
        double[] record = record(new Component(60, 3, 1));
        Component line = new Component(60, 3, 1);
        Plain two = new Plain(record, List.of(line), 1e-8, 2.5, 150, 151);
        assertThat(new LineCluster(List.of(line), two).fit()).isInfinite();
        Plain none = new Plain(record, List.of(line), 1e-8, 2.5, 300, 310);
        assertThat(new LineCluster(List.of(line), none).rest(60, 5)).isZero();
        assertThat(new LineCluster(List.of(line), none).fit()).isInfinite();
        List<Component> twins = List.of(new Component(60, 2, 1), new Component(60, 1, 0));
        assertThat(new LineCluster(twins, left(record, twins, 1e-8)).fit()).isInfinite();
        List<Component> nothing = List.of(new Component(60, 0, 0));
        assertThat(new LineCluster(nothing, left(record, List.of(), 1e-8)).fit())
                .isInfinite();
    }

    /** Amplitude, phase and their variances by the propagation of uncertainty (JCGM 100:2008, 5.2). */
    @Test
    void aComponentHasAmplitudeAndPhase() {
        Component line = new Component(7, 3, -4);
        line.covariance[0][0] = 0.04;
        line.covariance[1][1] = 0.09;
        line.covariance[0][1] = 0.01;
        line.covariance[1][0] = 0.01;
        assertThat(line.amplitude()).isCloseTo(5, within(1e-12));
        assertThat(line.power()).isCloseTo(12.5, within(1e-12));
        // 3 cos x - 4 sin x = 5 cos(x + phase).
        assertThat(line.phase()).isCloseTo(Math.atan2(4, 3), within(1e-12));
        assertThat(line.amplitudeVariance())
                .isCloseTo(0.6 * 0.6 * 0.04 + 2 * 0.6 * -0.8 * 0.01 + 0.8 * 0.8 * 0.09, within(1e-12));
        assertThat(line.phaseVariance()).isCloseTo((16 * 0.04 + 2 * 4 * 3 * 0.01 + 9 * 0.09) / 625, within(1e-12));
        for (int i = 0; i < 4; i++) {
            double before = line.parameter(i);
            line.move(i, 0.25);
            assertThat(line.parameter(i)).isCloseTo(before + 0.25, within(1e-12));
        }
        assertThat(line.parameters()).isEqualTo(3);
        line.sweeping = true;
        assertThat(line.parameters()).isEqualTo(4);
        assertThat(line.place).isEqualTo(7.25);
        assertThat(line.sweep).isEqualTo(0.25);
    }

    private static Line line(double hz, double uncertaintyHz) {
        return new Line(hz, 0.001, 0, uncertaintyHz, 1e-5, 0.01, 0, 0, 1e-9, 200, 40, 1e-9);
    }

    private static List<List<Integer>> orders(Line... lines) {
        List<List<Integer>> orders = new ArrayList<>();
        for (HarmonicFamily family : HarmonicFamily.among(List.of(lines))) {
            orders.add(
                    family.members().stream().map(HarmonicFamily.Member::order).toList());
        }
        return orders;
    }

    /** Each multiple tells the fundamental to its uncertainty over its order: the weighted mean of them (JCGM 100:2008, 5.1). */
    @Test
    void aFamilyHasTheMeanOfItsMembers() {
        Line[] lines = {line(10.001, 0.002), line(20.004, 0.003), line(50.01, 0.004)};
        HarmonicFamily family = HarmonicFamily.among(List.of(lines)).get(0);
        double sum = 0;
        double weights = 0;
        for (int i = 0; i < 3; i++) {
            int order = new int[] {1, 2, 5}[i];
            double weight = Math.pow(order / lines[i].frequencyUncertaintyHz(), 2);
            sum += weight * lines[i].frequencyHz() / order;
            weights += weight;
        }
        assertThat(family.fundamentalHz()).isCloseTo(sum / weights, within(1e-12));
        assertThat(family.fundamentalUncertaintyHz()).isCloseTo(1 / Math.sqrt(weights), within(1e-12));
        assertThat(orders(lines)).containsExactly(List.of(1, 2, 5));
    }

    /** Within three standard uncertainties, up to the twelfth, each order once, and only where a multiple is known well enough. */
    @Test
    void membersAreMultiples() {
        double u = 0.002;
        // The fundamental's 0.002 counts twice at its double: root (1 + 4) of it.
        assertThat(orders(line(10, u), line(20 + 2.9 * u * Math.sqrt(5), u))).containsExactly(List.of(1, 2));
        assertThat(orders(line(10, u), line(20 - 2.9 * u * Math.sqrt(5), u))).containsExactly(List.of(1, 2));
        assertThat(orders(line(10, u), line(20 + 3.1 * u * Math.sqrt(5), u))).isEmpty();
        assertThat(orders(line(10, u), line(120, u))).containsExactly(List.of(1, 12));
        assertThat(orders(line(10, u), line(130, u))).isEmpty();
        assertThat(orders(line(10, u), line(10.001, u))).isEmpty();
        // Three uncertainties of its place are to be a twentieth of the fundamental at most.
        assertThat(orders(line(10, 1e-6), line(20, 0.166))).containsExactly(List.of(1, 2));
        assertThat(orders(line(10, 1e-6), line(20, 0.168))).isEmpty();
        assertThat(orders()).isEmpty();
        assertThat(orders(line(10, u))).isEmpty();
    }

    /** The largest family takes its lines first; families stand by rising fundamental. */
    @Test
    void familiesShareNoLines() {
        double u = 1e-4;
        assertThat(orders(line(33, u), line(66, u), line(99, u), line(7, u), line(14, u)))
                .containsExactly(List.of(1, 2), List.of(1, 2, 3));
        // 20 and 40 and 60 Hz are the second, fourth and sixth of 10 Hz.
        assertThat(orders(line(10, u), line(20, u), line(40, u), line(60, u))).containsExactly(List.of(1, 2, 4, 6));
    }

    @Test
    void aLineHasItsPercentAndItsFactor() {
        assertThat(line(10, 1).amplitudePercent()).isCloseTo(0.1, within(1e-12));
        // Student's factor for 200 degrees of freedom and 95 %, by printed tables (from memory): 1.972.
        assertThat(line(10, 1).coverageFactor(0.95)).isCloseTo(1.972, within(5e-4));
    }
}
