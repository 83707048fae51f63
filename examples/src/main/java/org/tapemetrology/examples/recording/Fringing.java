/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.recording;

import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.examples.files.Setup;

/**
 * Fringing: a head whose track is narrower than what is recorded picks up long wavelengths from beside it, so a tape that is
 * recorded over its full width reads high in the bass. Below 500 Hz its response is told, and not judged (common practice,
 * no source).
 */
public final class Fringing {
    /** From here on it is left out of account, in Hz. */
    static final double BELOW_HZ = 500;

    private Fringing() {}

    private static boolean reaches(Reading reading) {
        return reading.quantity() == Quantity.RESPONSE
                && reading.atFrequencyHz().orElse(BELOW_HZ) < BELOW_HZ;
    }

    /** The warning that goes with a measurement by a tape. */
    static Optional<Warning> warning(Measurement measured, Setup setup) {
        return setup.fullWidthTape() && measured.readings().stream().anyMatch(Fringing::reaches)
                ? Optional.of(
                        Warning.of(
                                WarningCode.FRINGING,
                                "the tape is recorded over its full width: below 500 Hz its response reads high by fringing and is not judged; leave the bass for a recording of the machine's own"))
                : Optional.empty();
    }

    /** The decisions that stand. */
    static List<Decision> judged(List<Decision> decisions, Setup setup) {
        return setup.fullWidthTape()
                ? decisions.stream()
                        .filter(decision -> !reaches(decision.reading()))
                        .toList()
                : decisions;
    }
}
