/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/** What is read of the highest and of the lowest of several tones on a channel. */
public final class ToneReadings {
    private ToneReadings() {}

    private record Tone(double hertz, Measurement of) {}

    private static Optional<Tone> tone(Measurement of, int channel) {
        return of.find(Quantity.TONE_FREQUENCY, channel)
                .filter(Reading::isValid)
                .map(reading -> new Tone(reading.value().orElseThrow(), of));
    }

    /** Level of the highest tone: that of the shortest wavelength. */
    static Optional<Reading> levelOfHighest(List<Measurement> of, int channel) {
        return of.stream()
                .flatMap(one -> tone(one, channel).stream())
                .max(Comparator.comparingDouble(Tone::hertz))
                .flatMap(tone -> tone.of().find(Quantity.LEVEL, channel))
                .filter(Reading::isValid);
    }

    /** Third harmonic of the lowest tone, where there are two of different frequency. */
    static Optional<Reading> thirdHarmonicOfLowest(List<Measurement> of, int channel) {
        List<Tone> tones = of.stream()
                .flatMap(one -> tone(one, channel).stream())
                .sorted(Comparator.comparingDouble(Tone::hertz))
                .toList();
        boolean differ = tones.size() > 1
                && tones.get(tones.size() - 1).hertz() > 2 * tones.get(0).hertz();
        return differ
                ? tones.get(0)
                        .of()
                        .find(Quantity.DISTORTION_THIRD_HARMONIC, channel)
                        .filter(Reading::isValid)
                : Optional.empty();
    }
}
