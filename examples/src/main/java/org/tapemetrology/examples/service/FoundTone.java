/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.Content;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.recording.MeterSettings;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.recording.Recording;
import org.tapemetrology.examples.service.ServiceFile.Recorded;

/** What is to be said of a recording that should hold the tone of a test tape and does not. */
public final class FoundTone {
    private FoundTone() {}

    /** What is wrong with the tone of a recording; empty where there is one. */
    static Optional<String> wrong(Recorded recorded, Recording.Result result) {
        if (!tones(result).isEmpty()) {
            return Optional.empty();
        }
        OptionalDouble expected = recorded.setup().toneHz();
        if (expected.isEmpty()) {
            return Optional.of("no test tone was found: is this another tape, or no signal?");
        }
        Optional<Double> other = anyTone(recorded);
        return Optional.of(
                other.isPresent()
                        ? String.format(
                                Locale.ROOT,
                                "its tone of %.1f Hz is not %s, %.1f Hz: a wrong tape, or a wrong section of it",
                                other.get(),
                                expected(recorded.setup().testTape()),
                                expected.getAsDouble())
                        : String.format(
                                Locale.ROOT,
                                "no test tone near the %.0f Hz of the tape was found, nor any other: is there no signal?",
                                expected.getAsDouble()));
    }

    /** A tone far from the one expected is not even looked for: this looks once more, for any. */
    private static Optional<Double> anyTone(Recorded recorded) {
        MeterSettings any = new MeterSettings(Content.AUTOMATIC, OptionalDouble.empty(), Setup.NONE, List.of(), false);
        try {
            return tones(new Recording(recorded.wav().toString(), 0, Double.POSITIVE_INFINITY)
                            .measure(any, Progress.silent()))
                    .stream()
                    .findFirst();
        } catch (IOException | IllegalArgumentException unreadable) {
            return Optional.empty(); // it could be read a moment ago; what it held then is told
        }
    }

    private static String expected(TestTape tape) {
        boolean named = !tape.equals(TestTape.assumed()) && !tape.equals(TestTape.none());
        return named ? "that of " + tape.name() : "the expected one";
    }

    private static List<Double> tones(Recording.Result result) {
        return result.measurement().readings().stream()
                .filter(reading -> reading.quantity() == Quantity.TONE_FREQUENCY && reading.isValid())
                .map(reading -> reading.value().orElseThrow())
                .toList();
    }
}
