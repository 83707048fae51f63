/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.Arrays;
import java.util.Optional;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * True RMS behind a band filter of four sections {@code (1 - 1/z^2) / (1 + a1/z + a2/z^2)}, sample by sample, after its
 * settling time. All sections run in one loop: while one waits for its own output, the others work on other samples.
 */
final class SerialBandPower {
    private static final int SECTIONS = 4;
    private static final int COEFFICIENTS = 5;
    private static final double SILENT = 1e-30;

    private final double[] poles = new double[2 * SECTIONS];
    private final double gain;
    /** The last two inputs and outputs of every section, the filter's own input first. */
    private final double[] state = new double[2 * SECTIONS + 2];

    private final long settlingSamples;
    private long unsettled;
    private double squares;
    private long samples;
    private final LongRunMean blocks = new LongRunMean();

    SerialBandPower(SecondOrderSections filter, double settlingSeconds) {
        double[] coefficients = filter.coefficients();
        double product = 1;
        for (int s = 0; s < SECTIONS; s++) {
            int c = s * COEFFICIENTS;
            if (coefficients[c + 1] != 0 || coefficients[c + 2] != -coefficients[c]) {
                throw new IllegalArgumentException("section " + s + " is none of a band filter");
            }
            product *= coefficients[c];
            poles[2 * s] = coefficients[c + 3];
            poles[2 * s + 1] = coefficients[c + 4];
        }
        this.gain = product;
        this.settlingSamples = Math.round(settlingSeconds * filter.sampleRateHz());
        this.unsettled = settlingSamples;
    }

    void process(double[] in, int count) {
        int skipped = (int) Math.min(unsettled, count);
        unsettled -= skipped;
        filter(in, 0, skipped);
        double more = filter(in, skipped, count);
        squares += more;
        samples += count - skipped;
        if (count > skipped) {
            blocks.add(more / (count - skipped));
        }
        for (int i = 0; i < state.length; i++) {
            state[i] = Math.abs(state[i]) < SILENT ? 0 : state[i];
        }
    }

    private double filter(double[] in, int from, int to) {
        double a1 = poles[0];
        double a2 = poles[1];
        double b1 = poles[2];
        double b2 = poles[3];
        double c1 = poles[4];
        double c2 = poles[5];
        double d1 = poles[6];
        double d2 = poles[7];
        double x1 = state[0];
        double x2 = state[1];
        double t1 = state[2];
        double t2 = state[3];
        double u1 = state[4];
        double u2 = state[5];
        double v1 = state[6];
        double v2 = state[7];
        double w1 = state[8];
        double w2 = state[9];
        double sum = 0;
        for (int i = from; i < to; i++) {
            double x = in[i];
            double t = x - x2 - a2 * t2 - a1 * t1;
            double u = t - t2 - b2 * u2 - b1 * u1;
            double v = u - u2 - c2 * v2 - c1 * v1;
            double w = v - v2 - d2 * w2 - d1 * w1;
            sum += w * w;
            x2 = x1;
            x1 = x;
            t2 = t1;
            t1 = t;
            u2 = u1;
            u1 = u;
            v2 = v1;
            v1 = v;
            w2 = w1;
            w1 = w;
        }
        state[0] = x1;
        state[1] = x2;
        state[2] = t1;
        state[3] = t2;
        state[4] = u1;
        state[5] = u2;
        state[6] = v1;
        state[7] = v2;
        state[8] = w1;
        state[9] = w2;
        return sum;
    }

    /** NaN where there is none yet. */
    double rms() {
        return Math.abs(gain) * Math.sqrt(squares / samples);
    }

    /** How well the level in the long run is known, in dB. */
    Optional<StandardUncertainty> decibelUncertainty() {
        return DecibelScatter.ofPower(blocks);
    }

    void reset() {
        Arrays.fill(state, 0);
        unsettled = settlingSamples;
        squares = 0;
        samples = 0;
        blocks.reset();
    }
}
