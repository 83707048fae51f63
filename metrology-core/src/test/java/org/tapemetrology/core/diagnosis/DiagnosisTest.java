/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.diagnosis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.transport.Transport;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.RandomDeviation;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.WhiteNoise;

/** From a recording to the part at fault, with signals in closed form. */
class DiagnosisTest {
    private static final int RATE = 8000;
    private static final double SECONDS = 60;
    private static final double CAPSTAN_HZ = 1.01 * 47.6 / (Math.PI * 2.0);
    private static final double ROLLER_HZ = 1.01 * 47.6 / (Math.PI * 11.5);

    private static final Transport CASSETTE = Transport.builder(47.6)
            .capstan("capstan", 2.0)
            .roller("pinch roller", 11.5)
            .shaft("motor", 33.3)
            .belt("main belt", 210, 630)
            .pack("take-up pack", 11, 25.2)
            .build();

    private record Machine(boolean capstanFaulty) {
        RecordingMeter measured() {
            FmTone.Builder tone = FmTone.builder(3150).speedError(0.01).amplitude(0.3);
            tone.sine(ROLLER_HZ, 4e-4, 1).sine(2.5 * CAPSTAN_HZ, 2e-4, 2);
            if (capstanFaulty) {
                tone.sine(CAPSTAN_HZ, 12e-4, 0.5).sine(2 * CAPSTAN_HZ, 3e-4, 1.5);
            }
            tone.deviation(RandomDeviation.falling(5, 0.2, 100, 2e-4, 6000));
            Signal replay = tone.build().plus(new WhiteNoise(3, 3e-4, RATE));
            RecordingMeter meter = RecordingMeter.builder(RATE, 1)
                    .nominalHz(3150)
                    .keepDeviation()
                    .build();
            float[] block = new float[RATE];
            SampledSignal samples = SampledSignal.of(replay, RATE);
            for (int second = 0; second < SECONDS; second++) {
                samples.fill((long) second * RATE, block, 0, RATE);
                meter.accept(block, 0, RATE);
            }
            return meter;
        }
    }

    private static Diagnosis diagnosis(RecordingMeter meter, Optional<Transport> transport) {
        DeviationSeries series = meter.deviation(1).orElseThrow();
        return Diagnosis.of(series, transport, 1.01);
    }

    @Test
    void theFaultyPartComesFirstAndItsRepairReadsAsTheRepairedMachine() {
        Diagnosis diagnosis = diagnosis(new Machine(true).measured(), Optional.of(CASSETTE));

        Repair first = diagnosis.repairs().get(0);
        assertThat(first.part()).isEqualTo("capstan");
        assertThat(first.frequenciesHz()).hasSize(2);
        Component strongest = diagnosis.components().get(0);
        assertThat(strongest.line().frequencyHz()).isCloseTo(CAPSTAN_HZ, within(1e-3));
        // The amplitude 50 dB above the noise of 1/T is known to 0.3 %.
        assertThat(strongest.line().amplitude()).isCloseTo(12e-4, within(12e-6));
        assertThat(strongest.parts().get(0).part()).isEqualTo("capstan");
        assertThat(strongest.weightedQuasiPeakWithout().orElseThrow())
                .as("the second harmonic is still there")
                .isGreaterThan(first.without()
                        .find(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK)
                        .orElseThrow()
                        .value()
                        .orElseThrow());

        // 3 % of the reading, as asked: the same random flutter without the capstan's part.
        Measurement repaired = new Machine(false).measured().reading();
        int compared = 0;
        for (Reading reading : first.without().readings()) {
            double truth =
                    repaired.find(reading.quantity()).orElseThrow().value().orElseThrow();
            assertThat(reading.value().orElseThrow())
                    .as(reading.quantity().id())
                    .isCloseTo(truth, within(0.03 * truth));
            compared++;
        }
        assertThat(compared).isEqualTo(12);
    }

    @Test
    void whatNoPartExplainsIsSaidAndWithoutATransportNothingIsNamed() {
        RecordingMeter meter = new Machine(false).measured();
        Diagnosis known = diagnosis(meter, Optional.of(CASSETTE));
        Component stranger = known.components().stream()
                .filter(each -> Math.abs(each.line().frequencyHz() - 2.5 * CAPSTAN_HZ) < 0.01)
                .findFirst()
                .orElseThrow();
        assertThat(stranger.attribution().unexplained()).isGreaterThan(0.9);
        Diagnosis unknown = diagnosis(meter, Optional.empty());
        assertThat(unknown.repairs()).isEmpty();
        assertThat(unknown.components())
                .hasSameSizeAs(known.components())
                .allMatch(each -> each.parts().isEmpty());
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
        assertThat(Diagnosis.of(DeviationSeries.of(0, 1000, 3150, values), Optional.of(CASSETTE), 1)
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

    private static double quasiPeak(Measurement measurement) {
        return measurement
                .find(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK)
                .orElseThrow()
                .value()
                .orElseThrow();
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
