/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import java.util.function.DoubleUnaryOperator;
import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.CommonOps_DDRM;

/**
 * Short symmetric FIR filters whose response follows a smooth wanted magnitude: they take out a droop or a warping that
 * is known in closed form. The amplitude of a symmetric filter, {@code c0 + 2 sum ck cos(k w)}, is fitted to the wanted
 * one by linear least squares on a grid over the band.
 *
 * <p>Frequencies are in Hz, magnitudes are ratios (no source: linear least squares). Cost: of the order of 64 times
 * the square of the number of taps. The wanted magnitude is not checked: one NaN makes every tap NaN. It has no
 * state: any number of threads may use it.
 *
 * <p>Not for a curve with a step or a pole in the band.
 */
public final class MagnitudeCorrection {
    private static final int GRID = 64;

    private MagnitudeCorrection() {}

    /**
     * Taps that follow a wanted magnitude.
     *
     * @param halfLength number of taps on each side of the middle one, 1 to 16
     * @param bandHz upper end of the band that is fitted, from 0, in Hz, below half the sampling rate
     * @param sampleRateHz sampling rate in Hz
     * @param wanted wanted magnitude over frequency in Hz
     * @return {@code 2 halfLength + 1} symmetric taps
     */
    public static double[] design(int halfLength, double bandHz, double sampleRateHz, DoubleUnaryOperator wanted) {
        if (halfLength < 1 || halfLength > 16) {
            throw new IllegalArgumentException("halfLength " + halfLength + " is not in 1 to 16");
        }
        if (!(bandHz > 0 && bandHz < sampleRateHz / 2)) {
            throw new IllegalArgumentException(
                    "band of " + bandHz + " Hz does not end below " + sampleRateHz / 2 + " Hz, half the sampling rate");
        }
        DMatrixRMaj cosines = new DMatrixRMaj(GRID, halfLength + 1);
        DMatrixRMaj target = new DMatrixRMaj(GRID, 1);
        for (int row = 0; row < GRID; row++) {
            double frequencyHz = bandHz * (row + 0.5) / GRID;
            double w = 2 * StrictMath.PI * frequencyHz / sampleRateHz;
            for (int k = 0; k <= halfLength; k++) {
                cosines.set(row, k, (k == 0 ? 1 : 2) * StrictMath.cos(k * w));
            }
            target.set(row, 0, wanted.applyAsDouble(frequencyHz));
        }
        DMatrixRMaj fitted = new DMatrixRMaj(halfLength + 1, 1);
        if (!CommonOps_DDRM.solve(cosines, target, fitted)) {
            throw new IllegalStateException("no least-squares fit of " + halfLength + " taps over " + bandHz + " Hz");
        }
        double[] taps = new double[2 * halfLength + 1];
        for (int k = 0; k <= halfLength; k++) {
            taps[halfLength + k] = fitted.get(k);
            taps[halfLength - k] = fitted.get(k);
        }
        return taps;
    }
}
