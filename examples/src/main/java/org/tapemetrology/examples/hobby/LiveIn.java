/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.hobby;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Locale;
import java.util.OptionalDouble;
import org.tapemetrology.core.LiveMeter;
import org.tapemetrology.core.LiveReading;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.quantity.Reading;

/**
 * Live samples in: raw 16-bit samples of one channel on standard input, lowest byte first; a line each second while the tape
 * runs, the readings of the whole recording at the end of the input.
 *
 * <p>{@code sox -d -t raw -r 48000 -c 1 -e signed -b 16 - | java -cp metrology-core.jar LiveIn.java 48000}
 */
public final class LiveIn {
    private LiveIn() {}

    /**
     * Measures standard input.
     *
     * @param arguments the sampling rate in Hz
     * @throws IOException where reading fails
     */
    public static void main(String[] arguments) throws IOException {
        int sampleRateHz = Integer.parseInt(arguments[0]);
        LiveMeter meter =
                LiveMeter.builder(RecordingMeter.builder(sampleRateHz, 1)).build();

        // A block of a tenth of a second; the figures would be the same to the last bit with any other length.
        byte[] bytes = new byte[2 * (sampleRateHz / 10)];
        float[] block = new float[bytes.length / 2];
        int blocks = 0;
        for (int got = System.in.readNBytes(bytes, 0, bytes.length);
                got > 0;
                got = System.in.readNBytes(bytes, 0, bytes.length)) {
            ByteBuffer samples = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
            for (int i = 0; i < got / 2; i++) {
                block[i] = samples.getShort() / 32_768f;
            }
            meter.accept(block, 0, got / 2);
            blocks++;
            if (blocks % 10 == 0) {
                show(meter.reading());
            }
        }

        for (Reading reading : meter.measurement().readings()) {
            if (reading.isValid() && reading.quantity().id().startsWith("flutter.weighted")) {
                System.out.printf(
                        Locale.ROOT,
                        "%-36s %.4f %s%n",
                        reading.quantity().id(),
                        reading.value().getAsDouble(),
                        reading.unit().symbol());
            }
        }
    }

    /** Speed by the mean since its last change and by the last 3 s; flutter as its meter shows it now. */
    private static void show(LiveReading reading) {
        LiveReading.Channel channel = reading.channels().get(0);
        System.out.printf(
                Locale.ROOT,
                "%3.0f s  speed %8s %%, last 3 s %8s %%  flutter now %s %%%n",
                reading.seconds(),
                text(channel.speedError().steady().value(), "%+.4f"),
                text(channel.speedError().now(), "%+.4f"),
                text(channel.flutter().nowPercent(), "%.3f"));
    }

    private static String text(OptionalDouble value, String format) {
        return value.isPresent() ? String.format(Locale.ROOT, format, value.getAsDouble()) : "-";
    }
}
