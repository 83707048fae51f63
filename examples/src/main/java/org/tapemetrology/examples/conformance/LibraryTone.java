/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.RecordingFormat;

/** One tone meter of this library for each channel. */
final class LibraryTone {
    private final List<ToneMeter> meters = new ArrayList<>();

    void start(RecordingFormat format) {
        meters.clear();
        for (int i = 0; i < format.channels(); i++) {
            ToneMeter.Builder builder = ToneMeter.builder(format.sampleRateHz());
            format.nominalHz().ifPresent(builder::nominalHz);
            meters.add(builder.build());
        }
    }

    void accept(double[][] block, int length) {
        for (int i = 0; i < meters.size(); i++) {
            meters.get(i).accept(block[i], 0, length);
        }
    }

    /** A valid reading as a figure. */
    Optional<Figure> read(Quantity quantity, int channel) {
        return figure(meters.get(channel).reading().find(quantity));
    }

    /** The running indication. */
    Optional<Figure> running(int channel) {
        return meters.get(channel).runningQuasiPeakPercent().stream()
                .mapToObj(value -> new Figure(value, "%"))
                .findFirst();
    }

    /** A valid reading as a figure; nothing for one that is not valid. */
    static Optional<Figure> figure(Optional<Reading> reading) {
        return reading.filter(Reading::isValid)
                .map(valid ->
                        new Figure(valid.value().orElseThrow(), valid.unit().symbol()));
    }
}
