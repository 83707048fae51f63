/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import org.tapemetrology.signals.Decibels;

/**
 * A sine through recording and replay: saturation makes odd harmonics, each takes its own way through the linear part, and
 * the replay amplifier adds its own. All levels are re the reference level.
 */
final class RecordedTone {
    private static final int POINTS = 1024;
    private static final int HIGHEST_ORDER = 9;
    private static final double MAXIMUM_OUTPUT_HARMONIC = 0.03;
    private static final double LARGEST_INPUT = 30;
    private static final int HALVINGS = 60;

    private final double before;
    private final Saturation saturation;
    private final double[] after;
    private final Electronics electronics;

    /** The way after saturation is asked for the orders 1, 3, 5, 7 and 9. */
    RecordedTone(double before, Saturation saturation, DoubleUnaryOperator afterByOrder, Electronics electronics) {
        this.before = before;
        this.saturation = saturation;
        this.electronics = electronics;
        after = new double[HIGHEST_ORDER + 1];
        for (int order = 1; order <= HIGHEST_ORDER; order += 2) {
            after[order] = afterByOrder.applyAsDouble(order);
        }
    }

    /** Amplitude of the fundamental for an input amplitude. */
    double fundamental(double input) {
        return harmonic(output(input), 1);
    }

    /** Third harmonic re the fundamental for an input amplitude. */
    double thirdHarmonic(double input) {
        double[] wave = output(input);
        return Math.abs(harmonic(wave, 3) / harmonic(wave, 1));
    }

    /** Output level at which the third harmonic is 3 %, in dB. It grows with the level, so halving finds it. */
    OptionalDouble maximumOutputDb() {
        double low = 0;
        double high = LARGEST_INPUT;
        if (thirdHarmonic(high) < MAXIMUM_OUTPUT_HARMONIC) {
            return OptionalDouble.empty();
        }
        for (int i = 0; i < HALVINGS; i++) {
            double middle = (low + high) / 2;
            if (thirdHarmonic(middle) < MAXIMUM_OUTPUT_HARMONIC) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return OptionalDouble.of(Decibels.ofRatio(fundamental(high)));
    }

    private double[] output(double input) {
        double[] flux = new double[POINTS];
        for (int i = 0; i < POINTS; i++) {
            flux[i] = saturation.apply(input * before * sine(1, i));
        }
        double[] wave = new double[POINTS];
        for (int order = 1; order <= HIGHEST_ORDER; order += 2) {
            double amplitude = harmonic(flux, order) * after[order];
            for (int i = 0; i < POINTS; i++) {
                wave[i] += amplitude * sine(order, i);
            }
        }
        for (int i = 0; i < POINTS; i++) {
            wave[i] = electronics.distorted(wave[i]);
        }
        return wave;
    }

    /** Fourier integral by equal steps: exact to rounding, for the harmonics above the number of steps are far below it. */
    private static double harmonic(double[] wave, int order) {
        double sum = 0;
        for (int i = 0; i < POINTS; i++) {
            sum += wave[i] * sine(order, i);
        }
        return 2 * sum / POINTS;
    }

    private static double sine(int order, int step) {
        return StrictMath.sin(2 * Math.PI * (order * step % POINTS) / POINTS);
    }
}
