/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.Optional;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.RecordingFormat;
import org.tapemetrology.signals.conformance.SpeedMeterUnderTest;

/** The speed meter of this library, to be tested. */
public final class LibrarySpeedMeter implements SpeedMeterUnderTest {
    private final LibraryTone tone = new LibraryTone();

    /** A meter at rest. */
    public LibrarySpeedMeter() {}

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
            case SPEED_ERROR -> tone.read(Quantity.SPEED_ERROR, channel);
        };
    }
}
