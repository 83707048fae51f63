/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.function.DoubleUnaryOperator;

/**
 * A filter of linear phase with any given response, made by frequency sampling and a Kaiser window. Its output belongs to
 * the input of {@code half} samples ago. The losses of a head have no phase, which such a filter has neither.
 */
final class SymmetricFilter {
    private static final int GRID = 2048;

    private final int half;
    private final double rate;
    private final double kaiser;
    private final double[] taps;
    /** Written twice, so that the latest 2 half + 1 values always stand in a row. */
    private final double[] history;

    private int place;

    /**
     * The response is filled in by {@link #design}. The window smooths it: parameter 4 for curves with bends, 0 (none) for
     * those whose impulse response ends within the filter.
     */
    SymmetricFilter(int half, double rate, double kaiser) {
        this.kaiser = kaiser;
        this.half = half;
        this.rate = rate;
        taps = new double[half + 1];
        history = new double[2 * (2 * half + 1)];
    }

    /** Sets the response, which may be done at any moment: amplitude ratio as a function of frequency in Hz. */
    void design(DoubleUnaryOperator ratioAtHz) {
        double[] response = new double[GRID / 2 + 1];
        double[] cosine = new double[GRID];
        for (int k = 0; k < GRID; k++) {
            cosine[k] = StrictMath.cos(2 * Math.PI * k / GRID);
        }
        for (int k = 0; k <= GRID / 2; k++) {
            response[k] = ratioAtHz.applyAsDouble(k * rate / GRID);
        }
        double peak = Kernels.besselI0(kaiser);
        for (int n = 0; n <= half; n++) {
            double sum = response[0] + ((n & 1) == 0 ? 1 : -1) * response[GRID / 2];
            for (int k = 1; k < GRID / 2; k++) {
                sum += 2 * response[k] * cosine[n * k % GRID];
            }
            double x = (double) n / (half + 1);
            taps[n] = sum / GRID * Kernels.besselI0(kaiser * Math.sqrt(1 - x * x)) / peak;
        }
    }

    int half() {
        return half;
    }

    void push(double value) {
        int length = 2 * half + 1;
        history[place] = value;
        history[place + length] = value;
        place = place + 1 == length ? 0 : place + 1;
    }

    double value() {
        int centre = place + half;
        double first = taps[0] * history[centre];
        double second = 0;
        double third = 0;
        double fourth = 0;
        int n = 1;
        // Four sums, so that no addition waits for the one before it.
        for (; n + 3 <= half; n += 4) {
            first += taps[n] * (history[centre - n] + history[centre + n]);
            second += taps[n + 1] * (history[centre - n - 1] + history[centre + n + 1]);
            third += taps[n + 2] * (history[centre - n - 2] + history[centre + n + 2]);
            fourth += taps[n + 3] * (history[centre - n - 3] + history[centre + n + 3]);
        }
        for (; n <= half; n++) {
            first += taps[n] * (history[centre - n] + history[centre + n]);
        }
        return (first + second) + (third + fourth);
    }
}
