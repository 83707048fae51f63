/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;

/** What a tape gives back: tones at a wavering speed, and hiss. */
final class Tape {
    private static final double TURN = 2 * Math.PI;

    private Tape() {}

    /** Seconds of tape that have passed, 3 % too fast, with slow wow, capstan and idler whose sum reaches 0.3 %. */
    static double wavering(double t) {
        double[][] parts = {{0.55, 0.001}, {4.3, 0.001}, {27, 0.001}};
        double passed = t;
        for (double[] part : parts) {
            passed -= part[1] / (TURN * part[0]) * StrictMath.cos(TURN * part[0] * t + part[0]);
        }
        return 1.03 * passed;
    }

    static double[] tone(
            double rate, double seconds, double hz, DoubleUnaryOperator passed, double amplitude, double phase) {
        double[] y = new double[(int) (rate * seconds)];
        for (int i = 0; i < y.length; i++) {
            y[i] = amplitude * StrictMath.cos(TURN * hz * passed.applyAsDouble(i / rate) + phase);
        }
        return y;
    }

    static void addNoise(double[] y, double rms, long seed) {
        Random random = new Random(seed);
        for (int i = 0; i < y.length; i++) {
            y[i] += rms * random.nextGaussian();
        }
    }

    static double[] noise(int length, double rms, long seed) {
        double[] y = new double[length];
        addNoise(y, rms, seed);
        return y;
    }

    static double rms(double amplitude) {
        return amplitude / Math.sqrt(2);
    }

    /** Ratio of amplitudes. */
    static double ratio(double decibels) {
        return StrictMath.pow(10, decibels / 20);
    }
}
