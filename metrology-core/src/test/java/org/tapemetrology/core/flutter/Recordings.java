/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.Optional;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.signals.Quantiser;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;

/** Short cuts of the tests: a closed-form signal in, readings out. */
public final class Recordings {
    private static final int BLOCK = 4096;

    private Recordings() {}

    /** Measures a signal in single precision, with the nominal frequency recognised. */
    public static Measurement measure(Signal signal, int rate, double seconds) {
        return measure(
                SampledSignal.of(signal, rate), seconds, ToneMeter.builder(rate).build());
    }

    /** Measures a signal through a converter. */
    public static Measurement measure(Signal signal, int rate, double seconds, Quantiser quantiser) {
        return measure(
                new SampledSignal(signal, rate, Optional.of(quantiser)),
                seconds,
                ToneMeter.builder(rate).build());
    }

    /** Streams a sampled signal through a meter. */
    public static Measurement measure(SampledSignal samples, double seconds, ToneMeter meter) {
        long total = Math.round(seconds * samples.sampleRateHz());
        float[] block = new float[BLOCK];
        for (long at = 0; at < total; at += BLOCK) {
            int length = (int) Math.min(BLOCK, total - at);
            samples.fill(at, block, 0, length);
            meter.accept(block, 0, length);
        }
        return meter.reading();
    }

    /** The value of a valid reading; fails where there is none. */
    public static double value(Measurement measurement, Quantity quantity) {
        return measurement
                .find(quantity)
                .orElseThrow(() -> new AssertionError(quantity.id() + " is missing"))
                .value()
                .orElseThrow(() -> new AssertionError(quantity.id() + " is "
                        + measurement.find(quantity).orElseThrow().status().id()));
    }

    /** The status of a reading. */
    public static Status status(Measurement measurement, Quantity quantity) {
        return measurement
                .find(quantity)
                .orElseThrow(() -> new AssertionError(quantity.id() + " is missing"))
                .status();
    }
}
