/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.diagnosis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
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
}
