/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.noise.NoiseMeter;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.NoiseMeterUnderTest;
import org.tapemetrology.signals.conformance.RecordingFormat;

/** The noise meter of this library, to be tested. */
public final class LibraryNoiseMeter implements NoiseMeterUnderTest {
    private final List<NoiseMeter> meters = new ArrayList<>();

    /** A meter at rest. */
    public LibraryNoiseMeter() {}

    @Override
    public void start(RecordingFormat format) {
        meters.clear();
        for (int i = 0; i < format.channels(); i++) {
            meters.add(NoiseMeter.builder()
                    .sampleRateHz(format.sampleRateHz())
                    .thirdOctavesAndHum(false)
                    .build());
        }
    }

    @Override
    public void accept(double[][] block, int length) {
        for (int i = 0; i < meters.size(); i++) {
            meters.get(i).accept(block[i], 0, length);
        }
    }

    @Override
    public Optional<Figure> read(Asked asked, int channel) {
        Quantity quantity = switch (asked) {
            case A_WEIGHTED -> Quantity.NOISE_A_WEIGHTED;
            case QUASI_PEAK -> Quantity.NOISE_QUASI_PEAK;
            case QUASI_PEAK_MAXIMUM -> Quantity.NOISE_QUASI_PEAK_MAXIMUM;
        };
        return LibraryTone.figure(meters.get(channel).readings().stream()
                .filter(reading -> reading.quantity() == quantity)
                .findFirst());
    }
}
