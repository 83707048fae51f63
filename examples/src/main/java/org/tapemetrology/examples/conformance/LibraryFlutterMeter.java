/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.Optional;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.FlutterMeterUnderTest;
import org.tapemetrology.signals.conformance.RecordingFormat;

/** The flutter meter of this library, to be tested. */
public final class LibraryFlutterMeter implements FlutterMeterUnderTest {
    private final LibraryTone tone = new LibraryTone();

    /** A meter at rest. */
    public LibraryFlutterMeter() {}

    @Override
    public void start(RecordingFormat format) {
        tone.start(format);
    }

    @Override
    public void accept(double[][] block, int length) {
        tone.accept(block, length);
    }

    @Override
    public Optional<Figure> read(Asked asked, int channel) {
        return switch (asked) {
            case QUASI_PEAK_NOW -> tone.running(channel);
            case QUASI_PEAK -> tone.read(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK, channel);
            case TWO_SIGMA -> tone.read(Quantity.FLUTTER_WEIGHTED_TWO_SIGMA, channel);
            case WEIGHTED_RMS -> tone.read(Quantity.FLUTTER_WEIGHTED_RMS, channel);
            case WEIGHTED_AVERAGE -> tone.read(Quantity.FLUTTER_WEIGHTED_AVERAGE, channel);
            case UNWEIGHTED_AVERAGE -> tone.read(Quantity.FLUTTER_UNWEIGHTED_AVERAGE, channel);
        };
    }
}
