/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.diagnosis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.flutter.FlutterWithout;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.transport.Attribution;
import org.tapemetrology.core.transport.Transport;

/** Diagnoses of deviations in closed form, at 1000 values a second, without a recording. */
class DiagnosedSeriesTest {
    private static final int RATE = 1000;

    private static Diagnosis of(
            double seconds, double noise, Optional<Transport> transport, DoubleUnaryOperator deviation) {
        Random random = new Random(5);
        float[] values = new float[(int) (seconds * RATE)];
        for (int i = 0; i < values.length; i++) {
            values[i] = (float) (deviation.applyAsDouble(i / (double) RATE) + noise * random.nextGaussian());
        }
        return Diagnosis.of(DeviationSeries.of(0, RATE, 3150, values), transport, 1);
    }

    private static double sine(double hz, double amplitude, double t) {
        return amplitude * Math.sin(2 * Math.PI * hz * t + hz);
    }

    private static Component at(Diagnosis diagnosis, double hz) {
        return diagnosis.components().stream()
                .filter(each -> Math.abs(each.line().frequencyHz() - hz) < 0.02)
                .findFirst()
                .orElseThrow();
    }

    private static double quasiPeak(Measurement measurement) {
        return measurement
                .find(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK)
                .orElseThrow()
                .value()
                .orElseThrow();
    }

    /** A capstan with a second harmonic, a slower roller that swings wider and weighs less, and a line of which no part turns at the rate; 10 s tell a rate to 1e-5 Hz. */
    @Test
    void everyComponentHasItsPlaceItsPartAndItsGain() {
        DoubleUnaryOperator capstan = t -> sine(6, 1e-3, t) + sine(12, 4e-4, t);
        DoubleUnaryOperator roller = t -> sine(0.83, 1.4e-3, t);
        DoubleUnaryOperator stranger = t -> sine(10.4, 3e-4, t);
        Transport transport = Transport.builder(47.6)
                .roller("roller", 47.6 / (Math.PI * 0.83))
                .capstan("capstan", 47.6 / (Math.PI * 6))
                .build();
        Diagnosis diagnosis = of(
                10,
                1e-6,
                Optional.of(transport),
                t -> capstan.applyAsDouble(t) + roller.applyAsDouble(t) + stranger.applyAsDouble(t));
        assertThat(diagnosis.seconds()).isEqualTo(10);
        assertThat(diagnosis.components()).hasSize(4);
        double[][] wanted = {{6, 1e-3, 1}, {12, 4e-4, 2}, {0.83, 1.4e-3, 1}, {10.4, 3e-4, 1}};
        for (double[] each : wanted) {
            Component found = at(diagnosis, each[0]);
            assertThat(found.line().amplitude()).isCloseTo(each[1], within(2e-3 * each[1]));
            assertThat(found.order()).isEqualTo((int) each[2]);
        }
        Attribution.PartProbability first = at(diagnosis, 6).parts().get(0);
        assertThat(first.part()).isEqualTo("capstan");
        assertThat(first.harmonic()).isEqualTo(1);
        assertThat(first.probability()).isGreaterThan(0.9);
        assertThat(at(diagnosis, 12).parts().get(0).harmonic()).isEqualTo(2);
        assertThat(at(diagnosis, 0.83).parts().get(0).part()).isEqualTo("roller");
        assertThat(at(diagnosis, 10.4).attribution().unexplained()).isGreaterThan(0.9);

        // What is left without a component or a part is what would be read of the rest. Lines are known to 1e-3 of
        // themselves.
        double all = quasiPeak(diagnosis.reading());
        assertThat(all)
                .isCloseTo(
                        read(t -> capstan.applyAsDouble(t) + roller.applyAsDouble(t) + stranger.applyAsDouble(t)),
                        within(1e-3 * all));
        double noFirst = read(t -> sine(12, 4e-4, t) + roller.applyAsDouble(t) + stranger.applyAsDouble(t));
        assertThat(at(diagnosis, 6).weightedQuasiPeakWithout().orElseThrow()).isCloseTo(noFirst, within(2e-3 * all));
        double noCapstan = read(t -> roller.applyAsDouble(t) + stranger.applyAsDouble(t));
        double noRoller = read(t -> capstan.applyAsDouble(t) + stranger.applyAsDouble(t));
        assertThat(diagnosis.repairs()).extracting(Repair::part).containsExactly("capstan", "roller");
        assertThat(quasiPeak(diagnosis.repairs().get(0).without())).isCloseTo(noCapstan, within(2e-3 * all));
        assertThat(quasiPeak(diagnosis.repairs().get(1).without())).isCloseTo(noRoller, within(2e-3 * all));
        assertThat(diagnosis.repairs().get(0).frequenciesHz()).hasSize(2).isSorted();
        List<Double> left = diagnosis.components().stream()
                .map(each -> each.weightedQuasiPeakWithout().orElseThrow())
                .toList();
        assertThat(left).isSorted();
        assertThat(diagnosis.components().get(0)).isEqualTo(at(diagnosis, 6));
    }

    private static double read(DoubleUnaryOperator deviation) {
        float[] values = new float[10 * RATE];
        for (int i = 0; i < values.length; i++) {
            values[i] = (float) deviation.applyAsDouble(i / (double) RATE);
        }
        return quasiPeak(new FlutterWithout(DeviationSeries.of(0, RATE, 3150, values))
                .without(List.of(t -> 0))
                .get(0));
    }

    /**
     * A shaft that is known to 3 % and makes the stronger line at 6 Hz has no line at 5.65 Hz besides. Where the stronger line
     * may be its second harmonic alone, its rate is not taken as found, and both are.
     */
    @Test
    void aPartThatIsFoundHasNoOtherRate() {
        for (double harmonic : new double[] {1, 2}) {
            Transport transport = Transport.builder(47.6)
                    .shaft("shaft", 6 / harmonic)
                    .withUncertainty(0.03)
                    .build();
            Diagnosis diagnosis = of(10, 1e-6, Optional.of(transport), t -> sine(6, 1e-3, t) + sine(5.65, 3e-4, t));
            assertThat(at(diagnosis, 6).parts().get(0).part()).isEqualTo("shaft");
            assertThat(at(diagnosis, 6).parts().get(0).harmonic()).isEqualTo((int) harmonic);
            Component second = at(diagnosis, 5.65);
            if (harmonic == 1) {
                assertThat(second.attribution().unexplained()).isGreaterThan(0.95);
                assertThat(diagnosis.repairs().get(0).frequenciesHz()).hasSize(1);
            } else {
                assertThat(second.attribution().unexplained()).isLessThan(0.95);
            }
        }
    }

    /**
     * A full roller and a pack of the same rate: r^2 grows by v t/pi a second for a tape of thickness t (kinematics), and
     * the line that slows accordingly is the pack's, the steady one the roller's.
     */
    @Test
    void aPackIsKnownByItsRateThatMoves() {
        double speed = 47.6;
        double radius = 16;
        double thickness = 0.018;
        Transport transport = Transport.builder(speed)
                .pack("take-up pack", 11, 25.2)
                .roller("big roller", 2 * radius)
                .build();
        int rate = 1000;
        Random random = new Random(7);
        for (boolean moving : new boolean[] {true, false}) {
            float[] values = new float[90 * rate];
            double turns = 0;
            for (int i = 0; i < values.length; i++) {
                double grown = moving ? speed * i / rate * thickness / Math.PI : 0;
                turns += speed / (2 * Math.PI * Math.sqrt(radius * radius + grown)) / rate;
                values[i] = (float) (1e-3 * Math.sin(2 * Math.PI * turns) + 3e-4 * random.nextGaussian());
            }
            Diagnosis diagnosis = Diagnosis.of(DeviationSeries.of(0, rate, 3150, values), Optional.of(transport), 1);
            assertThat(diagnosis.components()).hasSize(1);
            assertThat(diagnosis.components().get(0).parts().get(0).part())
                    .as(moving ? "moving" : "steady")
                    .isEqualTo(moving ? "take-up pack" : "big roller");
            // The line goes with its drift: what is left is the noise.
            assertThat(diagnosis
                            .repairs()
                            .get(0)
                            .without()
                            .find(Quantity.WOW_RMS)
                            .orElseThrow()
                            .value()
                            .orElseThrow())
                    .isLessThan(0.01);
        }
    }

    @Test
    void aShortToneIsRefused() {
        assertThatThrownBy(() -> Diagnosis.of(DeviationSeries.of(0, 1000, 3150, new float[9000]), Optional.empty(), 1))
                .hasMessageContaining("9.0 s");
    }

    @Test
    void aSteadyToneHasNoComponent() {
        float[] values = new float[30_000];
        assertThat(Diagnosis.of(
                                DeviationSeries.of(0, 1000, 3150, values),
                                Optional.of(Transport.builder(47.6)
                                        .capstan("capstan", 2.0)
                                        .build()),
                                1)
                        .components())
                .isEqualTo(List.of());
    }

    /**
     * Components and parts stand by what is gained without them: of one at 4 Hz, where the weighting is 1, and one of twice the
     * amplitude at 0.57 Hz, where it is some 13 dB less (IEC 60386 figure, from memory), the weaker comes first.
     */
    @Test
    void whatIsGainedByItComesFirst() {
        int rate = 1000;
        Transport transport = Transport.builder(47.6)
                .roller("slow", 47.6 / (Math.PI * 0.57))
                .roller("fast", 47.6 / (Math.PI * 4))
                .build();
        Random random = new Random(3);
        float[] values = new float[60 * rate];
        for (int i = 0; i < values.length; i++) {
            double t = (double) i / rate;
            values[i] = (float) (2e-3 * Math.sin(2 * Math.PI * 0.57 * t)
                    + 1e-3 * Math.sin(2 * Math.PI * 4 * t)
                    + 1e-4 * random.nextGaussian());
        }
        Diagnosis diagnosis = Diagnosis.of(DeviationSeries.of(0, rate, 3150, values), Optional.of(transport), 1);
        assertThat(diagnosis.seconds()).isEqualTo(60);
        assertThat(diagnosis.components()).hasSize(2);
        assertThat(diagnosis.components().get(0).line().frequencyHz()).isCloseTo(4, within(1e-3));
        assertThat(diagnosis.components().get(0).line().amplitude()).isCloseTo(1e-3, within(1e-5));
        assertThat(diagnosis.components().get(1).line().frequencyHz()).isCloseTo(0.57, within(1e-3));
        assertThat(diagnosis.repairs()).extracting(Repair::part).containsExactly("fast", "slow");
        double all = quasiPeak(diagnosis.reading());
        double withoutFast = quasiPeak(diagnosis.repairs().get(0).without());
        double withoutSlow = quasiPeak(diagnosis.repairs().get(1).without());
        assertThat(withoutFast).isLessThan(0.6 * all);
        assertThat(withoutSlow).isGreaterThan(withoutFast);
        // Each component is alone in its part, so it gains the same.
        assertThat(diagnosis.components().get(0).weightedQuasiPeakWithout().orElseThrow())
                .isCloseTo(withoutFast, within(1e-9));
        assertThat(diagnosis.components().get(1).weightedQuasiPeakWithout().orElseThrow())
                .isCloseTo(withoutSlow, within(1e-9));
    }

    /** Of a long recording the middle three minutes are looked at; its ends, which scatter widely, are not. */
    @Test
    void ofALongRecordingTheMiddleIsLookedAt() {
        int rate = 1000;
        Random random = new Random(2);
        float[] values = new float[220 * rate];
        for (int i = 0; i < values.length; i++) {
            boolean end = i < 20 * rate || i >= 200 * rate;
            values[i] = (float) ((end ? 1e-2 : 1e-5) * random.nextGaussian());
        }
        Diagnosis diagnosis = Diagnosis.of(DeviationSeries.of(0, rate, 3150, values), Optional.empty(), 1);
        assertThat(diagnosis.seconds()).isEqualTo(Diagnosis.MOST_SECONDS);
        // 1e-5 is 0.001 %, of which the weighting leaves a small part; the ends would read some tenths of a per cent.
        assertThat(quasiPeak(diagnosis.reading())).isLessThan(0.005);
    }
}
