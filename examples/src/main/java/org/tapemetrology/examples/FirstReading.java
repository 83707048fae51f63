/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.nio.file.Path;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.quantity.Reading;

/** The program of the README: every valid figure of a recording. */
public final class FirstReading {
    private FirstReading() {}

    /**
     * Prints the readings of a WAV file.
     *
     * @param arguments the file
     * @throws IOException where it can't be read
     */
    public static void main(String[] arguments) throws IOException {
        for (Reading reading : RecordingMeter.measure(Path.of(arguments[0])).readings()) {
            if (reading.isValid()) {
                System.out.printf(
                        "%-36s %10.4f %s%n",
                        reading.quantity().id(),
                        reading.value().getAsDouble(),
                        reading.unit().symbol());
            }
        }
    }
}
