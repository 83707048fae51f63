/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.diagnosis;

import static org.assertj.core.api.Assertions.assertThat;
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

/** Deviations of a few sines in closed form, at 1000 values a second. */
class ShortDiagnosisTest {
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

    /** A capstan with a second harmonic, a roller, and a line of which no part turns at the rate; 10 s tell a rate to 1e-5 Hz. */
    @Test
    void everyComponentHasItsPlaceItsPartAndItsGain() {
        DoubleUnaryOperator capstan = t -> sine(6, 1e-3, t) + sine(12, 4e-4, t);
        DoubleUnaryOperator roller = t -> sine(1.63, 8e-4, t);
        DoubleUnaryOperator stranger = t -> sine(10.4, 3e-4, t);
        Transport transport = Transport.builder(47.6)
                .roller("roller", 47.6 / (Math.PI * 1.63))
                .capstan("capstan", 47.6 / (Math.PI * 6))
                .build();
        Diagnosis diagnosis = of(
                10,
                1e-6,
                Optional.of(transport),
                t -> capstan.applyAsDouble(t) + roller.applyAsDouble(t) + stranger.applyAsDouble(t));
        assertThat(diagnosis.seconds()).isEqualTo(10);
        assertThat(diagnosis.components()).hasSize(4);
        double[][] wanted = {{6, 1e-3, 1}, {12, 4e-4, 2}, {1.63, 8e-4, 1}, {10.4, 3e-4, 1}};
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
        assertThat(at(diagnosis, 1.63).parts().get(0).part()).isEqualTo("roller");
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
     * A shaft that is known to 3 % and makes the stronger line at 6 Hz has no line at 6.35 Hz besides. Where the stronger line
     * may be its second harmonic alone, its rate is not taken as found, and both are.
     */
    @Test
    void aPartThatIsFoundHasNoOtherRate() {
        for (double harmonic : new double[] {1, 2}) {
            Transport transport = Transport.builder(47.6)
                    .shaft("shaft", 6 / harmonic)
                    .withUncertainty(0.03)
                    .build();
            Diagnosis diagnosis = of(10, 1e-6, Optional.of(transport), t -> sine(6, 1e-3, t) + sine(6.35, 3e-4, t));
            assertThat(at(diagnosis, 6).parts().get(0).part()).isEqualTo("shaft");
            Component second = at(diagnosis, 6.35);
            if (harmonic == 1) {
                assertThat(second.attribution().unexplained()).isGreaterThan(0.95);
                assertThat(diagnosis.repairs().get(0).frequenciesHz()).hasSize(1);
            } else {
                assertThat(second.attribution().unexplained()).isLessThan(0.95);
            }
        }
    }
}
