/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.SecondOrderSections;

/** Test signals in closed form, and the machine that they go through: a known filter, speed, flutter and noise. */
final class Sent {
    static final double RATE = 48000;

    private Sent() {}

    /** Band edges at 50 Hz and 9 kHz: a response of many decibels over the band. */
    static SecondOrderSections machine() {
        return Butterworth.band(1, 50, 9000, RATE);
    }

    static double machineDb(double frequencyHz, double referenceHz) {
        return 20 * Math.log10(machine().magnitude(frequencyHz) / machine().magnitude(referenceHz));
    }

    /** Time on the tape at a moment, for a speed ratio and 10 Hz flutter of a peak deviation. */
    static DoubleUnaryOperator transport(double ratio, double flutter) {
        double w = 2 * Math.PI * 10;
        return t -> ratio * (t - flutter / w * Math.cos(w * t));
    }

    static double[] replay(double seconds, DoubleUnaryOperator tape, DoubleUnaryOperator transport) {
        double[] samples = new double[(int) (seconds * RATE)];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = tape.applyAsDouble(transport.applyAsDouble(i / RATE));
        }
        machine().process(samples, 0, samples, 0, samples.length);
        return samples;
    }

    static void addNoise(double[] samples, double rms, long seed) {
        Random random = new Random(seed);
        for (int i = 0; i < samples.length; i++) {
            samples[i] += rms * random.nextGaussian();
        }
    }

    /**
     * Lets the level jump: a Gaussian process in dB whose correlation falls by e in a time, in steps of 10 ms with straight
     * lines between them.
     */
    static void wander(
            double[] samples, double rate, double standardDeviationDb, double correlationSeconds, long seed) {
        Random random = new Random(seed);
        int step = (int) (0.01 * rate);
        double phi = Math.exp(-step / rate / correlationSeconds);
        double before = standardDeviationDb * random.nextGaussian();
        for (int first = 0; first < samples.length; first += step) {
            double after = phi * before + Math.sqrt(1 - phi * phi) * standardDeviationDb * random.nextGaussian();
            for (int i = first; i < Math.min(first + step, samples.length); i++) {
                double level = before + (after - before) * (i - first) / step;
                samples[i] *= Math.pow(10, level / 20);
            }
            before = after;
        }
    }
}
