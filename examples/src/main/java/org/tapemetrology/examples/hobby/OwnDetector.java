/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.hobby;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.detector.Detector;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.standard.Iec60386Edition1972;
import org.tapemetrology.core.wav.WavReader;

/**
 * A detector of one's own behind the demodulator and the weighting of the library: a full-wave rectifier with one time constant
 * up and one down, and a slow pointer, beside the quasi-peak detector of the library on the same recording.
 *
 * <p>{@code java -cp metrology-core.jar OwnDetector.java tone.wav}
 */
public final class OwnDetector {
    private OwnDetector() {}

    /** Charges towards |x|, leaks all the time, and is shown by a pointer of one pole; a 4 Hz sine of peak A shows A. */
    private static final class FullWave implements Detector {
        // Found like those of the library: by a fit to the pulse readings of IEC 60386, which gives no constants.
        private static final double CHARGE_SECONDS = 0.0333;
        private static final double LEAK_SECONDS = 0.507;
        private static final double POINTER_SECONDS = 0.1956;
        private static final double SCALE = 1.249;

        private final double charge;
        private final double leak;
        private final double pointer;
        private double held;
        private double shown;

        FullWave(double rateHz) {
            charge = 1 / (CHARGE_SECONDS * rateHz);
            leak = 1 / (LEAK_SECONDS * rateHz);
            pointer = 1 - Math.exp(-1 / (POINTER_SECONDS * rateHz));
        }

        @Override
        public void process(double[] in, int inOffset, double[] out, int outOffset, int length) {
            for (int i = 0; i < length; i++) {
                double size = Math.abs(in[inOffset + i]);
                held += charge * Math.max(size - held, 0) - leak * held;
                shown += pointer * (held - shown);
                out[outOffset + i] = SCALE * shown;
            }
        }

        @Override
        public void reset() {
            held = 0;
            shown = 0;
        }
    }

    /**
     * Reads a recording with both detectors.
     *
     * @param arguments the file
     * @throws IOException where it can't be read
     */
    public static void main(String[] arguments) throws IOException {
        try (WavReader reader = WavReader.open(Path.of(arguments[0]))) {
            RecordingMeter meter = RecordingMeter.builder(
                            reader.format().sampleRateHz(), reader.format().channels())
                    .keepDeviation()
                    .build();
            double library = meter.measure(reader)
                    .find(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM, 1)
                    .orElseThrow()
                    .value()
                    .orElseThrow();

            // The relative speed deviation of channel 1, weighted, then detected.
            DeviationSeries deviation = meter.deviation(1).orElseThrow();
            double[] values = deviation.part(0, deviation.size());
            SecondOrderSections weighting = Iec60386Edition1972.weighting().bilinear(deviation.rateHz());
            weighting.process(values, 0, values, 0, values.length);
            new FullWave(deviation.rateHz()).process(values, 0, values, 0, values.length);

            // Filters and detector begin at rest: the first 5 s are theirs.
            double highest = 0;
            for (int i = (int) (5 * deviation.rateHz()); i < values.length; i++) {
                highest = Math.max(highest, values[i]);
            }
            System.out.printf(Locale.ROOT, "own detector, highest indication     %.4f %%%n", 100 * highest);
            System.out.printf(Locale.ROOT, "detector of the library, highest     %.4f %%%n", library);
        }
    }
}
