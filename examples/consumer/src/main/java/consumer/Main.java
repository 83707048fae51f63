/* SPDX-License-Identifier: Apache-2.0 */
package consumer;

import java.util.Locale;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;

/** Measures a tone that it makes, and says whether the library is there as a module. */
public class Main {
    public static void main(String[] args) {
        var tone = FmTone.builder(3150).amplitude(0.5).speedError(0.01).sine(4, 0.001).build();
        float[] samples = new float[12 * 44100];
        SampledSignal.of(tone, 44100).fill(0, samples, 0, samples.length);
        var meter = RecordingMeter.builder(44100, 1).nominalHz(3150).build();
        meter.accept(samples, 0, samples.length);
        var reading = meter.reading();
        System.out.printf(
                Locale.ROOT,
                "%s %.2f %.3f%n",
                RecordingMeter.class.getModule().isNamed(),
                reading.find(Quantity.SPEED_ERROR).get().value().getAsDouble(),
                reading.find(Quantity.FLUTTER_WEIGHTED_TWO_SIGMA).get().value().getAsDouble());
    }
}
