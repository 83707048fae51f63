/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.hobby;

import java.util.List;
import java.util.Locale;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/**
 * An array in: samples that are in memory already, as from a converter's driver or another program.
 *
 * <p>{@code java -cp metrology-core.jar ArrayIn.java}
 */
public final class ArrayIn {
    private ArrayIn() {}

    /**
     * Makes 12 s of a tone in an array and measures it.
     *
     * @param arguments none
     */
    public static void main(String[] arguments) {
        // A tape of 3150 Hz on a machine that runs 0.5 % fast and swings by 0.1 % of that four times a second.
        int sampleRateHz = 48_000;
        float[] samples = new float[12 * sampleRateHz];
        double cycles = 0;
        for (int i = 0; i < samples.length; i++) {
            double deviation = 0.001 * StrictMath.sin(2 * Math.PI * 4 * i / sampleRateHz);
            cycles += 3150 * 1.005 * (1 + deviation) / sampleRateHz;
            samples[i] = (float) (0.5 * StrictMath.sin(2 * Math.PI * cycles)); // full scale is 1
        }

        RecordingMeter meter =
                RecordingMeter.builder(sampleRateHz, 1).nominalHz(3150).build();
        meter.accept(samples, 0, samples.length);
        Measurement measurement = meter.reading();

        for (Quantity quantity : List.of(
                Quantity.SPEED_ERROR,
                Quantity.FLUTTER_WEIGHTED_QUASI_PEAK,
                Quantity.FLUTTER_WEIGHTED_TWO_SIGMA,
                Quantity.FLUTTER_WEIGHTED_RMS,
                Quantity.WOW_RMS,
                Quantity.LEVEL)) {
            System.out.println(line(measurement.find(quantity).orElseThrow()));
        }
    }

    /** A reading has a value exactly where its status is valid: 12 s are too short for the wow, and it says so. */
    private static String line(Reading reading) {
        String id = reading.quantity().id();
        return reading.isValid()
                ? String.format(
                        Locale.ROOT,
                        "%-28s %8.4f %s",
                        id,
                        reading.value().getAsDouble(),
                        reading.unit().symbol())
                : String.format(Locale.ROOT, "%-28s %s", id, reading.status().id());
    }
}
