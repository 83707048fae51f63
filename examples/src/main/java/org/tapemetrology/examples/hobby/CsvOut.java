/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.hobby;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import java.util.OptionalDouble;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.flutter.FlutterSeries;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.wav.WavReader;

/**
 * CSV out (RFC 4180), for a spreadsheet: every reading of a recording, or with a second argument {@code chart} the strip chart of
 * its first channel.
 *
 * <p>{@code java -cp metrology-core.jar CsvOut.java tone.wav chart}
 */
public final class CsvOut {
    private CsvOut() {}

    /**
     * Prints a table.
     *
     * @param arguments the file, and {@code chart} or nothing
     * @throws IOException where it can't be read
     */
    public static void main(String[] arguments) throws IOException {
        try (WavReader reader = WavReader.open(Path.of(arguments[0]))) {
            RecordingMeter meter = RecordingMeter.builder(
                            reader.format().sampleRateHz(), reader.format().channels())
                    .build();
            Measurement measurement = meter.measure(reader);
            if (arguments.length > 1 && arguments[1].equals("chart")) {
                chart(meter.series(1).orElseThrow());
            } else {
                readings(measurement);
            }
        }
    }

    private static void readings(Measurement measurement) {
        row("quantity", "channel", "frequency Hz", "value", "unit", "expanded uncertainty", "status", "method");
        for (Reading reading : measurement.readings()) {
            row(
                    reading.quantity().id(),
                    reading.channel().isPresent()
                            ? Integer.toString(reading.channel().getAsInt())
                            : "",
                    number(reading.atFrequencyHz()),
                    number(reading.value()), // empty unless the status is valid: never 0, never NaN
                    reading.unit().symbol(),
                    reading.uncertainty()
                            .map(known -> number(OptionalDouble.of(known.halfWidth())))
                            .orElse(""),
                    reading.status().id(),
                    reading.method());
        }
    }

    private static void chart(FlutterSeries series) {
        row("seconds", "speed %", "lowest %", "highest %", "quasi-peak %");
        double[] seconds = series.seconds();
        double[] speed = series.speedPercent();
        double[] low = series.speedLowPercent();
        double[] high = series.speedHighPercent();
        double[] quasiPeak = series.quasiPeakPercent();
        for (int i = 0; i < series.size(); i++) {
            row(
                    String.format(Locale.ROOT, "%.3f", seconds[i]),
                    String.format(Locale.ROOT, "%.4f", speed[i]),
                    String.format(Locale.ROOT, "%.4f", low[i]),
                    String.format(Locale.ROOT, "%.4f", high[i]),
                    String.format(Locale.ROOT, "%.4f", quasiPeak[i]));
        }
    }

    private static String number(OptionalDouble value) {
        return value.isPresent() ? String.format(Locale.ROOT, "%.6g", value.getAsDouble()) : "";
    }

    /** A field with a comma, a quotation mark or a line break stands in quotation marks, its own ones doubled. */
    private static void row(String... fields) {
        StringBuilder line = new StringBuilder();
        for (String field : fields) {
            boolean quoted = field.matches("(?s).*[,\"\r\n].*");
            line.append(line.isEmpty() ? "" : ",").append(quoted ? '"' + field.replace("\"", "\"\"") + '"' : field);
        }
        System.out.print(line + "\r\n");
    }
}
