/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.hobby;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Warning;

/**
 * A WAV file in: every reading with its uncertainty, and what is to be said beside them.
 *
 * <p>{@code java -cp metrology-core.jar WavIn.java tone.wav}
 */
public final class WavIn {
    private WavIn() {}

    /**
     * Measures a file.
     *
     * @param arguments the file
     * @throws IOException where it can't be read
     */
    public static void main(String[] arguments) throws IOException {
        Measurement measurement = RecordingMeter.measure(Path.of(arguments[0]));
        for (Reading reading : measurement.readings()) {
            if (reading.isValid()) {
                System.out.printf(
                        Locale.ROOT,
                        "%s %-36s %10.4f +-%.4f %s%n",
                        reading.channel().isPresent() ? reading.channel().getAsInt() : "-", // "-": between channels
                        reading.quantity().id(),
                        reading.value().getAsDouble(),
                        reading.uncertainty().orElseThrow().halfWidth(), // 95 %
                        reading.unit().symbol());
            }
        }
        for (Warning warning : measurement.warnings()) {
            System.out.println("! " + warning.code().id() + ": " + warning.message());
        }
    }
}
