/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.List;
import java.util.OptionalInt;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/** Finds figures in the measurements of takes; what is not there is a reading without a value. */
final class Readers {
    private static final String MISSING = "not found in the recording";

    private Readers() {}

    static TrimmerRounds.Reader between(int take, Quantity quantity) {
        return takes -> takes.get(take).find(quantity).orElse(missing(quantity));
    }

    static TrimmerRounds.Reader onChannel(int take, Quantity quantity, int channel) {
        return takes -> takes.get(take).find(quantity, channel).orElse(missing(quantity));
    }

    /** A figure at a frequency, in whichever take. */
    static Reading at(List<Measurement> takes, Quantity quantity, int channel, double frequencyHz) {
        return takes.stream()
                .flatMap(take -> take.readings().stream())
                .filter(r -> r.quantity() == quantity
                        && r.channel().equals(OptionalInt.of(channel))
                        && r.atFrequencyHz().orElse(0) == frequencyHz)
                .findFirst()
                .orElse(missing(quantity));
    }

    /**
     * The delay of the second take, of short wavelength, to which the first, of long wavelength, tells the whole cycles. A head
     * far askew may lose the short wave altogether: then the long one alone leads to where it is heard.
     */
    static Reading delay(List<Measurement> takes, double periodMicroseconds) {
        Reading coarse = between(0, Quantity.AZIMUTH_DELAY).of(takes);
        Reading fine = between(1, Quantity.AZIMUTH_DELAY).of(takes);
        if (!coarse.isValid() || !fine.isValid()) {
            return coarse;
        }
        double delay = fine.value().orElseThrow();
        double cycles = Math.rint((coarse.value().orElseThrow() - delay) / periodMicroseconds);
        return fine.withValue(delay + cycles * periodMicroseconds);
    }

    private static Reading missing(Quantity quantity) {
        return Reading.without(quantity, Status.INSUFFICIENT_DATA, MISSING);
    }
}
